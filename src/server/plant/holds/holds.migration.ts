import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Holds1764000300000 implements MigrationInterface {
  name = 'Holds1764000300000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'hold', {
      columns: {
        code: 'varchar(64)',
        lot_id: 'integer',
        spans: 'text?',
        quantity: 'bigint?',
        reaches: 'boolean',
        reason: 'text',
        owner: 'varchar(64)',
        placed_at: 'varchar(24)',
        placed_seq: 'integer',
        lifted_seq: 'integer?',
        lift_reason: 'text?',
      },
      primary: ['code', 'lot_id'],
      indexes: { ix_hold_lot: ['lot_id'], ix_hold_lifted: ['lifted_seq'] },
    });
    await createTable(runner, 'urgent_release', {
      columns: {
        code: 'varchar(64)',
        lot_id: 'integer',
        spans: 'text?',
        sets_aside: 'varchar(64)',
        reason: 'text',
        signed_by: 'varchar(64)',
        opened_seq: 'integer',
        closed_seq: 'integer?',
        close_reason: 'text?',
      },
      primary: ['code'],
      indexes: { ix_urgent_release_lot: ['lot_id'] },
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
