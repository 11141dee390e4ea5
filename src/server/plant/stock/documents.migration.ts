import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class StockDocuments1764000110000 implements MigrationInterface {
  name = 'StockDocuments1764000110000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'stock_document', {
      columns: {
        code: 'varchar(64)',
        kind: 'varchar(24)',
        lot_id: 'integer',
        seq: 'integer',
        at: 'varchar(24)',
        by: 'varchar(64)',
        reason: 'text?',
        evidence: 'text?',
        moved: 'text',
        corrects_seq: 'integer?',
        corrected_seq: 'integer?',
      },
      primary: ['code'],
      indexes: { ix_stock_document_lot: ['lot_id'], ix_stock_document_seq: ['seq'] },
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
