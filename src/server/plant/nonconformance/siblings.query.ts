import type { EntityManager } from 'typeorm';
import { queryRows, selectIn } from '../../platform/database/rows.js';

/** A time between two cleanings of a vessel. */
interface Stay {
  readonly vessel: string;
  readonly from: string;
  readonly to: string;
}

const EVER = '9999-12-31T23:59:59.999Z';

/** The last of these times up to an instant, and the first after it. */
const between = (times: readonly string[], at: string): { from: string; to: string } => ({
  from:
    times
      .filter((time) => time <= at)
      .toSorted()
      .at(-1) ?? '',
  to: times.filter((time) => time > at).toSorted()[0] ?? EVER,
});

/** The stays in vessels in which lots were made. */
export async function vesselsOfLots(from: EntityManager, lots: readonly string[]): Promise<Stay[]> {
  const made = await selectIn<{ vessel: string; at: string }>(
    from,
    'SELECT "vessel", "at" FROM "vessel_batch" WHERE "lot" IN (:list)',
    lots,
  );
  const cleanings = await selectIn<{ vessel: string; cleaned_at: string }>(
    from,
    'SELECT "vessel", "cleaned_at" FROM "vessel_cleaning" WHERE "vessel" IN (:list)',
    [...new Set(made.map((row) => row.vessel))],
  );
  return made.map(({ vessel, at }) => {
    const times = cleanings.filter((row) => row.vessel === vessel).map((row) => row.cleaned_at);
    return { vessel, ...between(times, at) };
  });
}

/** Every lot made in a vessel within a stay. */
export async function lotsOfVessels(from: EntityManager, stays: readonly Stay[]): Promise<{ lot: string; vessel: string }[]> {
  const found: { lot: string; vessel: string }[] = [];
  for (const stay of stays) {
    const rows = await queryRows<{ lot: string }>(
      from,
      'SELECT DISTINCT "lot" FROM "vessel_batch" WHERE "vessel" = ? AND "at" >= ? AND "at" < ? ORDER BY "lot"',
      [stay.vessel, stay.from, stay.to],
    );
    found.push(...rows.map(({ lot }) => ({ lot, vessel: stay.vessel })));
  }
  return found;
}

/** An instrument between two calibrations. */
interface Judging {
  readonly instrument: string;
  readonly from: string;
  readonly to: string;
}

/** The instruments that judged lots, each between the calibrations around that. */
export async function instrumentsOfLots(from: EntityManager, lots: readonly string[]): Promise<Judging[]> {
  const used = await selectIn<{ instrument: string; at: string }>(
    from,
    'SELECT "instrument", "at" FROM "test_result" WHERE "instrument" IS NOT NULL AND "until_seq" IS NULL AND "lot" IN (:list)',
    lots,
  );
  const calibrations = await selectIn<{ instrument: string; calibrated_at: string }>(
    from,
    'SELECT "instrument", "calibrated_at" FROM "calibration" WHERE "voided_seq" IS NULL AND "instrument" IN (:list)',
    [...new Set(used.map((row) => row.instrument))],
  );
  return used.map(({ instrument, at }) => {
    const times = calibrations.filter((row) => row.instrument === instrument).map((row) => row.calibrated_at);
    return { instrument, ...between(times, at) };
  });
}

/** Every lot that an instrument judged within such a time. */
export async function lotsOfInstruments(from: EntityManager, judging: readonly Judging[]): Promise<{ lot: string; instrument: string }[]> {
  const found: { lot: string; instrument: string }[] = [];
  const seen = new Set<string>();
  for (const one of judging) {
    const key = `${one.instrument}\u0000${one.from}`;
    if (seen.has(key)) continue;
    seen.add(key);
    const rows = await queryRows<{ lot: string }>(
      from,
      `SELECT DISTINCT "lot" FROM "test_result" WHERE "instrument" = ? AND "until_seq" IS NULL AND "at" >= ? AND "at" < ? ORDER BY "lot"`,
      [one.instrument, one.from, one.to],
    );
    found.push(...rows.map(({ lot }) => ({ lot, instrument: one.instrument })));
  }
  return found;
}
