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

  /** Its question is closed with it, unless quality has answered it: an answer stays as it was given. */
  async CalibrationVoided(tx: EntityManager, { seq, fact }: Recorded<CalibrationVoided>): Promise<void> {
    await queryRows(tx, 'UPDATE "calibration" SET "voided_seq" = ?, "void_reason" = ? WHERE "code" = ?', [
      seq,
      fact.reason,
      fact.calibration,
    ]);
    await queryRows(tx, 'UPDATE "instrument_question" SET "dropped_seq" = ? WHERE "calibration" = ? AND "answered_seq" IS NULL', [
      seq,
      fact.calibration,
    ]);
  },

  /** A question that is asked again, because what it is about has grown, is open again. */
  async InstrumentQuestioned(tx: EntityManager, { seq, fact: { calibration, instrument } }: Recorded<InstrumentQuestioned>): Promise<void> {
    await queryRows(tx, 'DELETE FROM "instrument_question" WHERE "calibration" = ?', [calibration]);
    await insertRecords(tx, 'instrument_question', [{ calibration, instrument, opened_seq: seq }]);
  },

  async InstrumentQuestionAnswered(tx: EntityManager, { seq, fact }: Recorded<InstrumentQuestionAnswered>): Promise<void> {
    await queryRows(tx, 'UPDATE "instrument_question" SET "answered_seq" = ?, "conclusion" = ?, "reason" = ? WHERE "calibration" = ?', [
      seq,
      fact.conclusion,
      fact.reason,
      fact.calibration,
    ]);
  },
};
