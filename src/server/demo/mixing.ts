import { at, later, workday } from './calendar.js';
import { decimal, MILLI } from './pantry.js';
import { inspectLot } from './inspecting.js';
import type { Story } from './story.js';

/** Days on which a batch is mixed; the kettles take turns. */
const MIX_DAYS = [4, 8, 12, 16, 20, 24, 29, 33, 38, 43, 48, 53];

/** Batches before which the kettle is emptied and cleaned, so that nothing of the batch before is in them. */
const CLEANED_BEFORE = new Set([5, 10]);

/** Kilograms of a batch as the recipe has it. */
const BATCH = 400;

/** The recipe of the file, in thousandths: target, minutes of mixing after the charge. */
const STEPS = [
  ['WAX-BASE', 240, 30],
  ['OIL-40', 100, 10],
  ['SOLV', 60, 10],
  ['RUST-INH', 12, 10],
  ['DYE-BLU', 3, 15],
] as const;

export async function mixDay(story: Story, day: number): Promise<void> {
  const batch = MIX_DAYS.indexOf(day);
  if (batch < 0) return;
  const date = workday(day);
  const vessel = batch % 2 === 0 ? 'V-1' : 'V-2';
  if (CLEANED_BEFORE.has(batch)) await clean(story, vessel, at(date, '05:40'), { reason: 'heel too old to carry on' });
  await mixBatch(story, {
    vessel,
    planned: BATCH,
    startedAt: at(date, '06:30'),
    testedAt: at(date, '15:30'),
    dented: story.dented.splice(0),
    releasedBy: batch % 3 === 0 ? 'gwen.quality' : 'finn.quality',
  });
}

/** A batch to be mixed, in kilograms, and what came back dented and goes into it. */
interface Batch {
  readonly vessel: string;
  readonly planned: number;
  readonly startedAt: string;
  readonly testedAt: string;
  readonly dented: Story['dented'];
  readonly releasedBy: string;
}

/** A batch from its first charge to its release. Answers its lot. */
export async function mixBatch(story: Story, { vessel, planned, startedAt, testedAt, dented, releasedBy }: Batch): Promise<string> {
  const begun = await beginBatch(story, vessel, planned, startedAt);
  const { run } = begun;
  let { time } = begun;
  let kilograms = 0;
  for (const step of STEPS.keys()) {
    const charged = await chargeStep(story, run, step, planned, time);
    kilograms += charged.kilograms;
    time = charged.time;
  }
  for (const cans of dented) kilograms += await rework(story, run, cans, story.clock(later(time, 5)));
  const lost = story.dice.between(1500, 4200);
  time = story.clock(later(time, 15));
  const made = kilograms - lost;
  const closed = await story
    .as('ben.mix')
    .post<{ yields: { lot: string } }>(`/api/runs/${run}/close`, { finishedAt: time, quantity: decimal(made) });
  const { lot } = closed.yields;
  story.clock(testedAt);
  await story.as('esme.lab').post('/api/stock/tests', {
    lot,
    quantity: '0.2',
    reason: 'viscosity and corrosion strip',
    evidence: 'laboratory book, page of the day',
  });
  story.batches.push({ lot, vessel, date: startedAt.slice(0, 10), left: made - 200 });
  await inspectLot(story, lot, later(testedAt, 10));
  await story.sign(releasedBy, `/api/lots/${lot}/release`, { reason: 'batch sample within limits' });
  return lot;
}

/** A batch is begun; what the kettle still holds goes in first. */
export async function beginBatch(story: Story, vessel: string, planned: number, startedAt: string): Promise<{ run: string; time: string }> {
  const worker = story.as('ben.mix');
  let time = story.clock(startedAt);
  const { run } = await worker.post<{ run: string }>('/api/runs', {
    kind: 'mixing',
    item: 'MIX-WAX',
    recipe: 'RCP-WAX',
    vessel,
    people: ['ben.mix'],
    startedAt: time,
    planned: String(planned),
  });
  const heel = story.batches.findLast((earlier) => earlier.vessel === vessel && earlier.left > 0);
  if (heel) {
    time = story.clock(later(time, 5));
    await worker.post(`/api/runs/${run}/heel`, { chargedAt: time });
    heel.left = 0;
  }
  return { run, time };
}

/** One step of the recipe, counted from 0, scaled to the batch. Answers thousandths of a kilogram, and when it has mixed for its time. */
export async function chargeStep(
  story: Story,
  run: string,
  step: number,
  planned: number,
  from: string,
): Promise<{ kilograms: number; time: string }> {
  const [item, target, minutes] = STEPS[step]!;
  let time = later(from, 8);
  let kilograms = 0;
  const wanted = Math.round(((target * planned) / BATCH) * MILLI * (1 + (story.dice.roll() - 0.5) * 0.01));
  for (const { shelf, milli } of story.pantry.take(item, wanted)) {
    time = story.clock(later(time, 2));
    await story.as('ben.mix').post(`/api/runs/${run}/charges`, {
      charges: [{ lot: shelf.lot, quantity: decimal(milli), step: step + 1, chargedAt: time }],
    });
    kilograms += item === 'OIL-40' ? Math.round(milli * 0.85) : milli;
  }
  return { kilograms, time: later(time, minutes) };
}

/** Cans that came back dented are emptied into the batch: a reworked can is an input like any other. Answers thousandths of a kilogram. */
async function rework(story: Story, run: string, dented: Story['dented'][number], chargedAt: string): Promise<number> {
  const pieces = `${dented.first}-${dented.last}`;
  await story.sign('gwen.quality', `/api/lots/${dented.lot}/release`, {
    pieces,
    reason: 'content sound, dented cans only: to be emptied into a batch',
  });
  await story.as('ben.mix').post(`/api/runs/${run}/charges`, {
    charges: [{ lot: dented.lot, pieces, chargedAt, from: 'RETURNS', deviationReason: 'dented cans emptied into the batch' }],
  });
  return (dented.last - dented.first + 1) * 250;
}

/** A kettle is emptied, into a drum at a location or thrown away, and cleaned. */
export async function clean(
  story: Story,
  vessel: string,
  instant: string,
  heel: { readonly reason: string; readonly location?: string },
): Promise<void> {
  story.clock(instant);
  const rest = story.batches.findLast((batch) => batch.vessel === vessel && batch.left > 0);
  if (rest) {
    await story.as('ben.mix').post(`/api/vessels/${vessel}/emptied`, { at: instant, ...heel });
    rest.left = 0;
  }
  const cleanedAt = story.clock(later(instant, 30));
  await story.as('ben.mix').post(`/api/vessels/${vessel}/cleaned`, { at: cleanedAt, method: 'hot wax flush, wiped and inspected' });
}
