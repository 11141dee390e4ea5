import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { DataSource } from 'typeorm';
import { openWriter } from '../../src/server/platform/database/data-source.js';
import { SCHEMA } from '../../src/server/schema.js';
import { DATABASES } from '../harness.js';
import { type Place, place } from '../ledger/place.js';

describe.each(DATABASES)('the schema on %s', (database) => {
  let empty: Place;
  let source: DataSource;
  beforeAll(async () => {
    empty = await place(database);
    source = await openWriter(empty.config, SCHEMA);
  });
  afterAll(async () => {
    await source.destroy();
    empty.remove();
  });

  it('is what the entities say: nothing is left for the schema builder to change', async () => {
    const { upQueries } = await source.driver.createSchemaBuilder().log();
    expect(upQueries.map(({ query }) => query)).toEqual([]);
  });

  it('is made by its migrations once: a second start has nothing to do', async () => {
    expect(await source.showMigrations()).toBe(false);
    expect(await source.runMigrations()).toEqual([]);
  });

  it('has the tables of its entities, and no others', async () => {
    const sql =
      database === 'postgres'
        ? `SELECT "tablename" AS "name" FROM "pg_tables" WHERE "schemaname" = 'public'`
        : `SELECT "name" FROM "sqlite_master" WHERE "type" = 'table' AND "name" NOT LIKE 'sqlite%'`;
    const found = (await source.query<{ name: string }[]>(sql)).map(({ name }) => name).filter((name) => name !== 'migrations');
    expect(found.toSorted()).toEqual(source.entityMetadatas.map(({ tableName }) => tableName).toSorted());
  });

  it('has a migration that goes forward only', async () => {
    await expect(source.undoLastMigration()).rejects.toThrow(/forward only/);
  });
});

describe('the settings of SQLite', () => {
  it('keep what is acknowledged and what is append-only', async () => {
    const empty = await place('sqlite');
    const source = await openWriter(empty.config, SCHEMA);
    const pragma = async (name: string): Promise<unknown> => Object.values((await source.query<[object]>(`PRAGMA ${name}`))[0])[0];
    expect(await pragma('journal_mode')).toBe('wal');
    expect(await pragma('synchronous')).toBe(2); // FULL
    expect(await pragma('recursive_triggers')).toBe(1);
    expect(await pragma('foreign_keys')).toBe(1);
    expect(await pragma('busy_timeout')).toBe(5000);
    await source.destroy();
    empty.remove();
  });
});
