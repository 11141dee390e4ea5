import { at, later, workday } from './calendar.js';
import { inspectLot } from './inspecting.js';
import { DEMO_PASSWORD } from '../plant/people/demo-password.js';
import type { Story } from './story.js';

/** A pump that came back leaking, and the report that decides what becomes of it. */
export interface Leaking {
  readonly serial: string;
  readonly lot: string;
  readonly piece: number;
  readonly report: string;
}

/** Dispatch raises a report on a pump that came back leaking; quality contains it, reviews it and decides on rework. */
export async function reportLeak(
  story: Story,
  day: number,
  lot: string,
  piece: number,
  serial: string,
  returned: string,
): Promise<Leaking> {
  const date = workday(day);
  story.clock(at(date, '16:05'));
  const { report } = await story.as('hugo.dispatch').post<{ report: string }>('/api/reports', {
    source: { kind: 'return', code: returned },
    requirement: 'A pump holds 11 bar for a minute without a leak',
    found: `pump ${serial} leaks at the hose`,
    defects: [{ defect: 'D-LEAK', count: 1 }],
    severity: 'major',
    parts: [{ lot, pieces: String(piece) }],
  });
  const path = `/api/reports/${report}`;
  await story.sign('gwen.quality', `${path}/containment`, { reason: 'one pump, set apart at the bench' });
  await story.sign('gwen.quality', `${path}/review`, {
    reason: 'seen at the bench',
    investigate: { needed: false, reason: 'one hose clamp not closed; no second pump of the lot has come back' },
    inform: { needed: true, reason: 'the customer is told when the pump goes back' },
  });
  await story.as('gwen.quality').post(`${path}/dispositions`, {
    kind: 'rework',
    lot,
    pieces: String(piece),
    reason: 'a new hose, then the pressure test again',
    adverseEffect: 'none: hose and clamp are replaced as in the first build',
  });
  await story.as('finn.quality').post(`${path}/dispositions/1/signature`, { as: 'quality', password: DEMO_PASSWORD });
  return { serial, lot, piece, report };
}

/** The hose is new: the pump is inspected on what it is now, the report closes, and the pump is released. */
export async function closeLeak(story: Story, day: number, { report, lot, piece }: Leaking, run: string): Promise<void> {
  const time = at(workday(day), '16:40');
  story.clock(time);
  const path = `/api/reports/${report}`;
  await story.as('dov.bench').post(`${path}/dispositions/1/carried-out`, { run, note: 'hose and clamp replaced' });
  const [line] = await story.as('esme.lab').get<{ inspection: string }[]>(`/api/inspections?lot=${lot}&state=waiting`);
  await inspectLot(story, lot, later(time, 5), { defect: 'D-LEAK', items: 0 });
  await story.as('esme.lab').post(`${path}/dispositions/1/verification`, { inspection: line!.inspection });
  await story.sign('finn.quality', `${path}/closing`, { reason: 'pump holds its pressure' });
  await story.sign('finn.quality', `/api/lots/${lot}/release`, { pieces: String(piece), reason: 'reworked and inspected again' });
}
