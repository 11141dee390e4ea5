import type { EntityManager } from 'typeorm';
import { selectIn } from '../../platform/database/rows.js';
import type { Instrument } from '../catalogue/catalogue.facts.js';
import { instrumentStateAt } from './instrument-state.decide.js';
import type { InstrumentState, LastCalibration } from './instrument-state.facts.js';
import type { CalibrationResult } from './instrument.facts.js';

interface CalibrationRow {
  code: string;
  instrument: string;
  calibrated_at: string;
  result: CalibrationResult;
  due_on: string | null;
  recorded_seq: number;
}

/**
 * Every instrument asked for as it stood at an instant, by code; one the register does not know is in the answer too.
 * A calibration recorded late counts for the time since it was made; one recorded in error counts for nothing.
 * @param at ISO 8601 UTC instant of use
 * @see docs/rules/instruments.md I-3
 */
export async function instrumentStates(from: EntityManager, codes: Iterable<string>, at: string): Promise<Map<string, InstrumentState>> {
  const asked = [...new Set(codes)];
  const uses = await usesAt(from, asked, at);
  const last = await lastCalibrations(from, asked, at);
  return new Map(
    asked.map((instrument) => [
      instrument,
      instrumentStateAt({ instrument, use: uses.get(instrument) ?? null, last: last.get(instrument) ?? null }, at),
    ]),
  );
}

/** How instruments stood in the register at an instant; before its first revision, as that one says. */
async function usesAt(from: EntityManager, codes: readonly string[], at: string): Promise<Map<string, Instrument['use']>> {
  const rows = await selectIn<{ code: string; revision: number; record: string; at: string }>(
    from,
    `SELECT c."code", c."revision", c."record", e."at" FROM "catalogue_record" c JOIN "ledger_entry" e ON e."seq" = c."since_seq"
     WHERE c."what" = 'instrument' AND c."code" IN (:list)`,
    codes,
  );
  const uses = new Map<string, Instrument['use']>();
  for (const row of rows.toSorted((a, b) => a.revision - b.revision)) {
    if (row.at <= at || !uses.has(row.code)) uses.set(row.code, (JSON.parse(row.record) as Instrument).use);
  }
  return uses;
}

async function lastCalibrations(from: EntityManager, codes: readonly string[], at: string): Promise<Map<string, LastCalibration>> {
  const rows = await selectIn<CalibrationRow>(
    from,
    `SELECT "code", "instrument", "calibrated_at", "result", "due_on", "recorded_seq" FROM "calibration"
     WHERE "voided_seq" IS NULL AND "instrument" IN (:list)`,
    codes,
  );
  const last = new Map<string, LastCalibration>();
  for (const row of rows.toSorted(byTime)) {
    if (row.calibrated_at > at) continue;
    last.set(row.instrument, { calibration: row.code, calibratedAt: row.calibrated_at, result: row.result, dueOn: row.due_on });
  }
  return last;
}

/** Two of one moment in the order they were recorded. */
const byTime = (a: CalibrationRow, b: CalibrationRow): number =>
  a.calibrated_at < b.calibrated_at ? -1 : a.calibrated_at > b.calibrated_at ? 1 : a.recorded_seq - b.recorded_seq;
