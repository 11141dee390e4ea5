import type { EntityManager } from 'typeorm';
import { canonicalJson } from '../../../../shared/canonical-json.js';
import type { Recorded } from '../../ledger/fact.js';
import { insertRecords, queryRows } from '../../platform/database/rows.js';
import type { CalibrationVoided, InstrumentCalibrated, InstrumentQuestionAnswered, InstrumentQuestioned } from './instrument.facts.js';

export const projectInstruments = {
  InstrumentCalibrated: (tx: EntityManager, { seq, fact }: Recorded<InstrumentCalibrated>): Promise<void> =>
    insertRecords(tx, 'calibration', [
      {
        code: fact.calibration,
        instrument: fact.instrument,
        calibrated_at: fact.calibratedAt,
        as_found: fact.asFound,
        result: fact.result,
        due_on: fact.dueOn,
        calibrated_by: fact.calibratedBy,
        certificate_file: fact.certificateFile ?? null,
        note: fact.note ?? null,
        readings: fact.readings === undefined ? null : canonicalJson(fact.readings),
        recorded_seq: seq,
      },
    ]),

  InstrumentQuestioned: (tx: EntityManager, { seq, fact }: Recorded<InstrumentQuestioned>): Promise<void> =>
    insertRecords(tx, 'instrument_question', [{ calibration: fact.calibration, instrument: fact.instrument, opened_seq: seq }]),

  async CalibrationVoided(tx: EntityManager, { seq, fact }: Recorded<CalibrationVoided>): Promise<void> {
    await queryRows(tx, 'UPDATE "calibration" SET "voided_seq" = ?, "void_reason" = ? WHERE "code" = ?', [
      seq,
      fact.reason,
      fact.calibration,
    ]);
    await queryRows(tx, 'UPDATE "instrument_question" SET "dropped_seq" = ? WHERE "calibration" = ?', [seq, fact.calibration]);
  },

  async InstrumentQuestionAnswered(tx: EntityManager, { seq, fact }: Recorded<InstrumentQuestionAnswered>): Promise<void> {
    await queryRows(
      tx,
      'UPDATE "instrument_question" SET "answered_seq" = ?, "conclusion" = ?, "looked_at" = ?, "reason" = ? WHERE "calibration" = ?',
      [seq, fact.conclusion, canonicalJson(fact.lookedAt), fact.reason, fact.calibration],
    );
  },
};
