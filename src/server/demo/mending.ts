import { at, later, workday } from './calendar.js';
import { MILLI } from './pantry.js';
import { closeLeak, type Leaking } from './reporting.js';
import type { Story } from './story.js';

const REPACK_DAY = 52;
const CARTONS = 10;
const PER_CARTON = 12;

export async function mendDay(story: Story, day: number): Promise<void> {
  for (const pump of story.leaking.splice(0)) await replaceHose(story, day, pump);
  if (day === REPACK_DAY) await repack(story, day);
}

/** A returned pump gets a new hose: the old one stays in its record as a part that was fitted. */
async function replaceHose(story: Story, day: number, pump: Leaking): Promise<void> {
  const { serial } = pump;
  const date = workday(day);
  const worker = story.as('dov.bench');
  const startedAt = story.clock(at(date, '16:10'));
  const record = await worker.get<{ asBuilt: { item: string; lot: string }[] }>(`/api/units/PUMP/${serial}/build-record`);
  const old = record.asBuilt.find((part) => part.item === 'HOSE')!.lot;
  const { run } = await worker.post<{ run: string }>('/api/runs', { kind: 'rework', item: 'PUMP', people: ['dov.bench'], startedAt });
  const replacedAt = story.clock(later(startedAt, 15));
  const [hose] = story.pantry.take('HOSE', MILLI);
  await worker.post(`/api/runs/${run}/replacements`, {
    unit: { item: 'PUMP', serial },
    removed: { lot: old },
    fitted: { lot: hose!.shelf.lot },
    at: replacedAt,
    reason: 'leaks at the hose, returned by the customer',
  });
  await worker.post(`/api/runs/${run}/close`, { finishedAt: story.clock(later(replacedAt, 10)) });
  await closeLeak(story, day, pump, run);
}

/** Cans of two lots go into cartons of twelve; the cut between the lots falls inside a carton. */
async function repack(story: Story, day: number): Promise<void> {
  const date = workday(day);
  const worker = story.as('cleo.fill');
  const startedAt = story.clock(at(date, '16:20'));
  const { run } = await worker.post<{ run: string }>('/api/runs', {
    kind: 'repacking',
    item: 'WAX-SET',
    bom: 'BOM-WAX-SET',
    line: 'PACK-1',
    people: ['cleo.fill'],
    startedAt,
    planned: String(CARTONS),
    clearance: { confirmed: true, checkedBy: 'cleo.fill' },
  });
  let time = startedAt;
  let cans = 0;
  for (const { shelf, first, last } of story.pantry.takePieces('WAX-250', CARTONS * PER_CARTON)) {
    time = story.clock(later(time, 2));
    const from = Math.floor(cans / PER_CARTON) + 1;
    cans += last - first + 1;
    const intoPieces = `${from}-${Math.ceil(cans / PER_CARTON)}`;
    await worker.post(`/api/runs/${run}/charges`, {
      charges: [{ lot: shelf.lot, pieces: `${first}-${last}`, chargedAt: time, intoPieces, map: 'all' }],
    });
  }
  const [carton] = story.pantry.take('CARTON-12', CARTONS * MILLI);
  time = story.clock(later(time, 2));
  await worker.post(`/api/runs/${run}/charges`, { charges: [{ lot: carton!.shelf.lot, quantity: String(CARTONS), chargedAt: time }] });
  const closed = await worker.post<{ yields: { lot: string } }>(`/api/runs/${run}/close`, {
    finishedAt: story.clock(later(time, 20)),
    pieces: CARTONS,
    location: 'FG-1',
  });
  story.clock(later(time, 40));
  await story.sign('gwen.quality', `/api/lots/${closed.yields.lot}/release`, { reason: 'count and labels checked' });
}
