import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Stock1764000100000 implements MigrationInterface {
  name = 'Stock1764000100000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'lot', {
      columns: {
        id: 'integer',
        code: 'varchar(64)',
        item: 'varchar(64)',
        item_revision: 'integer',
        unit: 'varchar(8)',
        pieces: 'integer?',
        quantity: 'bigint',
        origin: 'varchar(16)',
        born_at: 'varchar(24)',
        born_seq: 'integer',
        made_on: 'varchar(10)?',
        expires_on: 'varchar(10)?',
        supplier: 'varchar(64)?',
        supplier_lot: 'varchar(64)?',
        supplier_lot_assigned: 'boolean',
        source: 'varchar(64)',
      },
      primary: ['id'],
      uniques: { ux_lot_code: ['code'] },
      indexes: { ix_lot_item: ['item'], ix_lot_supplier_lot: ['supplier_lot'], ix_lot_source: ['source'] },
    });
    await createTable(runner, 'whereabout', {
      columns: {
        lot_id: 'integer',
        fate: 'varchar(24)',
        at: 'varchar(64)',
        since_seq: 'integer',
        until_seq: 'integer?',
        quantity: 'bigint',
        spans: 'text?',
      },
      primary: ['lot_id', 'fate', 'at', 'since_seq'],
      indexes: { ix_whereabout_place: ['fate', 'at'], ix_whereabout_since: ['since_seq'] },
    });
    await createTable(runner, 'lot_status', {
      columns: { lot_id: 'integer', status: 'varchar(16)', since_seq: 'integer', until_seq: 'integer?', spans: 'text?' },
      primary: ['lot_id', 'status', 'since_seq'],
    });
    await createTable(runner, 'serial', {
      columns: { item: 'varchar(64)', serial: 'varchar(64)', lot_id: 'integer', piece: 'integer' },
      primary: ['item', 'serial'],
      indexes: { ix_serial_serial: ['serial'], ix_serial_lot: ['lot_id', 'piece'] },
    });
    await createTable(runner, 'link', {
      columns: {
        seq: 'integer',
        ord: 'integer',
        from_lot: 'integer',
        from_first: 'integer',
        from_last: 'integer',
        to_lot: 'integer',
        to_first: 'integer',
        to_last: 'integer',
        quantity: 'bigint',
        mass: 'bigint',
        each: 'boolean',
        run: 'varchar(64)',
        kind: 'varchar(16)',
        at: 'varchar(24)',
        void_seq: 'integer?',
      },
      primary: ['seq', 'ord'],
      indexes: {
        ix_link_from: ['from_lot', 'from_first'],
        ix_link_to: ['to_lot', 'to_first'],
        ix_link_run: ['run'],
        ix_link_void: ['void_seq'],
      },
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
