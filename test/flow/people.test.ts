import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Signatures } from '../../src/server/plant/people/signature.js';
import { DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';

describe.each(DATABASES)('people on %s', (database) => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant(database);
  });
  afterAll(() => plant.stop());

  const signIn = (person: string, password: string) =>
    plant.app.inject({ method: 'POST', url: '/api/sign-in', payload: { person, password } });

  it('signs in with code and password, says who is signed in, and signs out (P-2)', async () => {
    const answer = await signIn('quality-1', PASSWORD);
    expect(answer.statusCode).toBe(200);
    expect(answer.json()).toEqual({ person: 'quality-1', displayName: null, roles: ['quality'] });
    const cookie = answer.cookies[0]!;
    expect(cookie).toMatchObject({ httpOnly: true, sameSite: 'Strict', path: '/' });
    expect(cookie['secure']).toBeUndefined(); // plain HTTP: a secure cookie would never come back
    const cookies = { [cookie.name]: cookie.value };
    const me = await plant.app.inject({ url: '/api/me', cookies });
    expect(me.json()).toMatchObject({ person: 'quality-1' });
    await plant.app.inject({ method: 'POST', url: '/api/sign-out', cookies });
    const after = await plant.app.inject({ url: '/api/me', cookies });
    expect(after.statusCode).toBe(401);
  });

  it('signs with the password given again, and refuses a wrong one (P-9)', async () => {
    const signatures = plant.app.get(Signatures);
    const signature = await signatures.sign('quality-2', PASSWORD, 'released after inspection');
    expect(signature).toEqual({ by: 'quality-2', at: plant.clock.now(), meaning: 'released after inspection' });
    await expect(signatures.sign('quality-2', 'a wrong test password', 'released')).rejects.toMatchObject({
      kind: 'forbidden',
      reasons: [{ code: 'signature-refused' }],
    });
  });
});
