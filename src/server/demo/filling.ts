import { at, workday } from './calendar.js';
import { Charging } from './charging.js';
import { decimal, MILLI } from './pantry.js';
import { inspectLot } from './inspecting.js';
import type { Story } from './story.js';

/** Batches that are filled in one go; the others in two. Twenty filling runs of twelve batches. */
const ONE_GO = new Set([1, 4, 7, 10]);
/** Nominal content of a can, in thousandths of a kilogram. */
const CONTENT = 250;
/** What a run leaves in the kettle for the next batch, or for the second run. */
const LEAVE = 9000;

/** What is filled, in thousandths of a kilogram. */
interface Bulk {
  readonly lot: string;
  readonly milli: number;
}

export async function fillDay(story: Story, day: number): Promise<void> {
  const waiting = story.batches.filter((batch) => batch.left > 60_000 && batch.date < workday(day));
  const batch = waiting[0];
  if (!batch || day % 2 === 1) return;
  const number = story.batches.indexOf(batch);
  const first = !story.filled.has(batch.lot);
  const milli = ONE_GO.has(number) || !first ? batch.left - LEAVE : Math.floor(batch.left / 2);
  story.filled.add(batch.lot);
  await fill(story, day, number, { lot: batch.lot, milli });
  batch.left -= milli;
}

/** A filling is begun: the batch, then cans, lids and labels for all of it, each from the can on from which it is used. */
export async function beginFilling(
  story: Story,
  startedAt: string,
  bulk: Bulk,
  cans: number,
  supplies: readonly string[] = ['CAN-250', 'LID-250', 'LBL-250'],
): Promise<Charging> {
  story.clock(startedAt);
  const { run } = await story.as('cleo.fill').post<{ run: string }>('/api/runs', {
    kind: 'filling',
    item: 'WAX-250',
    bom: 'BOM-WAX-250',
    line: 'FILL-1',
    people: ['cleo.fill'],
    startedAt,
    planned: String(cans),
    clearance: { confirmed: true, checkedBy: 'cleo.fill' },
    label: { text: `Chain wax 250 g, batch ${bulk.lot}` },
  });
  const line = new Charging(story, 'cleo.fill', run, startedAt, 3);
  await line.charge({ lot: bulk.lot, quantity: decimal(bulk.milli), fromPiece: 1 });
  for (const item of supplies) {
    let fromPiece = 1;
    for (const { shelf, milli } of story.pantry.take(item, cans * MILLI)) {
      await line.charge({ lot: shelf.lot, quantity: decimal(milli), fromPiece });
      fromPiece += milli / MILLI;
    }
  }
  return line;
}

async function fill(story: Story, day: number, batch: number, bulk: Bulk): Promise<void> {
  const date = workday(day);
  const mean = CONTENT * MILLI + story.dice.between(300, 1400);
  const cans = Math.floor((bulk.milli * MILLI) / mean) - story.dice.between(1, 4);
  const { run } = await beginFilling(story, at(date, '08:05'), bulk, cans);
  const rejected = [...new Set(Array.from({ length: story.dice.between(2, 7) }, () => story.dice.between(1, cans)))].toSorted(
    (a, b) => a - b,
  );
  const finishedAt = story.clock(at(date, '12:40'));
  const closed = await story.as('cleo.fill').post<{ yields: { lot: string } }>(`/api/runs/${run}/close`, {
    finishedAt,
    pieces: cans,
    location: 'FG-1',
    rejected: rejected.join(','),
    rejectReason: 'net weight outside limits at the scale',
    netWeights: {
      count: cans,
      mean: String(mean / 1_000_000),
      sd: '0.0012',
      min: '0.2461',
      max: '0.2558',
    },
  });
  await retainAndRelease(story, date, closed.yields.lot, cans, new Set(rejected), batch);
}

/** Two cans are kept; the rest is released, less what the scale rejected. */
async function retainAndRelease(
  story: Story,
  date: string,
  lot: string,
  cans: number,
  rejected: ReadonlySet<number>,
  batch: number,
): Promise<void> {
  const kept = [1, Math.floor(cans / 2)].filter((can) => !rejected.has(can));
  story.clock(at(date, '14:30'));
  await story.as('esme.lab').post('/api/stock/retains', { lot, pieces: kept.join(','), at: 'RETAIN', reason: 'retain samples of the run' });
  await inspectLot(story, lot, at(date, '14:40'));
  await story.sign(batch % 2 === 0 ? 'finn.quality' : 'gwen.quality', `/api/lots/${lot}/release`, {
    reason: 'weights, seams and labels within limits',
  });
  story.addCans(lot, cans, new Set([...rejected, ...kept]));
}
