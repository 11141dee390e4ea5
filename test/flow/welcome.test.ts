import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SESSION_COOKIE } from '../../src/server/plant/people/session-cookie.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';

interface Welcome {
  readonly plant: string;
  readonly demo: { readonly password: string; readonly people: readonly { readonly person: string; readonly blocked: boolean }[] } | null;
  readonly hasPeople: boolean;
  readonly me: Me | null;
}
interface Me {
  readonly person: string;
  readonly roles: readonly string[];
  readonly plant: { readonly name: string; readonly demo: boolean };
}

const welcome = async (plant: Plant, token?: string): Promise<Welcome> => {
  const cookies: Record<string, string> = token === undefined ? {} : { [SESSION_COOKIE]: token };
  const answer = await plant.app.inject({ url: '/api/welcome', cookies });
  expect(answer.statusCode, answer.body).toBe(200);
  return answer.json<Welcome>();
};

describe.each(DATABASES)('before the sign-in on %s', (database) => {
  let real: Plant;
  let demo: Plant;
  beforeAll(async () => {
    real = await startPlant(database, { plantName: 'Elmsworth Works' });
    demo = await startPlant(database, { plantName: 'Fernhollow Works', demo: true });
  });
  afterAll(async () => {
    await real.stop();
    await demo.stop();
  });

  it('a plant says its name to anybody, and neither its people nor any password', async () => {
    const { plant, demo: shown, hasPeople, me } = await welcome(real);
    expect([plant, shown, hasPeople, me]).toEqual(['Elmsworth Works', null, true, null]);
    expect((await real.as('clerk').get<Me>('/api/me')).body.plant).toEqual({ name: 'Elmsworth Works', demo: false });
  });

  it('a demonstration says that it is one, and who can try it', async () => {
    expect((await demo.as('quality').post('/api/people/clerk-2/block', { reason: 'left' })).status).toBe(403);
    expect((await demo.as('administrator').post('/api/people/clerk-2/block', { reason: 'left' })).status).toBe(200);
    const { plant, demo: shown } = await welcome(demo);
    expect(plant).toBe('Fernhollow Works');
    expect(shown!.password.length).toBeGreaterThan(11);
    const people = shown!.people.map(({ person }) => person);
    expect(people).toEqual(expect.arrayContaining(['clerk-1', 'quality-1']));
    expect(people).not.toContain('clerk-2');
    expect((await demo.as('clerk').get<Me>('/api/me')).body.plant).toEqual({ name: 'Fernhollow Works', demo: true });
  });

  it('who is signed in is told who they are', async () => {
    expect((await welcome(real, 'no such session')).me).toBeNull();
    expect((await welcome(real, real.sessionOf('quality-1'))).me).toMatchObject({
      person: 'quality-1',
      roles: ['quality'],
      plant: { demo: false },
    });
  });
});
