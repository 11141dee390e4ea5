import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Recalls1764000900000 implements MigrationInterface {
  name = 'Recalls1764000900000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'recall', {
      columns: {
        code: 'varchar(64)',
        title: 'text',
        type: 'varchar(24)',
        drill: 'boolean',
        what: 'text',
        reason: 'text',
        hazard: 'text?',
        instruction: 'text?',
        contact: 'text?',
        opened_seq: 'integer',
      },
      primary: ['code'],
    });
    await createTable(runner, 'recall_scope', {
      columns: {
        recall: 'varchar(64)',
        version: 'integer',
        seq: 'integer',
        known_seq: 'integer',
        known_hash: 'varchar(64)',
        chosen: 'varchar(16)',
        reason: 'text',
        printed: 'text',
        origin: 'text',
      },
      primary: ['recall', 'version'],
    });
    await createTable(runner, 'recall_part', {
      columns: { recall: 'varchar(64)', version: 'integer', scope: 'varchar(16)', lot_id: 'integer', spans: 'text?' },
      primary: ['recall', 'version', 'scope', 'lot_id'],
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
