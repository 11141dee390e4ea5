import { later } from './calendar.js';
import { DEMO_PASSWORD } from '../plant/people/demo-password.js';
import type { Story } from './story.js';

/** The line finds labels smeared: a report is raised and contained, and waits to be reviewed. */
export async function reportSmear(story: Story, instant: string, run: string, labels: string): Promise<void> {
  story.clock(instant);
  const { report } = await story.as('cleo.fill').post<{ report: string }>('/api/reports', {
    source: { kind: 'run', code: run },
    requirement: 'The print of a label is sharp and does not come off on a dry cloth',
    found: 'the last labels of the reel smear, the blue comes off on the thumb: the reel was changed',
    defects: [{ defect: 'D-LABEL', count: 12 }],
    severity: 'minor',
    parts: [{ lot: story.lotsOf.get('reel 0094')!, quantity: labels }],
  });
  story.clock(later(instant, 8));
  await story.sign('finn.quality', `/api/reports/${report}/containment`, { reason: 'the reel is off the line and in its bag' });
}

/** Pumps that were under a pallet when it fell. */
const FALLEN = '3,17,31';

/**
 * A pallet is dropped on finished pumps. Quality reports it, and so cannot decide alone: the disposition waits for somebody else. One action
 * is overdue the next morning, one is due soon.
 */
export async function dropPallet(story: Story, instant: string): Promise<void> {
  story.clock(instant);
  const date = instant.slice(0, 10);
  const lot = story.pantry.of('PUMP').at(-1)!.lot;
  const gwen = story.as('gwen.quality');
  const { report } = await gwen.post<{ report: string }>('/api/reports', {
    source: { kind: 'unit' },
    requirement: 'A pump stands upright on its foot and holds 11 bar for a minute',
    found: 'a pallet came down on three pumps in the finished goods store: foot bent, barrel dented near the seal',
    defects: [{ defect: 'D-DENT', count: 3 }],
    severity: 'major',
    parts: [{ lot, pieces: FALLEN }],
  });
  const path = `/api/reports/${report}`;
  await story.sign('gwen.quality', `${path}/containment`, { reason: 'the three pumps stand in the cage' });
  story.clock(later(instant, 12));
  await story.sign('gwen.quality', `${path}/review`, {
    reason: 'seen where it happened, with dispatch',
    investigate: { needed: true, reason: 'pallets have been stacked two high before' },
    inform: { needed: false, reason: 'nothing of it left the plant' },
  });
  await gwen.post(`${path}/cause`, {
    whys: ['the upper pallet slid when the lower one was pulled', 'pumps were stacked two high', 'no rule says how high pumps are stacked'],
    categories: ['method', 'environment'],
    conclusion: 'the store has no rule for stacking pumps, and was full on the day',
  });
  const action = (kind: string, what: string, owner: string, dueOn: string) => gwen.post(`${path}/actions`, { kind, what, owner, dueOn });
  await action('correction', 'look at every other pump of the two pallets, foot and barrel', 'hugo.dispatch', date);
  await action(
    'correction',
    'count the pumps that are left in the store, and tell dispatch what can still go out this week',
    'ada.clerk',
    date,
  );
  await action(
    'corrective',
    'mark the floor for pumps one pallet high, and say so in the store rules',
    'hugo.dispatch',
    story.dateAfter(date, 3),
  );
  await gwen.post(`${path}/dispositions`, {
    kind: 'scrap',
    lot,
    pieces: FALLEN,
    reason: 'a dented barrel cannot be trusted at 11 bar; nothing of it is worth saving',
  });
  await gwen.post(`${path}/dispositions/1/signature`, { as: 'quality', password: DEMO_PASSWORD });
}
