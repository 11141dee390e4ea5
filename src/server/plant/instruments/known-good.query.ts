import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import type { AsFound, CalibrationResult } from './instrument.facts.js';
import type { CalibrationThen } from './known-good.decide.js';

/** The calibrations of an instrument that stand, or stood as known at entry `seq`, oldest first. */
export async function standingCalibrations(from: EntityManager, instrument: string, seq: number): Promise<CalibrationThen[]> {
  const rows = await queryRows<{ code: string; calibrated_at: string; as_found: AsFound; result: CalibrationResult }>(
    from,
    `SELECT "code", "calibrated_at", "as_found", "result" FROM "calibration"
     WHERE "instrument" = ? AND "recorded_seq" <= ? AND ("voided_seq" IS NULL OR "voided_seq" > ?) ORDER BY "calibrated_at", "recorded_seq"`,
    [instrument, seq, seq],
  );
  return rows.map(({ code, calibrated_at, as_found, result }) => ({
    calibration: code,
    calibratedAt: calibrated_at,
    asFound: as_found,
    result,
  }));
}
