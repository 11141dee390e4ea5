import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Subjects1764000050000 implements MigrationInterface {
  name = 'Subjects1764000050000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'entry_subject', {
      columns: { kind: 'varchar(16)', code: 'varchar(64)', seq: 'integer' },
      primary: ['kind', 'code', 'seq'],
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
