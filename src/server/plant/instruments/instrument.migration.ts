import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Instruments1764001400000 implements MigrationInterface {
  name = 'Instruments1764001400000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'calibration', {
      columns: {
        code: 'varchar(64)',
        instrument: 'varchar(64)',
        calibrated_at: 'varchar(24)',
        as_found: 'varchar(24)',
        result: 'varchar(24)',
        due_on: 'varchar(10)?',
        calibrated_by: 'text',
        certificate_file: 'varchar(64)?',
        note: 'text?',
        readings: 'text?',
        recorded_seq: 'integer',
        voided_seq: 'integer?',
        void_reason: 'text?',
      },
      primary: ['code'],
      indexes: { ix_calibration_instrument: ['instrument', 'calibrated_at'] },
    });
    await createTable(runner, 'instrument_question', {
      columns: {
        calibration: 'varchar(64)',
        instrument: 'varchar(64)',
        opened_seq: 'integer',
        answered_seq: 'integer?',
        conclusion: 'varchar(16)?',
        looked_at: 'text?',
        reason: 'text?',
        dropped_seq: 'integer?',
      },
      primary: ['calibration'],
      indexes: { ix_instrument_question_instrument: ['instrument'] },
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
