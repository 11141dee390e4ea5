import { BARRELS, beginBuild, fit, machine } from './building.js';
import { at, workday } from './calendar.js';
import type { Charging } from './charging.js';
import { bookIn, letIn } from './deliveries.js';
import { beginFilling } from './filling.js';
import { halfInspect, inspectLot } from './inspecting.js';
import { beginBatch, chargeStep, clean, mixBatch } from './mixing.js';
import { dropPallet, reportSmear } from './open-reports.js';
import { accountFor, answerNotice, type Consignee, setStrategy, tellConsignees } from './recalling.js';
import type { Story } from './story.js';
import { closeDrill } from './trouble.js';

/** What the story has come to when its last two days begin. */
interface Before {
  readonly recall: string;
  readonly drill: string;
}

/** Kilograms of the two batches that what is left of the wax base is enough for. */
const [LAST_BATCH, OPEN_BATCH] = [240, 260];
const BARRELS_TURNED = 60;
const CANS = 900;
/** Labels of the old reel that were used before its print smeared, and of the new one so far. */
const [OLD_LABELS, NEW_LABELS, SMEARED] = [480, 420, 455];
const [PUMPS, BUILT_FIRST, BUILT_NEXT] = [20, 6, 6];

/**
 * The recall goes on, and so does the work. The story breaks off in the middle of a morning: whoever opens the plant finds something that
 * waits for them.
 */
export async function tellLastDays(story: Story, day: number, { recall, drill }: Before): Promise<void> {
  const told = await afternoon(story, day, recall);
  await closeDrill(story, at(workday(day), '16:45'), drill);
  await morning(story, day + 1, recall, told);
}

async function afternoon(story: Story, day: number, recall: string): Promise<readonly Consignee[]> {
  const date = workday(day);
  const [reel, spare] = await bookIn(
    story,
    day,
    'S-TARN',
    [
      [day, 'S-TARN', 'LBL-250', 5000, 'reel 0095'],
      [day, 'S-TARN', 'LBL-250', 5000, 'reel 0096'],
    ],
    at(date, '10:50'),
  );
  const heel = { location: 'QUAR', reason: 'made from an affected batch: drawn off into a drum and kept for the recall' };
  await clean(story, 'V-2', at(date, '11:00'), heel);
  await clean(story, 'V-1', at(date, '11:10'), { reason: 'three weeks old: nothing old goes into the first batch after the recall' });
  await setStrategy(story, recall, at(date, '11:45'));
  await mixBatch(story, {
    vessel: 'V-1',
    planned: LAST_BATCH,
    startedAt: at(date, '12:00'),
    testedAt: at(date, '14:20'),
    dented: [],
    releasedBy: 'finn.quality',
  });
  for (const lot of [reel!, spare!]) await letIn(story, lot, 'LBL-250', 5000);
  const told = await tellConsignees(story, recall, at(date, '15:00'));
  await dropPallet(story, at(date, '15:40'));
  const barrels = await machine(story, { ...BARRELS, pieces: BARRELS_TURNED }, at(date, '11:10'), at(date, '15:50'));
  await inspectLot(story, barrels, at(date, '16:05'));
  return told;
}

async function morning(story: Story, day: number, recall: string, told: readonly Consignee[]): Promise<void> {
  const date = workday(day);
  const bench = await beginBuild(story, at(date, '07:10'), PUMPS);
  const [seals] = await bookIn(story, day, 'S-BRAM', [[day, 'S-BRAM', 'SEAL', 300, 'BS-141', 1825]], at(date, '07:40'));
  const line = await beginLastFilling(story, at(date, '07:50'));
  await bookIn(
    story,
    day,
    'S-OTT',
    [
      [day, 'S-OTT', 'CAN-250', 1200, 'OT 44602'],
      [day, 'S-OTT', 'LID-250', 3000, 'OT 52266'],
    ],
    at(date, '08:10'),
  );
  bench.time = at(date, '08:20');
  await fit(bench, 1, BUILT_FIRST);
  await answerNotice(story, recall, told[3]!, at(date, '08:35'));
  await changeReel(line, at(date, '08:48'));
  await reportSmear(story, at(date, '08:55'), line.run, `${SMEARED}`);
  await halfInspect(story, seals!, at(date, '09:05'), { defect: 'D-NICK', items: 1 });
  const batch = await beginBatch(story, 'V-2', OPEN_BATCH, at(date, '09:00'));
  const base = await chargeStep(story, batch.run, 0, OPEN_BATCH, at(date, '09:25'));
  await answerNotice(story, recall, told[5]!, at(date, '09:50'));
  await accountFor(story, recall, told[5]!, at(date, '09:55'));
  bench.time = at(date, '10:00');
  await fit(bench, 1 + BUILT_FIRST, BUILT_NEXT);
  await chargeStep(story, batch.run, 1, OPEN_BATCH, base.time);
}

/** The cans run on what is left of the old reel, with the last batch. */
async function beginLastFilling(story: Story, startedAt: string): Promise<Charging> {
  const batch = story.batches.at(-1)!;
  const line = await beginFilling(story, startedAt, { lot: batch.lot, milli: CANS * 251 }, CANS, ['CAN-250', 'LID-250']);
  batch.left -= CANS * 251;
  await charge(line, OLD_LABELS, 1);
  return line;
}

/** From here on the labels are of the new reel; a spare one stands on the rack. */
async function changeReel(line: Charging, instant: string): Promise<void> {
  const [old] = line.story.pantry.of('LBL-250');
  old!.left = 0; // smeared: nobody takes from it any more
  line.time = instant;
  await charge(line, NEW_LABELS, OLD_LABELS + 1);
}

async function charge(line: Charging, labels: number, fromPiece: number): Promise<void> {
  const [part] = line.story.pantry.take('LBL-250', labels * 1000);
  await line.charge({ lot: part!.shelf.lot, quantity: String(labels), fromPiece });
}
