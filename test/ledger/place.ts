import { randomBytes } from 'node:crypto';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Client } from 'pg';
import sqlite3 from 'sqlite3';
import { inject } from 'vitest';
import { type Config, readConfig, sqliteFile } from '../../src/server/platform/config.js';
import type { Database } from '../harness.js';

/** A database of a test's own, without a server on it: empty, or a copy of another place. */
export interface Place {
  readonly database: Database;
  readonly config: Config;
  /** Runs statements as somebody would who has the database in his hands. */
  statements(statements: readonly string[]): Promise<void>;
  remove(): void;
}

async function onPostgres(database: string, statements: readonly string[]): Promise<void> {
  const client = new Client(`${inject('postgresUrl')}/${database}`);
  await client.connect();
  try {
    for (const statement of statements) await client.query(statement);
  } finally {
    await client.end();
  }
}

async function onSqlite(file: string, statements: readonly string[]): Promise<void> {
  const db = new sqlite3.Database(file);
  const run = (statement: string): Promise<void> =>
    new Promise((resolve, reject) => {
      db.run(statement, (error) => (error ? reject(error) : resolve()));
    });
  try {
    for (const statement of statements) await run(statement);
  } finally {
    await new Promise((resolve) => {
      db.close(resolve);
    });
  }
}

const databaseOf = (config: Config): string => new URL(config.databaseUrl!).pathname.slice(1);

/** An empty place, or a copy of `like`, which nothing may have open. */
export async function place(database: Database, like?: Place): Promise<Place> {
  const dataDir = mkdtempSync(join(tmpdir(), 'kinledger-place-'));
  const quick = readConfig({}, { dataDir, scryptCost: 2 ** 4, logLevel: 'error', requestsPerMinute: 1_000_000 });
  let config = quick;
  if (database === 'postgres') {
    const name = `p_${randomBytes(6).toString('hex')}`;
    await onPostgres('postgres', [`CREATE DATABASE ${name}${like ? ` TEMPLATE ${databaseOf(like.config)}` : ''}`]);
    config = { ...quick, databaseUrl: `${inject('postgresUrl')}/${name}` };
  } else if (like) {
    cpSync(like.config.dataDir, dataDir, { recursive: true });
  }
  return {
    database,
    config,
    statements: (statements) =>
      database === 'postgres' ? onPostgres(databaseOf(config), statements) : onSqlite(sqliteFile(config), statements),
    remove: () => rmSync(dataDir, { recursive: true, force: true }),
  };
}

/** What has to be done before the ledger can be changed at all. */
export const WITHOUT_TRIGGERS: Readonly<Record<Database, readonly string[]>> = {
  sqlite: ['DROP TRIGGER "ledger_no_update"', 'DROP TRIGGER "ledger_no_delete"', 'DROP TRIGGER "ledger_next_seq"'],
  postgres: ['ALTER TABLE "ledger_entry" DISABLE TRIGGER USER'],
};
