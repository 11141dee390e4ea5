import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Nonconformance1764001500000 implements MigrationInterface {
  name = 'Nonconformance1764001500000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'report', {
      columns: {
        code: 'varchar(64)',
        state: 'varchar(16)',
        severity: 'varchar(16)',
        source: 'varchar(16)',
        source_code: 'varchar(64)?',
        requirement: 'text',
        raised_by: 'varchar(64)',
        raised_at: 'varchar(24)',
        raised_seq: 'integer',
        state_at: 'varchar(24)',
      },
      primary: ['code'],
      indexes: { ix_report_state: ['state'] },
    });
    await createTable(runner, 'report_part', {
      columns: {
        report: 'varchar(64)',
        part: 'integer',
        lot: 'varchar(64)',
        spans: 'text?',
        quantity: 'bigint?',
        since_seq: 'integer',
      },
      primary: ['report', 'part'],
      indexes: { ix_report_part_lot: ['lot'] },
    });
    await createTable(runner, 'disposition', {
      columns: {
        report: 'varchar(64)',
        disposition: 'integer',
        kind: 'varchar(24)',
        state: 'varchar(16)',
        lot: 'varchar(64)',
        spans: 'text?',
        quantity: 'bigint?',
        authority: 'varchar(24)?',
        until: 'varchar(10)?',
        since_seq: 'integer',
      },
      primary: ['report', 'disposition'],
      indexes: { ix_disposition_lot: ['lot'] },
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
