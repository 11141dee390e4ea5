import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Inspections1764001200000 implements MigrationInterface {
  name = 'Inspections1764001200000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'inspection', {
      columns: {
        code: 'varchar(64)',
        lot: 'varchar(64)',
        item: 'varchar(64)',
        spans: 'text?',
        lot_size: 'bigint?',
        occasion: 'varchar(16)',
        source: 'varchar(64)?',
        supplier: 'varchar(64)?',
        plan_revision: 'integer',
        resubmits: 'varchar(64)?',
        state: 'varchar(16)',
        opened_at: 'varchar(24)',
        opened_seq: 'integer',
        urgent_reason: 'text?',
        sample: 'text?',
        begun_seq: 'integer?',
        verdict: 'varchar(16)?',
        inspected: 'bigint?',
        nonconforming: 'bigint?',
        curtailed: 'boolean',
        ended_seq: 'integer?',
        ended_at: 'varchar(24)?',
      },
      primary: ['code'],
      indexes: { ix_inspection_lot: ['lot'], ix_inspection_state: ['state'], ix_inspection_item: ['item', 'supplier'] },
    });
    await createTable(runner, 'inspection_tally', {
      columns: {
        inspection: 'varchar(64)',
        tally: 'integer',
        sample: 'integer',
        conforming: 'integer',
        items: 'text',
        since_seq: 'integer',
        until_seq: 'integer?',
        taken_back_reason: 'text?',
      },
      primary: ['inspection', 'tally'],
    });
    await createTable(runner, 'test_result', {
      columns: {
        inspection: 'varchar(64)',
        tally: 'integer',
        number: 'integer',
        characteristic: 'varchar(64)',
        lot: 'varchar(64)',
        item: 'varchar(64)',
        piece: 'integer?',
        instrument: 'varchar(64)?',
        at: 'varchar(24)',
        person: 'varchar(64)',
        value: 'bigint',
        within: 'boolean',
        measured: 'text',
        retest_of: 'integer?',
        reason: 'text?',
        since_seq: 'integer',
        until_seq: 'integer?',
      },
      primary: ['inspection', 'tally', 'number', 'characteristic'],
      indexes: { ix_test_result_instrument: ['instrument', 'at'], ix_test_result_lot: ['lot'] },
    });
    await createTable(runner, 'switching', {
      columns: {
        item: 'varchar(64)',
        supplier: 'varchar(64)',
        class: 'varchar(16)',
        plan: 'varchar(64)',
        since_seq: 'integer',
        until_seq: 'integer?',
        severity: 'varchar(16)',
        state: 'text',
        because: 'text',
        inspection: 'varchar(64)?',
      },
      primary: ['item', 'supplier', 'class', 'plan', 'since_seq'],
      indexes: { ix_switching_item: ['item', 'supplier'] },
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
