import { at, later, workday } from './calendar.js';
import { decimal, MILLI } from './pantry.js';
import type { Story } from './story.js';

/** Days on which a batch is mixed; the kettles take turns. */
const MIX_DAYS = [4, 8, 12, 16, 20, 24, 29, 33, 38, 43, 48, 53];

/** Batches before which the kettle is emptied and cleaned, so that nothing of the batch before is in them. */
const CLEANED_BEFORE = new Set([5, 10]);

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
  if (CLEANED_BEFORE.has(batch)) await clean(story, vessel, at(date, '05:40'));
  const worker = story.as('ben.mix');
  let time = story.clock(at(date, '06:30'));
  const { run } = await worker.post<{ run: string }>('/api/runs', {
    kind: 'mixing',
    item: 'MIX-WAX',
    vessel,
    people: ['ben.mix'],
    startedAt: time,
    planned: '400',
  });
  const heel = story.batches.findLast((earlier) => earlier.vessel === vessel && earlier.left > 0);
  if (heel) {
    time = story.clock(later(time, 5));
    await worker.post(`/api/runs/${run}/heel`, { chargedAt: time });
    heel.left = 0;
  }
  let kilograms = 0;
  for (const [i, [item, target, minutes]] of STEPS.entries()) {
    time = later(time, 8);
    const wanted = Math.round(target * MILLI * (1 + (story.dice.roll() - 0.5) * 0.01));
    for (const { shelf, milli } of story.pantry.take(item, wanted)) {
      time = story.clock(later(time, 2));
      await worker.post(`/api/runs/${run}/charges`, { charges: [{ lot: shelf.lot, quantity: decimal(milli), step: i + 1, chargedAt: time }] });
      kilograms += item === 'OIL-40' ? Math.round(milli * 0.85) : milli;
    }
    time = later(time, minutes);
  }
  const lost = story.dice.between(1500, 4200);
  time = story.clock(later(time, 15));
  const made = kilograms - lost;
  const closed = await worker.post<{ yield: { lot: string } }>(`/api/runs/${run}/close`, { finishedAt: time, quantity: decimal(made) });
  story.batches.push({ lot: closed.yield.lot, vessel, left: made });
  story.clock(at(date, '15:30'));
  await story.as('esme.lab').post('/api/stock/tests', {
    lot: closed.yield.lot,
    quantity: '0.2',
    reason: 'viscosity and corrosion strip',
    evidence: 'laboratory book, page of the day',
  });
  story.batches.at(-1)!.left -= 200;
  await story.sign(batch % 3 === 0 ? 'gwen.quality' : 'finn.quality', `/api/lots/${closed.yield.lot}/release`, { reason: 'batch sample within limits' });
}

async function clean(story: Story, vessel: string, instant: string): Promise<void> {
  story.clock(instant);
  const rest = story.batches.findLast((batch) => batch.vessel === vessel && batch.left > 0);
  if (rest) {
    await story.as('ben.mix').post(`/api/vessels/${vessel}/emptied`, { emptiedAt: instant, reason: 'heel too old to carry on', fate: 'scrapped' });
    rest.left = 0;
  }
  const cleanedAt = story.clock(later(instant, 30));
  await story.as('ben.mix').post(`/api/vessels/${vessel}/cleaned`, { cleanedAt, reason: 'hot wax flush, wiped and inspected' });
}
