import { randomBytes } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { Client as PgClient } from 'pg';
import { inject } from 'vitest';
import { createApp } from '../src/server/app.js';
import type { Role } from '../src/server/plant/people/access.js';
import { SetClock } from '../src/server/platform/clock.js';
import { type Config, readConfig } from '../src/server/platform/config.js';

export type Database = 'sqlite' | 'postgres';
/** Every flow runs on both. */
export const DATABASES: readonly Database[] = ['sqlite', 'postgres'];

export interface Answer<Body = unknown> {
  readonly status: number;
  readonly body: Body;
  readonly headers: Readonly<Record<string, unknown>>;
}

/** Speaks to the server as one person. */
export interface Client {
  readonly person: string;
  get<Body = never>(path: string): Promise<Answer<Body>>;
  post<Body = never>(path: string, body?: object): Promise<Answer<Body>>;
}

/** A server on an empty database of its own, with one person for each role. */
export interface Plant {
  readonly app: NestFastifyApplication;
  readonly config: Config;
  readonly clock: SetClock;
  /** A second person of the same role: `plant.as('quality', 2)`. */
  as(role: Role, which?: 1 | 2): Client;
  stop(): Promise<void>;
}

/** The password of every person in tests. */
export const PASSWORD = 'a long test password';

async function freshConfig(database: Database): Promise<Config> {
  const dataDir = mkdtempSync(join(tmpdir(), 'kinledger-test-'));
  const config = readConfig({}, { dataDir, scryptCost: 2 ** 4, logLevel: 'error', requestsPerMinute: 1_000_000 });
  if (database === 'sqlite') return config;
  const name = `t_${randomBytes(6).toString('hex')}`;
  const client = new PgClient(`${inject('postgresUrl')}/postgres`);
  await client.connect();
  await client.query(`CREATE DATABASE ${name}`);
  await client.end();
  return { ...config, databaseUrl: `${inject('postgresUrl')}/${name}` };
}

/** Starts a plant; stop it in `afterAll`. */
export async function startPlant(database: Database, over: Partial<Config> = {}): Promise<Plant> {
  const config = { ...(await freshConfig(database)), ...over };
  const clock = new SetClock('2026-03-02T08:00:00.000Z');
  const app = await createApp(config, clock);
  // Until people sign in for real, the test says who is calling.
  app
    .getHttpAdapter()
    .getInstance()
    .addHook('onRequest', (request, _reply, done) => {
      const said = request.headers['x-test-actor'];
      if (typeof said === 'string') Object.assign(request, { actor: JSON.parse(said) as unknown });
      done();
    });
  await app.init();
  await app.getHttpAdapter().getInstance().ready();

  const as = (role: Role, which: 1 | 2 = 1): Client => {
    const person = `${role}-${which}`;
    const call = async (method: 'GET' | 'POST', url: string, payload?: object): Promise<Answer<never>> => {
      const response = await app.inject({
        method,
        url,
        headers: { 'x-test-actor': JSON.stringify({ person, roles: [role] }) },
        ...(payload === undefined ? {} : { payload }),
      });
      const json = String(response.headers['content-type'] ?? '').includes('json');
      return { status: response.statusCode, body: (json ? response.json() : response.body) as never, headers: response.headers };
    };
    return { person, get: (path) => call('GET', path), post: (path, body) => call('POST', path, body ?? {}) };
  };
  return {
    app,
    config,
    clock,
    as,
    async stop() {
      await app.close();
      rmSync(config.dataDir, { recursive: true, force: true });
    },
  };
}
