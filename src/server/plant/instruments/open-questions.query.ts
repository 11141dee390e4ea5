import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import { LATEST } from '../holds/holds.query.js';
import { doubtBefore } from './known-good.decide.js';
import { standingCalibrations } from './known-good.query.js';

/** An open question about an instrument that judged a lot. */
export interface OpenQuestion {
  readonly instrument: string;
  /** The calibration that asks it. */
  readonly calibration: string;
  /** The inspections of the lot that rest on it, in order of their number. */
  readonly inspections: readonly string[];
}

/**
 * Open questions on instruments that judged a lot in the time they are about, by calibration. A result whose tally was taken back judged
 * nothing, and one that a retest followed does so no more: the retest counts.
 * @see docs/rules/instruments.md I-14
 */
export async function openQuestionsOn(from: EntityManager, lot: string): Promise<OpenQuestion[]> {
  const rows = await queryRows<{ calibration: string; instrument: string; inspection: string; at: string }>(
    from,
    `SELECT DISTINCT q."calibration", q."instrument", t."inspection", t."at"
     FROM "test_result" t JOIN "instrument_question" q ON q."instrument" = t."instrument"
     WHERE t."lot" = ? AND t."until_seq" IS NULL AND q."answered_seq" IS NULL AND q."dropped_seq" IS NULL
       AND NOT EXISTS (SELECT 1 FROM "test_result" r WHERE r."inspection" = t."inspection" AND r."tally" = 0 AND t."tally" = 0
         AND r."characteristic" = t."characteristic" AND r."retest_of" = t."number")
     ORDER BY q."calibration", t."inspection", t."at"`,
    [lot],
  );
  const found: OpenQuestion[] = [];
  for (const calibration of new Set(rows.map((row) => row.calibration))) {
    const about = rows.filter((row) => row.calibration === calibration);
    const { instrument } = about[0]!;
    const { from: start, to: end } = doubtBefore(await standingCalibrations(from, instrument, LATEST), calibration);
    const within = about.filter(({ at }) => (start === null || at >= start) && (end === null || at <= end));
    const inspections = [...new Set(within.map((row) => row.inspection))];
    if (inspections.length > 0) found.push({ instrument, calibration, inspections });
  }
  return found;
}
