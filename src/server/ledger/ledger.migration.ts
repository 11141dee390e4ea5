import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../platform/database/tables.js';
import { GENESIS } from './fact.js';

/** Ledger, its head, its triggers, and the commands already answered. */
export class Ledger1764000000000 implements MigrationInterface {
  name = 'Ledger1764000000000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'ledger_entry', {
      columns: {
        seq: 'integer',
        at: 'varchar(24)',
        actor: 'varchar(64)',
        kind: 'varchar(64)',
        v: 'integer',
        body: 'text',
        hash: 'varchar(64)',
      },
      primary: ['seq'], // no other key: a clash on a second unique key lets INSERT OR REPLACE delete an old entry on SQLite
    });
    await createTable(runner, 'ledger_head', { columns: { id: 'integer', seq: 'integer', hash: 'varchar(64)' }, primary: ['id'] });
    await runner.query(`INSERT INTO "ledger_head" ("id", "seq", "hash") VALUES (1, 0, '${GENESIS}')`);
    await createTable(runner, 'command_done', {
      columns: { command_id: 'varchar(64)', actor: 'varchar(64)', fingerprint: 'varchar(64)', at: 'varchar(24)', answer: 'text' },
      primary: ['command_id'],
    });
    await (runner.connection.options.type === 'postgres' ? postgresTriggers(runner) : sqliteTriggers(runner));
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}

/** RAISE(ABORT), not ROLLBACK: the latter ends the transaction behind TypeORM's back. */
async function sqliteTriggers(runner: QueryRunner): Promise<void> {
  const refuse = (name: string, when: string, why: string) =>
    runner.query(`CREATE TRIGGER "${name}" BEFORE ${when} BEGIN SELECT RAISE(ABORT, '${why}'); END`);
  await refuse('ledger_no_update', 'UPDATE ON "ledger_entry"', 'the ledger is append-only');
  await refuse('ledger_no_delete', 'DELETE ON "ledger_entry"', 'the ledger is append-only');
  await refuse(
    'ledger_next_seq',
    'INSERT ON "ledger_entry" WHEN NEW."seq" <> (SELECT coalesce(max("seq"), 0) + 1 FROM "ledger_entry")',
    'the ledger has no gap and no second entry',
  );
}

async function postgresTriggers(runner: QueryRunner): Promise<void> {
  await runner.query(`CREATE FUNCTION ledger_refuse() RETURNS trigger LANGUAGE plpgsql AS
    $$ BEGIN RAISE EXCEPTION 'the ledger is append-only'; END $$`);
  await runner.query(`CREATE FUNCTION ledger_next_seq() RETURNS trigger LANGUAGE plpgsql AS
    $$ BEGIN
      IF NEW."seq" <> (SELECT coalesce(max("seq"), 0) + 1 FROM "ledger_entry") THEN
        RAISE EXCEPTION 'the ledger has no gap and no second entry';
      END IF;
      RETURN NEW;
    END $$`);
  await runner.query(`CREATE TRIGGER "ledger_no_change" BEFORE UPDATE OR DELETE ON "ledger_entry"
    FOR EACH ROW EXECUTE FUNCTION ledger_refuse()`);
  await runner.query(`CREATE TRIGGER "ledger_no_truncate" BEFORE TRUNCATE ON "ledger_entry"
    FOR EACH STATEMENT EXECUTE FUNCTION ledger_refuse()`);
  await runner.query(`CREATE TRIGGER "ledger_next_seq" BEFORE INSERT ON "ledger_entry"
    FOR EACH ROW EXECUTE FUNCTION ledger_next_seq()`);
}
