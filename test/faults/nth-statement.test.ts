import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogueFernhollow } from '../fernhollow.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';
import { wait } from '../making.js';
import { expectRebuildEqual } from '../rebuild.js';
import { beforeTheStory, NO_COMMANDS, send, STORY } from './commands.js';
import { everything, mark } from './everything.js';
import { type Failing, failingWriter } from './failing.js';
import type { Told } from './step.js';

/** No command has so many statements: more means that the failing one is never reached. */
const MOST_STATEMENTS = 2000;

describe.each(DATABASES)('a command of which the n-th statement fails, on %s', (database) => {
  let plant: Plant;
  let failing: Failing;
  const told: Told = {};
  beforeAll(async () => {
    plant = await startPlant(database, { logLevel: 'fatal' });
    await catalogueFernhollow(plant);
    await beforeTheStory(plant);
    failing = failingWriter(plant);
  });
  afterAll(() => plant.stop());

  it('is tried with every kind of command there is', () => {
    const commands = plant
      .routes()
      .filter(({ method }) => method === 'POST')
      .map(({ method, url }) => `${method} ${url}`)
      .filter((route) => !NO_COMMANDS.has(route));
    const inStory = new Set(STORY.map((step) => step.route));
    expect(commands.filter((route) => !inStory.has(route))).toEqual([]);
  });

  it.each(STORY.map((step) => [`${step.route}${step.what ? ` (${step.what})` : ''}`, step] as const))(
    'leaves everything as it was, for every n: %s',
    async (_name, step) => {
      if (step.after !== undefined) wait(plant, step.after);
      const before = await everything(plant);
      let seen = await mark(plant);
      const failed: string[] = [];
      for (let n = 1; n < MOST_STATEMENTS; n += 1) {
        failing.failAt(n);
        const answer = await send(plant, step, told);
        const statement = failing.failed();
        if (statement === null) {
          expect(answer.status, JSON.stringify(answer.body)).toBeLessThan(300);
          step.keep?.(answer.body as never, told);
          break;
        }
        failed.push(statement);
        expect(answer.status, statement).toBe(500);
        const now = await mark(plant);
        if (now === seen) continue;
        expect(await everything(plant), `after failing statement ${n}: ${statement}`).toEqual(before);
        seen = now;
      }
      failing.failAt(0);
      // it was tried from the first statement of the transaction to its last
      expect(failed.some((sql) => /^(BEGIN|START) TRANSACTION/.test(sql))).toBe(true);
      expect(failed.at(-1)).toBe('COMMIT');
      expect(await everything(plant)).not.toEqual(before);
    },
    240_000,
  );

  it('leaves a record that a rebuild makes again', () => expectRebuildEqual(plant));
});
