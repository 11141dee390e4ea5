import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import { LATEST } from '../holds/holds.query.js';
import type { DoubtfulTime, LookedAt } from './instrument.facts.js';
import { doubtBefore } from './known-good.decide.js';
import { standingCalibrations } from './known-good.query.js';

/** A question about an instrument that judged a lot, which waits for an answer that covers it. */
interface OpenQuestion {
  readonly instrument: string;
  /** The calibration that asks it. */
  readonly calibration: string;
  /** The inspections of the lot that rest on it, in order of their number. */
  readonly inspections: readonly string[];
}

interface Row {
  calibration: string;
  instrument: string;
  answered_seq: number | null;
  looked_at: string | null;
  inspection: string;
  at: string;
  since_seq: number;
}

const isWithin = ({ from, to }: DoubtfulTime, at: string): boolean => (from === null || at >= from) && (to === null || at <= to);

/** Whether whoever answered the question had this result before them. @see docs/rules/instruments.md I-12 */
const answeredFor = ({ answered_seq, looked_at, since_seq, at }: Row): boolean =>
  answered_seq !== null && looked_at !== null && since_seq < answered_seq && isWithin((JSON.parse(looked_at) as LookedAt).time, at);

/**
 * Open questions on instruments that judged a lot in the time they are about, by calibration. A result whose tally was taken back judged
 * nothing, and one that a retest followed does so no more: the retest counts. An answer holds for the results that it saw.
 * @see docs/rules/instruments.md I-14
 */
export async function openQuestionsOn(from: EntityManager, lot: string): Promise<OpenQuestion[]> {
  const rows = await queryRows<Row>(
    from,
    `SELECT DISTINCT q."calibration", q."instrument", q."answered_seq", q."looked_at", t."inspection", t."at", t."since_seq"
     FROM "test_result" t JOIN "instrument_question" q ON q."instrument" = t."instrument"
     WHERE t."lot" = ? AND t."until_seq" IS NULL AND q."dropped_seq" IS NULL
       AND NOT EXISTS (SELECT 1 FROM "test_result" r WHERE r."inspection" = t."inspection" AND r."tally" = 0 AND t."tally" = 0
         AND r."characteristic" = t."characteristic" AND r."retest_of" = t."number")
     ORDER BY q."calibration", t."inspection", t."at", t."since_seq"`,
    [lot],
  );
  const found: OpenQuestion[] = [];
  for (const calibration of new Set(rows.map((row) => row.calibration))) {
    const about = rows.filter((row) => row.calibration === calibration);
    const { instrument } = about[0]!;
    const time = doubtBefore(await standingCalibrations(from, instrument, LATEST), calibration);
    const waiting = about.filter((row) => isWithin(time, row.at) && !answeredFor(row));
    const inspections = [...new Set(waiting.map((row) => row.inspection))];
    if (inspections.length > 0) found.push({ instrument, calibration, inspections });
  }
  return found;
}
