import { randomBytes, randomUUID } from 'node:crypto';
import { copyFileSync, existsSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Client } from 'pg';
import { inject } from 'vitest';
import { createApp } from '../src/server/app.js';
import { SetClock } from '../src/server/platform/clock.js';
import { type Config, readConfig, sqliteFile } from '../src/server/platform/config.js';
import { openWriter } from '../src/server/platform/database/data-source.js';
import { SCHEMA } from '../src/server/schema.js';
import type { Database } from './harness.js';
import { addPersons } from './persons.js';

export type Persons = 'two-a-role' | 'none';

/** When every test begins. */
export const BEGINNING = '2026-03-02T08:00:00.000Z';

/** A database of a test's own, migrated, and the session token of each person in it. */
export interface Fresh {
  readonly config: Config;
  readonly sessions: ReadonlyMap<string, string>;
}

/** What is copied: a closed SQLite file, or a PostgreSQL database nobody is connected to. */
interface Template {
  readonly from: string;
  readonly sessions: readonly (readonly [person: string, token: string])[];
}

/** Migrations and persons take longer than most of what a test then does: they are done once a run, and their outcome is copied. */
export async function fresh(database: Database, persons: Persons): Promise<Fresh> {
  const { from, sessions } = await template(database, persons);
  const config = await emptyConfig(database, from);
  if (database === 'sqlite') copyFileSync(from, sqliteFile(config));
  return { config, sessions: new Map(sessions) };
}

async function emptyConfig(database: Database, from?: string): Promise<Config> {
  const dataDir = mkdtempSync(join(tmpdir(), 'kinledger-test-'));
  const config = readConfig(
    {},
    { dataDir, scryptCost: 2 ** 4, logLevel: 'error', requestsPerMinute: 1_000_000, triesPerMinute: 1_000_000 },
  );
  if (database === 'sqlite') return config;
  const name = `t_${randomBytes(6).toString('hex')}`;
  const client = new Client(`${inject('postgresUrl')}/postgres`);
  await client.connect();
  await client.query(`CREATE DATABASE ${name}${from === undefined ? '' : ` TEMPLATE ${from}`}`);
  await client.end();
  return { ...config, databaseUrl: `${inject('postgresUrl')}/${name}` };
}

/** The template as whoever needed it first made it. Two that need it at once make two of the same content: either will do. */
async function template(database: Database, persons: Persons): Promise<Template> {
  const told = join(inject('templates'), `${database}-${persons}.json`);
  if (!existsSync(told)) {
    const made = await makeTemplate(database, persons);
    const own = `${told}.${process.pid}`;
    writeFileSync(own, JSON.stringify(made));
    renameSync(own, told);
  }
  return JSON.parse(readFileSync(told, 'utf8')) as Template;
}

async function makeTemplate(database: Database, persons: Persons): Promise<Template> {
  const config = await emptyConfig(database);
  const sessions = persons === 'none' ? await migrateOnly(config) : await personsOnly(config);
  const from =
    database === 'postgres' ? new URL(config.databaseUrl!).pathname.slice(1) : join(inject('templates'), `${randomUUID()}.sqlite`);
  if (database === 'sqlite') {
    if (existsSync(`${sqliteFile(config)}-wal`)) throw new Error('the template is still open: a copy of its file would not be all of it');
    copyFileSync(sqliteFile(config), from);
  }
  rmSync(config.dataDir, { recursive: true });
  return { from, sessions };
}

async function migrateOnly(config: Config): Promise<Template['sessions']> {
  await (await openWriter(config, SCHEMA)).destroy();
  return [];
}

async function personsOnly(config: Config): Promise<Template['sessions']> {
  const app = await createApp(config, new SetClock(BEGINNING));
  await app.init();
  const sessions = await addPersons(app, config.scryptCost);
  await app.close();
  return [...sessions];
}
