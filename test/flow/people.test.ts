import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { KeysService } from '../../src/server/plant/people/keys.service.js';
import { Signatures } from '../../src/server/plant/people/signature.js';
import { minutesAfter } from '../../src/server/platform/clock.js';
import { Reader } from '../../src/server/platform/database/reader.js';
import { createApp } from '../../src/server/app.js';
import { type Answer, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { expectRebuildEqual } from '../rebuild.js';

interface ProblemBody {
  reasons: { code: string; detail: string; pointer?: string }[];
}
const codes = (answer: Answer<ProblemBody>): string[] => answer.body.reasons.map((reason) => reason.code);

describe.each(DATABASES)('people on %s', (database) => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant(database);
  });
  afterAll(async () => {
    await expectRebuildEqual(plant);
    await plant.stop();
  });

  const signIn = (person: string, password: string) =>
    plant.app.inject({ method: 'POST', url: '/api/sign-in', payload: { person, password } });
  const sessionCookie = async (person: string, password = PASSWORD): Promise<Record<string, string>> => {
    const answer = await signIn(person, password);
    expect(answer.statusCode, answer.body).toBe(200);
    return { [answer.cookies[0]!.name]: answer.cookies[0]!.value };
  };
  const me = async (cookies: Record<string, string>): Promise<number> => (await plant.app.inject({ url: '/api/me', cookies })).statusCode;
  const withKey = (key: string, url: string, payload?: object) =>
    plant.app.inject({ method: payload ? 'POST' : 'GET', url, headers: { authorization: `Bearer ${key}` }, ...(payload && { payload }) });
  const add = (person: string, roles: string[], more: object = {}) =>
    plant.as('administrator').post<ProblemBody>('/api/people', { person, roles, password: PASSWORD, ...more });

  describe('sessions', () => {
    it('signs in with code and password, says who is signed in, and signs out (P-2)', async () => {
      const answer = await signIn('quality-1', PASSWORD);
      expect(answer.json()).toEqual({
        person: 'quality-1',
        displayName: null,
        roles: ['quality'],
        plant: { name: 'The plant', demo: false },
      });
      const cookie = answer.cookies[0]!;
      expect(cookie).toMatchObject({ httpOnly: true, sameSite: 'Strict', path: '/' });
      expect(cookie['secure']).toBeUndefined(); // plain HTTP: a secure cookie would never come back
      const cookies = { [cookie.name]: cookie.value };
      expect(await me(cookies)).toBe(200);
      await plant.app.inject({ method: 'POST', url: '/api/sign-out', cookies });
      expect(await me(cookies)).toBe(401);
    });

    it('marks the cookie secure when the request came over TLS (P-2)', async () => {
      const answer = await plant.app.inject({
        method: 'POST',
        url: '/api/sign-in',
        headers: { 'x-forwarded-proto': 'https' },
        payload: { person: 'quality-1', password: PASSWORD },
      });
      expect(answer.cookies[0]).toMatchObject({ secure: true });
    });

    it('stores neither token nor password, only hashes (P-4, P-5)', async () => {
      const [token] = Object.values(await sessionCookie('clerk-1'));
      const manager = plant.app.get(Reader).manager;
      const kept = JSON.stringify([
        await manager.query('SELECT * FROM "session"'),
        await manager.query('SELECT * FROM "person_account"'),
        await manager.query('SELECT * FROM "command_done"'),
        await manager.query('SELECT * FROM "ledger_entry"'),
      ]);
      expect(kept).toContain('clerk-1');
      expect(kept).toContain('scrypt$16$');
      expect(kept).not.toContain(token);
      expect(kept).not.toContain(PASSWORD);
    });

    it('ends a session that was not used for twelve hours, and keeps a used one (P-5)', async () => {
      const [idle, used] = [await sessionCookie('operator-1'), await sessionCookie('operator-1')];
      const start = plant.clock.now();
      plant.clock.set(minutesAfter(start, 8 * 60));
      expect(await me(used)).toBe(200);
      plant.clock.set(minutesAfter(start, 13 * 60));
      expect(await me(idle)).toBe(401);
      expect(await me(used)).toBe(200);
    });

    it('ends every session after seven days, used or not (P-5)', async () => {
      const cookies = await sessionCookie('operator-1');
      const start = plant.clock.now();
      for (let hours = 10; hours < 168; hours += 10) {
        plant.clock.set(minutesAfter(start, hours * 60));
        expect(await me(cookies), `after ${hours} hours`).toBe(200);
      }
      plant.clock.set(minutesAfter(start, 168 * 60));
      expect(await me(cookies)).toBe(401);
    });

    it('changes the own password, which ends the other sessions and not this one (P-5)', async () => {
      await add('dora', ['clerk']);
      const [mine, other] = [await sessionCookie('dora'), await sessionCookie('dora')];
      const change = (currentPassword: string, newPassword: string) =>
        plant.app.inject({ method: 'POST', url: '/api/me/password', cookies: mine, payload: { currentPassword, newPassword } });
      expect((await change('not my password at all', 'another long password')).statusCode).toBe(401);
      expect((await change(PASSWORD, 'too short')).json<ProblemBody>().reasons).toMatchObject([
        { code: 'password-too-short', pointer: '/newPassword' },
      ]);
      expect((await change(PASSWORD, 'another long password')).statusCode).toBe(200);
      expect([await me(mine), await me(other)]).toEqual([200, 401]);
      expect((await signIn('dora', PASSWORD)).statusCode).toBe(401);
      await sessionCookie('dora', 'another long password');
    });

    it('does not act for a page of another site, even with the cookie (P-2)', async () => {
      const cookies = await sessionCookie('administrator-1');
      const answer = await plant.app.inject({
        method: 'POST',
        url: '/api/people',
        cookies,
        headers: { 'sec-fetch-site': 'cross-site' },
        payload: { person: 'mallory', roles: ['administrator'] },
      });
      expect(answer.statusCode).toBe(403);
      expect(answer.json<ProblemBody>().reasons[0]!.code).toBe('foreign-page');
    });
  });

  describe('lockout', () => {
    const lockedAfter = async (person: string): Promise<number[]> => {
      const statuses: number[] = [];
      for (let i = 0; i < 6; i++) statuses.push((await signIn(person, 'a wrong long password')).statusCode);
      return statuses;
    };

    it('locks a code after five wrong passwords, the right one included, and opens it after a minute (P-10)', async () => {
      await add('lena', ['clerk']);
      expect(await lockedAfter('lena')).toEqual([401, 401, 401, 401, 429, 429]);
      const locked = await signIn('lena', PASSWORD);
      expect(locked.statusCode).toBe(429);
      expect(locked.headers['retry-after']).toBe('60');
      expect(locked.json<ProblemBody>().reasons[0]!.code).toBe('locked-out');
      plant.clock.set(minutesAfter(plant.clock.now(), 2));
      expect((await signIn('lena', 'a wrong long password')).headers['retry-after']).toBe('120'); // each further one doubles it
      plant.clock.set(minutesAfter(plant.clock.now(), 3));
      expect((await signIn('lena', PASSWORD)).statusCode).toBe(200);
      expect((await signIn('lena', 'a wrong long password')).statusCode).toBe(401); // counted from nothing again
    });

    it('answers for a code that is nobody as for one that is somebody (P-10)', async () => {
      const first = await signIn('nobody-at-all', 'a wrong long password');
      const known = await signIn('clerk-2', 'a wrong long password');
      expect(first.statusCode).toBe(known.statusCode);
      expect(first.json()).toEqual(known.json());
      expect(await lockedAfter('nobody-else')).toEqual([401, 401, 401, 401, 429, 429]);
    });

    it('counts tries that come all at once (P-10)', async () => {
      await add('rush', ['clerk']);
      const answers = await Promise.all(Array.from({ length: 12 }, () => signIn('rush', 'a wrong long password')));
      expect(answers.filter((answer) => answer.statusCode === 401)).toHaveLength(4);
      expect(answers.filter((answer) => answer.statusCode === 429)).toHaveLength(8);
    });

    it('is opened by a new password from an administrator, which the ledger shows (P-10)', async () => {
      await add('otto', ['clerk']);
      await lockedAfter('otto');
      const answer = await plant.as('administrator').post('/api/people/otto/password', { password: 'a fresh long password' });
      expect(answer.status).toBe(200);
      await sessionCookie('otto', 'a fresh long password');
      const [entry] = await plant.app
        .get(Reader)
        .manager.query<{ kind: string; actor: string; body: string }[]>(
          `SELECT "kind", "actor", "body" FROM "ledger_entry" ORDER BY "seq" DESC LIMIT 1`,
        );
      expect(entry).toMatchObject({ kind: 'PersonPasswordReset', actor: 'administrator-1' });
      expect(entry!.body).not.toContain('fresh');
    });
  });

  it('agrees with another server on the same database: sessions, keys and locks (P-5, P-10)', async () => {
    const other = await createApp(plant.config, plant.clock);
    await other.init();
    await add('twin', ['clerk']);
    const cookies = await sessionCookie('twin');
    expect((await other.inject({ url: '/api/me', cookies })).statusCode).toBe(200);
    const payload = { person: 'twin', password: 'a wrong long password' };
    const statuses: number[] = [];
    for (const app of [plant.app, other, plant.app, other, plant.app, other]) {
      statuses.push((await app.inject({ method: 'POST', url: '/api/sign-in', payload })).statusCode);
    }
    expect(statuses).toEqual([401, 401, 401, 401, 429, 429]);
    await other.inject({ method: 'POST', url: '/api/sign-out', cookies });
    expect(await me(cookies)).toBe(401);
    await other.close();
  });

  describe('signatures', () => {
    it('signs with the password given again and says what it means (P-9)', async () => {
      const signature = await plant.app.get(Signatures).sign('quality-2', PASSWORD, 'released after inspection');
      expect(signature).toEqual({ by: 'quality-2', at: plant.clock.now(), meaning: 'released after inspection' });
    });

    it('refuses a wrong password, and counts it towards the lock (P-9, P-10)', async () => {
      await add('sig', ['quality']);
      const sign = (password: string) => plant.app.get(Signatures).sign('sig', password, 'released');
      for (let i = 0; i < 5; i++) {
        await expect(sign('a wrong long password')).rejects.toMatchObject({ kind: 'forbidden', reasons: [{ code: 'signature-refused' }] });
      }
      await expect(sign(PASSWORD)).rejects.toThrow(/cannot sign before/);
      expect((await signIn('sig', PASSWORD)).statusCode).toBe(429);
    });
  });

  describe('persons', () => {
    it('gives every reason against a new person at once (P-3, P-4)', async () => {
      const answer = await add('clerk-1', ['auditor', 'clerk'], { password: 'short' });
      expect(answer.status).toBe(409);
      expect(codes(answer)).toEqual(['person-exists', 'auditor-stands-alone', 'password-too-short']);
      expect(codes(await add('bartholomew-the-third', ['clerk'], { password: 'Bartholomew-the-Third' }))).toEqual(['password-is-code']);
    });

    it('keeps codes apart that differ by case or leading zeros (P-3)', async () => {
      for (const code of ['ANN', 'ann', '007', '7']) expect((await add(code, ['clerk'])).status).toBe(201);
      const people = await plant.as('auditor').get<{ person: string }[]>('/api/people');
      const listed = people.body.map((one) => one.person);
      expect(listed).toEqual(listed.toSorted());
      expect(listed).toEqual(expect.arrayContaining(['007', '7', 'ANN', 'ann']));
    });

    it('changes roles from the next request on (P-3)', async () => {
      await add('rolf', ['clerk']);
      const cookies = await sessionCookie('rolf');
      const keys = () => plant.app.inject({ url: '/api/keys', cookies });
      expect((await keys()).statusCode).toBe(403);
      await plant.as('administrator').post('/api/people/rolf/roles', { roles: ['auditor'], reason: 'moved to audit' });
      expect((await keys()).statusCode).toBe(200);
    });

    it('shuts a blocked person out at once: session, key, sign-in and signature (P-8)', async () => {
      await add('bea', ['quality']);
      const cookies = await sessionCookie('bea');
      const key = await plant.as('administrator').post<{ key: string }>('/api/keys', { person: 'bea', label: 'a scale' });
      expect((await withKey(key.body.key, '/api/me')).statusCode).toBe(200);
      await plant.as('administrator').post('/api/people/bea/block', { reason: 'left the plant' });
      expect(await me(cookies)).toBe(401);
      expect((await withKey(key.body.key, '/api/me')).statusCode).toBe(401);
      expect((await signIn('bea', PASSWORD)).statusCode).toBe(401);
      await expect(plant.app.get(Signatures).sign('bea', PASSWORD, 'released')).rejects.toThrow(/nothing was signed/);
      await plant.as('administrator').post('/api/people/bea/unblock', { reason: 'came back' });
      expect((await signIn('bea', PASSWORD)).statusCode).toBe(200);
      expect(await me(cookies)).toBe(401); // the old session stays ended
    });

    it('erases a name and leaves the ledger as it was (P-3)', async () => {
      await add('ida', ['clerk'], { displayName: 'Ida Quillfeather' });
      expect((await plant.as('clerk').get<{ displayName: string }>('/api/people/ida')).body.displayName).toBe('Ida Quillfeather');
      const erased = await plant.as('administrator').post<{ displayName: null }>('/api/people/ida/name', {});
      expect(erased.body.displayName).toBeNull();
      const rows = JSON.stringify(await plant.app.get(Reader).manager.query('SELECT "body" FROM "ledger_entry"'));
      expect(rows).toContain('"ida');
      expect(rows).not.toContain('Quillfeather');
    });

    it('carries out a repeated command once (P-3)', async () => {
      const once = { commandId: `add-${database}`, roles: ['clerk'] };
      const first = await add('twice', ['clerk'], once);
      const second = await add('twice', ['clerk'], once);
      expect([first.status, second.status]).toEqual([201, 201]);
      expect(second.body).toEqual(first.body);
    });
  });

  describe('keys', () => {
    const create = (body: object) => plant.as('administrator').post<ProblemBody & { id: string; key: string }>('/api/keys', body);

    it('acts as its person, narrowed to one role, until it is revoked (P-7)', async () => {
      await add('kay', ['clerk', 'quality']);
      const whole = await create({ person: 'kay', label: 'everything' });
      const narrow = await create({ person: 'kay', role: 'clerk', label: 'dock scanner' });
      expect((await withKey(whole.body.key, '/api/me')).json()).toMatchObject({ person: 'kay', roles: ['clerk', 'quality'] });
      expect((await withKey(narrow.body.key, '/api/me')).json()).toMatchObject({ person: 'kay', roles: ['clerk'] });
      await plant.as('administrator').post('/api/people/kay/roles', { roles: ['quality'], reason: 'no longer at the dock' });
      expect((await withKey(narrow.body.key, '/api/me')).statusCode).toBe(403); // a key never has more than its person
      await plant.as('administrator').post(`/api/keys/${whole.body.id}/revoke`);
      expect((await withKey(whole.body.key, '/api/me')).statusCode).toBe(401);
    });

    it('is shown once and never again (P-7)', async () => {
      const made = await create({ person: 'clerk-2', label: 'once' });
      const listed = await plant.as('auditor').get<{ id: string }[]>('/api/keys');
      expect(listed.body.map((key) => key.id)).toContain(made.body.id);
      const everywhere = JSON.stringify([listed.body, await plant.app.get(Reader).manager.query('SELECT * FROM "ledger_entry"')]);
      expect(everywhere).not.toContain(made.body.key);
    });

    it('refuses a role the person has not, an unknown person and a made-up key (P-7)', async () => {
      expect(codes(await create({ person: 'clerk-1', role: 'quality', label: 'x' }))).toEqual(['role-not-held']);
      expect((await create({ person: 'no-such', label: 'x' })).status).toBe(404);
      expect((await withKey('AAAA', '/api/me')).statusCode).toBe(401);
    });

    it('is made on the command line for a program that gets a person of its own (P-7)', async () => {
      const made = await plant.app.get(KeysService).createKey('label-printer', 'clerk');
      expect((await withKey(made.key, '/api/me')).json()).toMatchObject({ person: 'label-printer', roles: ['clerk'] });
      expect((await signIn('label-printer', '')).statusCode).toBe(401);
      const again = await plant.app.get(KeysService).createKey('label-printer', 'clerk');
      expect(again.key).not.toBe(made.key);
      await expect(plant.app.get(KeysService).createKey('label-printer', 'quality')).rejects.toMatchObject({ kind: 'conflict' });
    });
  });
});
