import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { EntityManager } from 'typeorm';
import type { Config } from '../platform/config.js';
import { openScratch, type Schema } from '../platform/database/data-source.js';
import { isPostgres, queryRows } from '../platform/database/rows.js';

const PREFIX = 'beside-';

/**
 * Runs `work` on empty tables of the shape the live ones have, and throws them away after.
 * They hold `tables` and nothing else: what is written into them can rest on the ledger alone.
 */
export async function withEmptyTables<T>(
  config: Config,
  schema: Schema,
  live: EntityManager,
  tables: readonly string[],
  work: (empty: EntityManager) => Promise<T>,
): Promise<T> {
  const parent = config.databaseUrl || !existsSync(config.dataDir) ? tmpdir() : config.dataDir; // beside the file: where there is room for it
  clearAbandoned(parent);
  const folder = mkdtempSync(join(parent, `${PREFIX}${process.pid}-`));
  try {
    const source = await openScratch(config, schema, folder);
    const runner = source.createQueryRunner();
    try {
      for (const table of tables)
        await (isPostgres(live) ? likeLivePostgres(runner.manager, table) : likeLiveSqlite(live, runner.manager, table));
      return await work(runner.manager);
    } finally {
      await runner.release();
      await source.destroy();
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const likeLivePostgres = (empty: EntityManager, table: string): Promise<unknown> =>
  empty.query(`CREATE TEMPORARY TABLE "${table}" (LIKE "${table}" INCLUDING ALL)`);

async function likeLiveSqlite(live: EntityManager, empty: EntityManager, table: string): Promise<void> {
  const made = await queryRows<{ sql: string }>(
    live,
    `SELECT "sql" FROM "sqlite_master" WHERE "tbl_name" = ? AND "type" IN ('table', 'index') AND "sql" IS NOT NULL ORDER BY "type" DESC, "name"`,
    [table],
  );
  if (made.length === 0) throw new Error(`there is no table ${table}`);
  for (const { sql } of made) await empty.query(sql);
}

/** Folders left by a process that is gone. */
function clearAbandoned(parent: string): void {
  for (const name of readdirSync(parent)) {
    const pid = name.startsWith(PREFIX) ? Number(name.slice(PREFIX.length).split('-')[0]) : Number.NaN;
    if (Number.isInteger(pid) && pid > 0 && !runs(pid)) rmSync(join(parent, name), { recursive: true, force: true });
  }
}

function runs(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as { code?: string }).code === 'EPERM';
  }
}
