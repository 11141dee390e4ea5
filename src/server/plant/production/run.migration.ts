import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Runs1764000500000 implements MigrationInterface {
  name = 'Runs1764000500000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'run', {
      columns: {
        code: 'varchar(64)',
        kind: 'varchar(16)',
        item: 'varchar(64)',
        item_revision: 'integer',
        recipe: 'varchar(64)?',
        recipe_revision: 'integer?',
        bom: 'varchar(64)?',
        bom_revision: 'integer?',
        vessel: 'varchar(64)?',
        line: 'varchar(64)?',
        people: 'text',
        started_at: 'varchar(24)',
        started_seq: 'integer',
        planned: 'bigint?',
        clearance: 'text?',
        label: 'text?',
        note: 'text?',
        finished_at: 'varchar(24)?',
        closed_seq: 'integer?',
        lot: 'varchar(64)?',
        result: 'text?',
      },
      primary: ['code'],
      indexes: { ix_run_vessel: ['vessel'], ix_run_line: ['line'], ix_run_closed: ['closed_seq'] },
    });
    await createTable(runner, 'run_charge', {
      columns: {
        run: 'varchar(64)',
        charge: 'integer',
        step: 'integer?',
        lot: 'varchar(64)',
        item: 'varchar(64)',
        spans: 'text?',
        quantity: 'bigint',
        mass: 'bigint',
        charged_at: 'varchar(24)',
        by: 'varchar(64)',
        heel: 'boolean',
        into: 'text',
        deviations: 'text',
        deviation_reason: 'text?',
        urgent_releases: 'text',
        conversion: 'text?',
        taken_from: 'varchar(64)',
        returned_spans: 'text?',
        returned: 'bigint',
        returned_mass: 'bigint',
        seq: 'integer',
      },
      primary: ['run', 'charge'],
      indexes: { ix_run_charge_lot: ['lot'] },
    });
    await createTable(runner, 'run_changeover', {
      columns: {
        seq: 'integer',
        n: 'integer',
        run: 'varchar(64)',
        item: 'varchar(64)',
        lot: 'varchar(64)',
        from_piece: 'integer',
        changed_at: 'varchar(24)',
        until_seq: 'integer?',
      },
      primary: ['seq', 'n'],
      indexes: { ix_run_changeover_run: ['run'] },
    });
    await createTable(runner, 'run_investigation', {
      columns: {
        run: 'varchar(64)',
        what: 'varchar(16)',
        detail: 'text',
        opened_seq: 'integer',
        explanation: 'text?',
        explained_by: 'varchar(64)?',
        explained_seq: 'integer?',
      },
      primary: ['run', 'what'],
      indexes: { ix_run_investigation_open: ['explained_seq'] },
    });
    await createTable(runner, 'run_correction', {
      columns: {
        seq: 'integer',
        run: 'varchar(64)',
        corrects: 'integer?',
        reason: 'text',
        at: 'varchar(24)',
        by: 'varchar(64)',
        voided: 'text',
        linked: 'integer',
      },
      primary: ['seq'],
      indexes: { ix_run_correction_run: ['run'] },
    });
    await createTable(runner, 'part_replaced', {
      columns: {
        seq: 'integer',
        run: 'varchar(64)',
        unit_lot: 'varchar(64)',
        unit_piece: 'integer',
        item: 'varchar(64)',
        old_lot: 'varchar(64)',
        old_piece: 'integer?',
        old_quantity: 'bigint',
        new_lot: 'varchar(64)',
        new_piece: 'integer?',
        new_quantity: 'bigint',
        at: 'varchar(24)',
        by: 'varchar(64)',
        reason: 'text',
        location: 'varchar(64)?',
      },
      primary: ['seq'],
      indexes: { ix_part_replaced_unit: ['unit_lot', 'unit_piece'], ix_part_replaced_old: ['old_lot'] },
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
