import { request as rawRequest } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SESSION_COOKIE } from '../../src/server/plant/people/session-cookie.js';
import { Reader } from '../../src/server/platform/database/reader.js';
import { DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';

interface ProblemBody {
  type: string;
  title: string;
  status: number;
  detail: string;
  reasons: { code: string; detail: string; pointer?: string; parameter?: string }[];
}
type Asked = Parameters<Plant['app']['inject']>[0] & object;

describe.each(DATABASES)('the HTTP house on %s', (database) => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant(database);
  });
  afterAll(() => plant.stop());

  const ask = async (asked: Asked) => {
    const cookies = { [SESSION_COOKIE]: plant.sessionOf('clerk-1') };
    return plant.app.inject({ cookies, ...(asked as object) });
  };
  const problem = async (asked: Asked): Promise<ProblemBody> => {
    const answer = await ask(asked);
    expect(answer.headers['content-type'], answer.body).toBe('application/problem+json; charset=utf-8');
    const body = answer.json<ProblemBody>();
    expect(body.status).toBe(answer.statusCode);
    expect(body.type).toMatch(/^\/problems\/[a-z-]+$/);
    expect(body.title.length * body.detail.length * body.reasons.length).toBeGreaterThan(0);
    return body;
  };
  const json = { 'content-type': 'application/json' };
  const deliver = (payload: string, headers: Record<string, string> = json): Asked => ({
    method: 'POST',
    url: '/api/deliveries',
    headers,
    payload,
  });

  describe('every error is a problem with its reasons', () => {
    it.each<[string, Asked, number, string]>([
      ['broken JSON', deliver('{"supplier": '), 400, 'malformed'],
      ['JSON that would change what objects are', deliver('{"__proto__": {"x": 1}}'), 400, 'malformed'],
      ['an empty JSON body', deliver(''), 400, 'malformed'],
      ['a list where an object is due', deliver('[]'), 400, 'malformed'],
      ['a list of objects', deliver('[{"supplier":"S"}]'), 400, 'malformed'],
      ['a number', deliver('5'), 400, 'malformed'],
      ['text', deliver('"text"'), 400, 'malformed'],
      ['null', deliver('null'), 400, 'malformed'],
      ['JSON of 10 MB', deliver(JSON.stringify({ note: 'x'.repeat(10_000_000) })), 413, 'too-large'],
      ['a body that is no JSON', deliver('<a/>', { 'content-type': 'application/xml' }), 415, 'wrong-kind-of-body'],
      ['plain text', deliver('supplier', { 'content-type': 'text/plain' }), 415, 'wrong-kind-of-body'],
      ['a web form', deliver('supplier=S', { 'content-type': 'application/x-www-form-urlencoded' }), 415, 'wrong-kind-of-body'],
      ['an unknown address', { method: 'GET', url: '/api/nothing/here' }, 404, 'no-such-address'],
      ['an address outside the API', { method: 'GET', url: '/nothing' }, 404, 'no-such-address'],
      ['a method the address has not', { method: 'DELETE', url: '/api/deliveries' }, 404, 'no-such-address'],
      ['an address that cannot be decoded', { method: 'GET', url: '/api/deliveries/%zz' }, 400, 'malformed'],
      ['an address that is half a character', { method: 'GET', url: '/api/deliveries/%ff' }, 400, 'malformed'],
      ['a control character in the address', { method: 'GET', url: '/api/deliveries/D%00' }, 400, 'control-character'],
      ['a control character in the query', { method: 'GET', url: '/api/trace?lot=A%00' }, 400, 'control-character'],
      ['a record that is not there', { method: 'GET', url: '/api/deliveries/D-9999' }, 404, 'delivery-unknown'],
      ['nobody', { method: 'GET', url: '/api/deliveries', cookies: {} }, 401, 'not-signed-in'],
      ['a session that never was', { method: 'GET', url: '/api/deliveries', cookies: { [SESSION_COOKIE]: 'x' } }, 401, 'not-signed-in'],
      ['somebody else', { method: 'GET', url: '/api/keys' }, 403, 'role-needed'],
    ])('%s', async (_what, asked, status, code) => {
      const body = await problem(asked);
      expect([body.status, body.type]).toEqual([status, `/problems/${code}`]);
    });

    it.each([
      ['no lines at all', {}, 'lines must be an array'],
      ['lines that are no list', { lines: 3 }, 'lines must be an array'],
      ['a list without a line', { lines: [] }, 'lines must contain at least 1 elements'],
    ])('says one thing of %s', async (_what, more, detail) => {
      const { reasons } = await problem(deliver(JSON.stringify(more)));
      expect(reasons.filter((reason) => reason.pointer === '/lines').map((reason) => reason.detail)).toEqual([detail]);
    });

    it('names every faulty field of a body at once', async () => {
      const body = await problem(
        deliver(JSON.stringify({ supplier: 'S\u0007', document: '', surprise: 1, lines: [{ item: ' X', quantity: 5 }, 'line'] })),
      );
      expect(body.status).toBe(400);
      const pointers = new Set(body.reasons.map((reason) => reason.pointer));
      for (const pointer of ['/supplier', '/document', '/surprise', '/documentType', '/lines/0/item', '/lines/0/quantity', '/lines/1']) {
        expect(
          [...pointers].some((one) => one?.startsWith(pointer)),
          `${pointer} in ${[...pointers].join(' ')}`,
        ).toBe(true);
      }
      expect(body.reasons.find((reason) => reason.pointer === '/supplier')!.detail).toMatch(/control character/);
    });
  });

  it('is alive and ready, for anyone who asks', async () => {
    const alive = await plant.app.inject({ url: '/api/health' });
    expect([alive.statusCode, alive.json()]).toEqual([200, { alive: true }]);
    const ready = await plant.app.inject({ url: '/api/ready' });
    expect([ready.statusCode, ready.json()]).toEqual([200, { ready: true, seq: 16 }]);
  });

  it('carries a request id and the headers that keep a page safe, without forcing TLS', async () => {
    const { headers } = await plant.app.inject({ url: '/api/health' });
    expect(headers['x-request-id']).toMatch(/^[0-9a-f-]{36}$/);
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['cache-control']).toBe('no-store');
    expect(headers['strict-transport-security']).toBeUndefined();
    expect(headers['content-security-policy']).toContain("default-src 'self'");
    expect(headers['content-security-policy']).not.toContain('upgrade-insecure-requests');
  });

  it('finds a code with every kind of character in the address', async () => {
    const code = 'Ä/é %?#'.repeat(9).slice(0, 63) + 'x';
    expect(code).toHaveLength(64);
    const body = await problem({ method: 'GET', url: `/api/deliveries/${encodeURIComponent(code)}` });
    expect(body.detail).toBe(`no delivery ${code}`);
  });
});

describe('the limits', () => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant('sqlite', { requestsPerMinute: 40, triesPerMinute: 5 });
  });
  afterAll(() => plant.stop());

  it('answers 429 with the seconds to wait, to that client only, before asking who it is', async () => {
    const from = (remoteAddress: string, url = '/api/deliveries') => plant.app.inject({ url, remoteAddress });
    const statuses: number[] = [];
    for (let i = 0; i < 42; i++) statuses.push((await from('10.0.0.1')).statusCode);
    expect(statuses.slice(0, 40)).toEqual(Array.from({ length: 40 }, () => 401));
    expect(statuses.slice(40)).toEqual([429, 429]);
    const refused = await from('10.0.0.1');
    expect(refused.json<ProblemBody>()).toMatchObject({ type: '/problems/too-many-tries', reasons: [{ code: 'too-many-tries' }] });
    expect(Number(refused.headers['retry-after'])).toBeGreaterThan(50);
    expect((await from('10.0.0.2')).statusCode).toBe(401);
    expect((await from('10.0.0.1', '/api/health')).statusCode).toBe(200); // whoever watches the server is never turned away
  });

  it('allows fewer tries at sign-in, over all codes together', async () => {
    const statuses: number[] = [];
    for (let i = 0; i < 7; i++) {
      const payload = { person: `guess-${i}`, password: PASSWORD };
      statuses.push((await plant.app.inject({ method: 'POST', url: '/api/sign-in', remoteAddress: '10.0.0.3', payload })).statusCode);
    }
    expect(statuses).toEqual([401, 401, 401, 401, 401, 429, 429]);
  });
});

describe('the API document', () => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant('sqlite');
  });
  afterAll(() => plant.stop());

  interface Operation {
    operationId: string;
    summary?: string;
    security?: unknown[];
    responses: Record<string, unknown>;
  }
  interface Document {
    openapi: string;
    paths: Record<string, Record<string, Operation>>;
    components: { securitySchemes: Record<string, unknown>; responses: Record<string, unknown> };
  }

  it('is OpenAPI 3.1, tells of every route, and of problems and who may call', async () => {
    const answer = await plant.app.inject({ url: '/api/openapi.json' });
    const document = answer.json<Document>();
    expect(document.openapi).toBe('3.1.0');
    const told = Object.entries(document.paths).flatMap(([path, methods]) =>
      Object.keys(methods).map((method) => `${method.toUpperCase()} ${path.replaceAll(/\{(\w+)\}/g, ':$1')}`),
    );
    expect(told.toSorted()).toEqual(
      plant
        .routes()
        .map(({ method, url }) => `${method} ${url}`)
        .toSorted(),
    );
    const operations = Object.values(document.paths).flatMap((methods) => Object.values(methods));
    const ids = operations.map((operation) => operation.operationId);
    expect(ids.filter((id, i) => ids.indexOf(id) !== i)).toEqual([]);
    for (const operation of operations) expect(operation.responses['default']).toEqual({ $ref: '#/components/responses/Problem' });
    expect(document.components.responses['Problem']).toMatchObject({ content: { 'application/problem+json': {} } });
    expect(Object.keys(document.components.securitySchemes)).toEqual(['session', 'key']);
    expect(document.paths['/api/health']!['get']!.security).toEqual([]);
    expect(document.paths['/api/deliveries']!['get']!.security).toBeUndefined();
  });

  it('has a page to read it, all of whose parts come from this server', async () => {
    const page = await plant.app.inject({ url: '/api/docs' });
    expect(page.statusCode).toBe(200);
    const parts = [...page.body.matchAll(/(?:src|href)="([^"]+)"/g)].map((match) => match[1]!);
    expect(parts.length).toBeGreaterThan(3);
    for (const part of parts) {
      const { pathname, host } = new URL(part, 'http://here/api/docs');
      expect(host).toBe('here');
      const answer = await plant.app.inject({ url: pathname });
      expect(answer.statusCode, pathname).toBe(200);
    }
    expect(page.body).not.toMatch(/<script>[^<]*\S/); // an inline script would be stopped by the content security policy
    const init = await plant.app.inject({ url: '/api/docs/swagger-ui-init.js' });
    expect(init.body).toContain('"validatorUrl": null');
  });
});

describe('stopping', () => {
  it('lets a request under way finish, takes no new one, and closes the database', async () => {
    const plant = await startPlant('sqlite');
    await plant.app.listen(0, '127.0.0.1');
    const { port } = plant.app.getHttpServer().address() as AddressInfo;
    const body = JSON.stringify({ person: 'clerk-1', password: PASSWORD });
    const answered = new Promise<number>((resolve, reject) => {
      const headers = { 'content-type': 'application/json', 'content-length': Buffer.byteLength(body) };
      const sent = rawRequest({ port, host: '127.0.0.1', method: 'POST', path: '/api/sign-in', headers }, (answer) => {
        answer.resume();
        resolve(answer.statusCode ?? 0);
      });
      sent.on('error', reject);
      sent.write(body.slice(0, 10));
      setTimeout(() => sent.end(body.slice(10)), 300);
    });
    await new Promise((resolve) => setTimeout(resolve, 100));
    const stopped = plant.stop();
    expect(await answered).toBe(200);
    await stopped;
    await expect(fetch(`http://127.0.0.1:${port}/api/health`)).rejects.toThrow(/fetch failed/);
    expect(plant.app.get(Reader).source.isInitialized).toBe(false);
  });
});

describe('not ready', () => {
  it('says 503 when the database does not answer, and is alive all the same', async () => {
    const plant = await startPlant('sqlite', { logLevel: 'silent' });
    await plant.app.get(Reader).source.destroy();
    const ready = await plant.app.inject({ url: '/api/ready' });
    expect([ready.statusCode, ready.json<ProblemBody>().type]).toEqual([503, '/problems/not-ready']);
    expect((await plant.app.inject({ url: '/api/health' })).statusCode).toBe(200);
    await plant.app.get(Reader).source.initialize();
    expect((await plant.app.inject({ url: '/api/ready' })).statusCode).toBe(200);
    await plant.stop();
  });
});
