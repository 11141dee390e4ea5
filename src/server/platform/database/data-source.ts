import { chmodSync, existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import sqlite3 from 'sqlite3';
import { DataSource, type DataSourceOptions, type EntitySchema, type MixedList } from 'typeorm';
import { type Config, sqliteFile } from '../config.js';

/**
 * The driver as it is. TypeORM asks for its verbose form, which at every statement prints the arguments and captures a stack, in case it
 * fails: a third of the processor time of a short statement. TypeORM's own error names the statement and its arguments anyway.
 */
const quiet: object = { ...sqlite3, verbose: () => quiet };

/** What a program keeps in its database: its entities and the migrations that make their tables. */
export interface Schema {
  readonly entities: MixedList<Function | string | EntitySchema>;
  readonly migrations: MixedList<Function | string>;
}

const common = (schema: Schema): Pick<DataSourceOptions, 'entities' | 'migrations' | 'synchronize' | 'migrationsTransactionMode'> => ({
  entities: schema.entities,
  migrations: schema.migrations,
  synchronize: false,
  migrationsTransactionMode: 'each',
});

/** The one connection that writes; only the command gate may use it. The driver is named here and nowhere else. */
function writerOptions(config: Config, schema: Schema): DataSourceOptions {
  if (config.databaseUrl) return { type: 'postgres', url: config.databaseUrl, ...common(schema), extra: { max: 2 } };
  return {
    type: 'sqlite',
    driver: quiet,
    database: sqliteFile(config),
    enableWAL: true,
    busyTimeout: 5000,
    ...common(schema),
  };
}

/** For queries: sees committed rows only and cannot write. */
function readerOptions(config: Config, schema: Schema): DataSourceOptions {
  if (config.databaseUrl) {
    return {
      name: 'reader',
      type: 'postgres',
      url: config.databaseUrl,
      ...common(schema),
      extra: { max: 4, options: '-c default_transaction_read_only=on' },
    };
  }
  return {
    name: 'reader',
    type: 'sqlite',
    driver: quiet,
    database: sqliteFile(config),
    flags: sqlite3.OPEN_READONLY,
    busyTimeout: 5000,
    ...common(schema),
  };
}

async function pragmas(source: DataSource): Promise<void> {
  if (source.options.type !== 'sqlite') return;
  await source.query('PRAGMA recursive_triggers = ON'); // else INSERT OR REPLACE deletes past the append-only triggers
  await source.query('PRAGMA synchronous = FULL');
  await source.query('PRAGMA cache_size = -65536');
}

/** Opens the writer and brings the schema up to date. Creates the data folder, closed to other users of the machine. */
export async function openWriter(config: Config, schema: Schema): Promise<DataSource> {
  if (!config.databaseUrl && !existsSync(config.dataDir)) mkdirSync(config.dataDir, { recursive: true, mode: 0o700 });
  const source = new DataSource(writerOptions(config, schema));
  await source.initialize();
  if (!config.databaseUrl) chmodSync(sqliteFile(config), 0o600);
  await migrateOnFreshConnection(source);
  await pragmas(source);
  return source;
}

/** A migration that failed or altered a table leaves connection settings behind on SQLite, so it never shares the server's connection. */
async function migrateOnFreshConnection(source: DataSource): Promise<void> {
  if (!(await source.showMigrations())) return;
  await source.runMigrations();
  await source.destroy();
  await source.initialize();
}

export async function openReader(config: Config, schema: Schema): Promise<DataSource> {
  const source = new DataSource(readerOptions(config, schema));
  await source.initialize();
  return source;
}

/**
 * An empty place to write beside the live tables, gone when it is closed: a file in `folder` for SQLite, a session whose temporary
 * tables hide the live ones of the same names for PostgreSQL, which any role may make. Nothing in it has to survive a crash.
 */
export async function openScratch(config: Config, schema: Schema, folder: string): Promise<DataSource> {
  const source = config.databaseUrl
    ? new DataSource({ name: 'scratch', type: 'postgres', url: config.databaseUrl, ...common(schema), extra: { max: 1 } })
    : new DataSource({ name: 'scratch', type: 'sqlite', driver: quiet, database: join(folder, 'scratch.sqlite'), ...common(schema) });
  await source.initialize();
  if (config.databaseUrl) return source;
  await source.query('PRAGMA journal_mode = OFF');
  await source.query('PRAGMA synchronous = OFF');
  await source.query('PRAGMA cache_size = -65536');
  return source;
}
