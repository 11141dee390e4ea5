import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PeopleService } from '../../src/server/plant/people/people.service.js';
import { SetUpService } from '../../src/server/plant/people/set-up.service.js';
import { DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { expectRebuildEqual } from '../rebuild.js';

describe.each(DATABASES)('the first start on %s', (database) => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant(database, {}, 'none');
  });
  afterAll(async () => {
    await expectRebuildEqual(plant);
    await plant.stop();
  });

  /** Who became the first administrator. */
  let first: string;
  const setUp = (code: string, password = PASSWORD, person = 'first') =>
    plant.app.inject({ method: 'POST', url: '/api/set-up', payload: { code, person, displayName: 'First One', password } });
  const prepare = () => plant.app.get(SetUpService).prepare();

  it('knows nobody and lets nobody in (P-6)', async () => {
    const answer = await plant.app.inject({ method: 'POST', url: '/api/sign-in', payload: { person: 'admin', password: 'admin' } });
    expect(answer.statusCode).toBe(401);
    expect((await setUp('')).statusCode).toBe(403); // no code was made yet
  });

  it('makes the first administrator with the code of the last start, once (P-6)', async () => {
    const [earlier, code] = [await prepare(), await prepare()];
    expect(code).toMatch(/^([2-9A-HJKMNP-Z]{5}-){3}[2-9A-HJKMNP-Z]{5}$/);
    expect((await setUp(earlier!)).statusCode).toBe(403);
    expect((await setUp(code!, 'short')).statusCode).toBe(409); // the code is not used up by that
    const both = await Promise.all([setUp(code!.toLowerCase()), setUp(code!, PASSWORD, 'second')]);
    expect(both.map((answer) => answer.statusCode).toSorted((a, b) => a - b)).toEqual([201, 403]); // whichever came first
    first = both[0].statusCode === 201 ? 'first' : 'second';
    expect(both.find(({ statusCode }) => statusCode === 201)?.json()).toEqual({
      person: first,
      displayName: 'First One',
      roles: ['administrator'],
      blocked: false,
      signsIn: true,
    });
    expect((await setUp(code!, PASSWORD, 'third')).statusCode).toBe(403);
    expect(await prepare()).toBeNull();
  });

  it('never loses its last administrator (P-8)', async () => {
    const people = plant.app.get(PeopleService);
    const actor = { person: first, roles: ['administrator'] as const };
    await expect(people.block(actor, first, { reason: 'by mistake' })).rejects.toMatchObject({
      reasons: [{ code: 'last-administrator' }],
    });
    await expect(people.changeRoles(actor, first, { roles: ['clerk'], reason: 'by mistake' })).rejects.toMatchObject({
      reasons: [{ code: 'last-administrator' }],
    });
    await people.add(actor, { person: 'other', roles: ['administrator'], password: PASSWORD });
    await people.block(actor, first, { reason: 'left' });
  });
});
