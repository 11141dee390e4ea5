import { at, later, workday } from './calendar.js';
import { Charging } from './charging.js';
import { MILLI } from './pantry.js';
import { inspectLot } from './inspecting.js';
import type { Story } from './story.js';

const TURN_DAYS = [5, 21, 37];
const MACHINE_DAYS = [6, 22, 38];
const TREAT_DAYS = [7, 23, 39];
const BUILD_DAYS = [10, 14, 19, 25, 28, 34, 40, 45, 50, 55];
const PUMPS = 40;

export async function buildDay(story: Story, day: number): Promise<void> {
  if (TURN_DAYS.includes(day)) await makeComponents(story, day, { ...BARRELS, pieces: 140 });
  if (MACHINE_DAYS.includes(day))
    await makeComponents(story, day, { kind: 'machining', item: 'FOOT', from: 'CAST-F', each: MILLI, line: 'LATHE-1', pieces: 140 });
  if (TREAT_DAYS.includes(day))
    await makeComponents(story, day, { kind: 'treating', item: 'FOOT-AN', from: 'FOOT', each: MILLI, line: 'ANOD-1', pieces: 140 });
  if (BUILD_DAYS.includes(day)) await build(story, day);
}

/** Barrels are turned from tube. */
export const BARRELS = { kind: 'machining', item: 'BARREL', from: 'BAR-40', each: 620, line: 'LATHE-1' } as const;

async function makeComponents(story: Story, day: number, job: Job): Promise<void> {
  const date = workday(day);
  const lot = await machine(story, job, at(date, '07:15'), at(date, '15:10'));
  story.clock(at(date, '16:00'));
  await inspectLot(story, lot, at(date, '16:05'));
  await story.sign('gwen.quality', `/api/lots/${lot}/release`, { reason: 'first and last piece measured, within drawing' });
  story.pantry.add(lot, job.item, job.pieces * MILLI);
}

interface Job {
  readonly kind: 'machining' | 'treating';
  readonly item: string;
  readonly from: string;
  /** Of the from-item for one piece, in thousandths of its unit. */
  readonly each: number;
  readonly line: string;
  readonly pieces: number;
}

/** Turns, mills or treats components. Answers their lot, which waits for its inspection. */
export async function machine(story: Story, job: Job, from: string, until: string): Promise<string> {
  const worker = story.as('dov.bench');
  const startedAt = story.clock(from);
  const numbered = job.item === 'BARREL';
  const { run } = await worker.post<{ run: string }>('/api/runs', {
    kind: job.kind,
    item: job.item,
    bom: `BOM-${job.item}`,
    line: job.line,
    people: ['dov.bench'],
    startedAt,
    planned: String(job.pieces),
  });
  const charging = new Charging(story, 'dov.bench', run, startedAt, 4);
  let used = 0;
  for (const { shelf, milli } of story.pantry.take(job.from, job.each * job.pieces)) {
    const fromPiece = numbered ? { fromPiece: Math.floor(used / job.each) + 1 } : {};
    await charging.charge({ lot: shelf.lot, quantity: String(milli / MILLI), ...fromPiece });
    used += milli;
  }
  const finishedAt = story.clock(until);
  const closed = await worker.post<{ yields: { lot: string } }>(`/api/runs/${run}/close`, {
    finishedAt,
    location: 'RACK-3',
    ...(numbered ? { pieces: job.pieces } : { quantity: String(job.pieces) }),
  });
  return closed.yields.lot;
}

/** Pumps are begun: feet, hoses and seals for all of them are on the bench. */
export async function beginBuild(story: Story, startedAt: string, pumps: number): Promise<Charging> {
  story.clock(startedAt);
  const { run } = await story.as('dov.bench').post<{ run: string }>('/api/runs', {
    kind: 'building',
    item: 'PUMP',
    bom: 'BOM-PUMP',
    line: 'BENCH-1',
    people: ['dov.bench'],
    startedAt,
    planned: String(pumps),
    clearance: { confirmed: true, checkedBy: 'dov.bench' },
  });
  const bench = new Charging(story, 'dov.bench', run, startedAt, 3);
  for (const [item, perUnit] of [
    ['FOOT-AN', 1],
    ['HOSE', 1],
    ['SEAL', 2],
  ] as const) {
    let fromPiece = 1;
    for (const { shelf, milli } of story.pantry.take(item, pumps * perUnit * MILLI)) {
      await bench.charge({ lot: shelf.lot, quantity: String(milli / MILLI), fromPiece });
      fromPiece += milli / MILLI / perUnit;
    }
  }
  return bench;
}

/** Barrels and gauges go into pumps, each into its own. */
export async function fit(bench: Charging, firstUnit: number, pumps: number): Promise<void> {
  for (const item of ['BARREL', 'GAUGE']) {
    let unit = firstUnit;
    for (const { shelf, first, last } of bench.story.pantry.takePieces(item, pumps)) {
      const length = last - first + 1;
      await bench.charge({ lot: shelf.lot, pieces: `${first}-${last}`, intoPieces: `${unit}-${unit + length - 1}`, map: 'each' });
      unit += length;
    }
  }
}

async function build(story: Story, day: number): Promise<void> {
  const date = workday(day);
  const bench = await beginBuild(story, at(date, '07:30'), PUMPS);
  await fit(bench, 1, PUMPS);
  const finishedAt = story.clock(at(date, '15:45'));
  const closed = await story.as('dov.bench').post<{ yields: { lot: string; serials: string[] } }>(`/api/runs/${bench.run}/close`, {
    finishedAt,
    pieces: PUMPS,
    location: 'FG-1',
  });
  story.clock(later(finishedAt, 40));
  await story
    .as('esme.lab')
    .post('/api/stock/moves', { lot: closed.yields.lot, pieces: '1', from: 'FG-1', to: 'QUAR', reason: 'pressure test of one pump a run' });
  await story.as('esme.lab').post('/api/stock/moves', { lot: closed.yields.lot, pieces: '1', from: 'QUAR', to: 'FG-1', reason: 'passed' });
  await inspectLot(story, closed.yields.lot, at(date, '16:40'));
  await story.sign('finn.quality', `/api/lots/${closed.yields.lot}/release`, { reason: 'pressure test and build records complete' });
  story.pantry.add(closed.yields.lot, 'PUMP', PUMPS * MILLI);
  story.serialsOf.set(closed.yields.lot, closed.yields.serials);
}
