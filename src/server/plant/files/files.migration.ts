import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Files1764001300000 implements MigrationInterface {
  name = 'Files1764001300000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'stored_file', {
      columns: { sha256: 'varchar(64)', name: 'text', media_type: 'varchar(64)', bytes: 'integer', since_seq: 'integer' },
      primary: ['sha256'],
    });
    await createTable(runner, 'lot_file', {
      columns: {
        seq: 'integer',
        lot: 'varchar(64)',
        sha256: 'varchar(64)',
        what: 'varchar(64)',
        note: 'text?',
        attached_by: 'varchar(64)',
        attached_at: 'varchar(24)',
        detached_seq: 'integer?',
        detached_by: 'varchar(64)?',
        detached_at: 'varchar(24)?',
        detach_reason: 'text?',
      },
      primary: ['seq'],
      indexes: { ix_lot_file_lot: ['lot'] },
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
