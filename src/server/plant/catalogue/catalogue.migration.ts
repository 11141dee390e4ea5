import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Catalogue1764000200000 implements MigrationInterface {
  name = 'Catalogue1764000200000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'catalogue_record', {
      columns: {
        what: 'varchar(16)',
        code: 'varchar(64)',
        revision: 'integer',
        since_seq: 'integer',
        until_seq: 'integer?',
        record: 'text',
      },
      primary: ['what', 'code', 'revision'],
      indexes: { ix_catalogue_current: ['what', 'until_seq'] },
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
