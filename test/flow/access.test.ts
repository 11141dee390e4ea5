import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { Controller, Get, Module } from '@nestjs/common';
import { ModulesContainer, NestFactory } from '@nestjs/core';
import { FastifyAdapter, type NestFastifyApplication } from '@nestjs/platform-fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { AppModule } from '../../src/server/app.module.js';
import { MAY, OPEN_TO_ALL, ROLES } from '../../src/server/plant/people/access.js';
import { SESSION_COOKIE } from '../../src/server/plant/people/session-cookie.js';
import { type Plant, startPlant } from '../harness.js';

/**
 * Who may call what, written down: route to roles, `everyone` (signed in) or `open`. A route that is not in it fails the test.
 * After deciding about a new route: `KINLEDGER_WRITE_ACCESS=1 npx vitest run test/flow/access.test.ts`, then read the difference.
 */
const TABLE = 'fixtures/access.json';
type Who = 'open' | 'everyone' | readonly string[];
type Table = Readonly<Record<string, Who>>;

/** Writing that is every signed-in person's own: their password, their session. */
const ONES_OWN = new Set(['POST /api/me/password', 'POST /api/sign-in', 'POST /api/sign-out', 'POST /api/set-up']);

/** A check of the record, or of a checkpoint against it, changes nothing in it, and a question too long for an address is sent like a command. */
const CHECKS = new Set(['POST /api/ledger/checkpoint/checks', 'POST /api/ledger/verifications', 'POST /api/trace/suspects']);

const reads = (route: string): boolean => route.startsWith('GET ') || CHECKS.has(route);

describe('who may call what (P-1)', () => {
  let plant: Plant;
  let seen: Table;
  const written = existsSync(TABLE) ? (JSON.parse(readFileSync(TABLE, 'utf8')) as Table) : {};

  beforeAll(async () => {
    plant = await startPlant('sqlite');
    seen = await walk(plant);
    if (process.env['KINLEDGER_WRITE_ACCESS']) writeFileSync(TABLE, `${asText(seen)}\n`);
  }, 240_000);
  afterAll(() => plant.stop());

  it('is written down for every route, and for no route that is gone', () => {
    const hint = `decide who may call it, then write it into ${TABLE} (the head of this test says how)`;
    expect(
      Object.keys(seen).filter((route) => !(route in written)),
      hint,
    ).toEqual([]);
    expect(Object.keys(written).filter((route) => !(route in seen))).toEqual([]);
    expect(Object.keys(seen).length).toBeGreaterThan(20);
  });

  it('is so for every route and every role, and without signing in', () => {
    expect(seen).toEqual(inOrder(written));
  });

  it('lets the auditor read everything and change nothing (P-3)', () => {
    const wrong = Object.entries(written).filter(([route, who]) => {
      const auditor = who === 'open' || who === 'everyone' || who.includes('auditor');
      return ONES_OWN.has(route) ? false : auditor !== reads(route);
    });
    expect(wrong).toEqual([]);
  });

  it('is said by every handler', () => {
    const silent: string[] = [];
    for (const module of plant.app.get(ModulesContainer).values()) {
      for (const { metatype, instance } of module.controllers.values()) {
        const proto = Object.getPrototypeOf(instance) as Record<string, unknown>;
        for (const name of Object.getOwnPropertyNames(proto)) {
          const handler = proto[name];
          if (name === 'constructor' || typeof handler !== 'function' || !Reflect.hasMetadata('path', handler)) continue;
          if (!Reflect.hasMetadata(MAY, handler) && !Reflect.hasMetadata(OPEN_TO_ALL, handler)) silent.push(`${metatype?.name}.${name}`);
        }
      }
    }
    expect(silent).toEqual([]);
  });

  it('is nobody where a route says nothing', async () => {
    @Controller('silent')
    class SilentController {
      @Get()
      speak(): object {
        return { said: 'nothing' };
      }
    }
    @Module({ imports: [AppModule.with(plant.config, plant.clock)], controllers: [SilentController] })
    class WithSilent {}
    const app = await NestFactory.create<NestFastifyApplication>(WithSilent, new FastifyAdapter(), { logger: false });
    await app.init();
    const answer = await app.inject({ url: '/silent', cookies: { [SESSION_COOKIE]: plant.sessionOf('administrator-1') } });
    expect(answer.statusCode).toBe(403);
    await app.close();
  });
});

/** Calls every route as every role and as nobody, and writes down who was let in. */
async function walk(plant: Plant): Promise<Table> {
  const table: Record<string, Who> = {};
  for (const { method, url } of plant.routes()) {
    const path = url.replaceAll(/:\w+/g, 'no-such').replace('*', 'no-such');
    const admitted = async (person: string | null): Promise<boolean> => {
      const answer = await plant.app.inject({
        method,
        url: path,
        ...(method === 'GET' ? {} : { payload: {} }),
        ...(person === null ? {} : { cookies: { [SESSION_COOKIE]: plant.sessionOf(person) } }),
      });
      const refused = answer.statusCode === 403 && /"code":"role-needed"/.test(answer.body);
      return !refused && !(answer.statusCode === 401 && /"code":"not-signed-in"/.test(answer.body));
    };
    table[`${method} ${url}`] = await whoIn(admitted);
  }
  return table;
}

async function whoIn(admitted: (person: string | null) => Promise<boolean>): Promise<Who> {
  if (await admitted(null)) return 'open';
  const roles: string[] = [];
  for (const role of ROLES) if (await admitted(`${role}-1`)) roles.push(role);
  return roles.length === ROLES.length ? 'everyone' : roles;
}

/** Roles in the order of ROLES: in which order they were written down does not matter. */
const inOrder = (table: Table): Table =>
  Object.fromEntries(
    Object.entries(table).map(([route, who]) => [route, typeof who === 'string' ? who : ROLES.filter((role) => who.includes(role))]),
  );

/** One route a line, by path and then method. */
function asText(table: Table): string {
  const byPath = (route: string): string => route.split(' ').toReversed().join(' ');
  const lines = Object.entries(table)
    .toSorted(([a], [b]) => (byPath(a) < byPath(b) ? -1 : 1))
    .map(([route, who]) => `  ${JSON.stringify(route)}: ${JSON.stringify(who).replaceAll(',', ', ')}`);
  return `{\n${lines.join(',\n')}\n}`;
}
