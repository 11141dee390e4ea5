import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Dispatch1764000700000 implements MigrationInterface {
  name = 'Dispatch1764000700000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'shipment', {
      columns: {
        code: 'varchar(64)',
        customer: 'varchar(64)',
        customer_revision: 'integer',
        bill_to: 'varchar(64)?',
        document_type: 'varchar(64)?',
        document: 'varchar(64)?',
        shipped_at: 'varchar(24)',
        location: 'varchar(64)?',
        note: 'text?',
        dispatched_seq: 'integer',
        reversed_seq: 'integer?',
        reverse_reason: 'text?',
      },
      primary: ['code'],
      indexes: { ix_shipment_customer: ['customer'], ix_shipment_seq: ['dispatched_seq'] },
    });
    await createTable(runner, 'shipment_line', {
      columns: {
        shipment: 'varchar(64)',
        line: 'integer',
        lot_id: 'integer',
        spans: 'text?',
        quantity: 'bigint',
        urgent_releases: 'text',
        passed_over: 'text',
        pick_reason: 'text?',
      },
      primary: ['shipment', 'line'],
      indexes: { ix_shipment_line_lot: ['lot_id'] },
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
