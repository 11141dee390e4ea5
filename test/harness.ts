import { rmSync } from 'node:fs';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { createApp } from '../src/server/app.js';
import type { Role } from '../src/server/plant/people/access.js';
import { SESSION_COOKIE } from '../src/server/plant/people/session-cookie.js';
import { SetClock } from '../src/server/platform/clock.js';
import type { Config } from '../src/server/platform/config.js';
import { BEGINNING, fresh, type Persons } from './fresh.js';

export { PASSWORD } from './persons.js';

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
  /** What a route sends, byte for byte: a PDF, a photograph. */
  bytes(path: string): Promise<Buffer>;
}

export interface Route {
  readonly method: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';
  /** With its parameters, as `/api/deliveries/:delivery`. */
  readonly url: string;
}

/** A server on an empty database of its own, with two persons for each role. */
export interface Plant {
  readonly app: NestFastifyApplication;
  readonly config: Config;
  readonly clock: SetClock;
  /** A second person of the same role: `plant.as('quality', 2)`. */
  as(role: Role, which?: 1 | 2): Client;
  /** The session token of a person, for a request made by hand with `app.inject`. */
  sessionOf(person: string): string;
  /** Every route of the API. */
  routes(): readonly Route[];
  stop(): Promise<void>;
}

/** Starts a plant; stop it in `afterAll`. With `persons: 'none'` it is as empty as on a first start. */
export async function startPlant(database: Database, over: Partial<Config> = {}, persons: Persons = 'two-a-role'): Promise<Plant> {
  const { sessions, ...made } = await fresh(database, persons);
  const config = { ...made.config, ...over };
  const clock = new SetClock(BEGINNING);
  const app = await createApp(config, clock);
  const routes: Route[] = [];
  app
    .getHttpAdapter()
    .getInstance()
    .addHook('onRoute', ({ method, url }) => {
      if (url.startsWith('/api/docs')) return; // the parts of a page, open to all
      for (const one of [method].flat()) if (one !== 'HEAD' && one !== 'OPTIONS') routes.push({ method: one as Route['method'], url });
    });
  await app.init();
  await app.getHttpAdapter().getInstance().ready();

  const as = (role: Role, which: 1 | 2 = 1): Client => {
    const person = `${role}-${which}`;
    const call = async (method: 'GET' | 'POST', url: string, payload?: object): Promise<Answer<never>> => {
      const response = await app.inject({
        method,
        url,
        cookies: { [SESSION_COOKIE]: sessions.get(person) ?? '' },
        ...(payload === undefined ? {} : { payload }),
      });
      const json = String(response.headers['content-type'] ?? '').includes('json');
      return { status: response.statusCode, body: (json ? response.json() : response.body) as never, headers: response.headers };
    };
    const bytes = async (url: string): Promise<Buffer> =>
      (await app.inject({ method: 'GET', url, cookies: { [SESSION_COOKIE]: sessions.get(person) ?? '' } })).rawPayload;
    return { person, get: (path) => call('GET', path), post: (path, body) => call('POST', path, body ?? {}), bytes };
  };
  return {
    app,
    config,
    clock,
    as,
    routes: () => routes,
    sessionOf(person) {
      const token = sessions.get(person);
      if (token === undefined) throw new Error(`no session of ${person}`);
      return token;
    },
    async stop() {
      await app.close();
      rmSync(config.dataDir, { recursive: true, force: true });
    },
  };
}
