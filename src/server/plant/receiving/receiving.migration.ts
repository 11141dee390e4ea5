import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Receiving1764000400000 implements MigrationInterface {
  name = 'Receiving1764000400000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'delivery', {
      columns: {
        code: 'varchar(64)',
        supplier: 'varchar(64)',
        document_type: 'varchar(64)',
        document: 'varchar(64)',
        received_at: 'varchar(24)',
        location: 'varchar(64)',
        condition: 'text',
        note: 'text?',
        booked_seq: 'integer',
      },
      primary: ['code'],
      indexes: { ix_delivery_supplier: ['supplier'] },
    });
    await createTable(runner, 'delivery_line', {
      columns: {
        delivery: 'varchar(64)',
        line: 'integer',
        lot: 'varchar(64)',
        containers: 'integer?',
        earlier: 'text',
        expired_on_arrival: 'boolean',
      },
      primary: ['delivery', 'line'],
      indexes: { ix_delivery_line_lot: ['lot'] },
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
