import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

/** What dispositions let lots do, and since when; whose signatures they wait for. */
export class Dispositions1764001600000 implements MigrationInterface {
  name = 'Dispositions1764001600000';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query('ALTER TABLE "disposition" ADD COLUMN "granted_seq" integer');
    await runner.query('ALTER TABLE "disposition" ADD COLUMN "ended_seq" integer');
    await createTable(runner, 'review_rule', { columns: { since_seq: 'integer', rule: 'text', reason: 'text' }, primary: ['since_seq'] });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
