import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Vessels1764000510000 implements MigrationInterface {
  name = 'Vessels1764000510000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'run_residue', {
      columns: {
        run: 'varchar(64)',
        vessel: 'varchar(64)',
        lot: 'varchar(64)',
        seq: 'integer',
      },
      primary: ['run', 'vessel', 'lot'],
    });
    await createTable(runner, 'run_vessel', {
      columns: {
        run: 'varchar(64)',
        since_seq: 'integer',
        vessel: 'varchar(64)',
        left_seq: 'integer?',
        left_at: 'varchar(24)?',
      },
      primary: ['run', 'since_seq'],
      indexes: { ix_run_vessel_vessel: ['vessel'] },
    });
    await createTable(runner, 'vessel_batch', {
      columns: {
        seq: 'integer',
        vessel: 'varchar(64)',
        lot: 'varchar(64)',
        run: 'varchar(64)?',
        at: 'varchar(24)',
      },
      primary: ['seq', 'vessel', 'lot'],
      indexes: { ix_vessel_batch_vessel: ['vessel'] },
    });
    await createTable(runner, 'vessel_cleaning', {
      columns: {
        seq: 'integer',
        vessel: 'varchar(64)',
        cleaned_at: 'varchar(24)',
        by: 'varchar(64)',
        method: 'text',
      },
      primary: ['seq'],
      indexes: { ix_vessel_cleaning_vessel: ['vessel'] },
    });
    await createTable(runner, 'vessel_emptying', {
      columns: {
        seq: 'integer',
        vessel: 'varchar(64)',
        emptied_at: 'varchar(24)',
        by: 'varchar(64)',
        location: 'varchar(64)?',
        reason: 'text',
      },
      primary: ['seq'],
      indexes: { ix_vessel_emptying_vessel: ['vessel'] },
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
