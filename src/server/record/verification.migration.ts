import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../platform/database/tables.js';

export class Verification1764000060000 implements MigrationInterface {
  name = 'Verification1764000060000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'verification', {
      columns: {
        code: 'varchar(64)',
        started_by: 'varchar(64)',
        started_at: 'varchar(24)',
        alive_at: 'varchar(24)',
        step: 'varchar(16)',
        done: 'integer',
        of: 'integer',
        ended_at: 'varchar(24)?',
        report: 'text?',
      },
      primary: ['code'],
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
