import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Returns1764000800000 implements MigrationInterface {
  name = 'Returns1764000800000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'goods_return', {
      columns: {
        code: 'varchar(64)',
        customer: 'varchar(64)',
        document_type: 'varchar(64)',
        document: 'varchar(64)',
        returned_at: 'varchar(24)',
        location: 'varchar(64)',
        condition: 'text',
        note: 'text?',
        booked_seq: 'integer',
        reversed_seq: 'integer?',
        reverse_reason: 'text?',
      },
      primary: ['code'],
      indexes: { ix_goods_return_customer: ['customer'] },
    });
    await createTable(runner, 'return_line', {
      columns: {
        return_code: 'varchar(64)',
        line: 'integer',
        lot_id: 'integer',
        spans: 'text?',
        quantity: 'bigint',
        shipment: 'varchar(64)',
        shipment_named: 'boolean',
        becomes: 'varchar(64)?',
      },
      primary: ['return_code', 'line'],
      indexes: { ix_return_line_lot: ['lot_id'], ix_return_line_shipment: ['shipment'] },
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
