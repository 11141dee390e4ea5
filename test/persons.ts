import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { addAccount } from '../src/server/plant/people/accounts.store.js';
import { ROLES } from '../src/server/plant/people/access.js';
import { Commands } from '../src/server/plant/commands.js';
import { hashPassword } from '../src/server/plant/people/passwords.js';
import type { PersonAdded } from '../src/server/plant/people/people.facts.js';
import { openSession } from '../src/server/plant/people/sessions.store.js';

/** The password of every person in tests. */
export const PASSWORD = 'a long test password';

/** Longer than any test's clock goes. */
const ALWAYS = '9999-12-31T00:00:00.000Z';

/** Adds two persons for each role, `<role>-1` and `<role>-2`, and answers a session token for each. One command, sixteen entries. */
export async function addPersons(app: NestFastifyApplication, scryptCost: number): Promise<ReadonlyMap<string, string>> {
  const persons = ROLES.flatMap((role) => [1, 2].map((which) => ({ person: `${role}-${which}`, roles: [role] })));
  const passwordHash = await hashPassword(PASSWORD, scryptCost);
  const sessions = new Map<string, string>();
  await app.get(Commands).run({ person: 'administrator-1', roles: ['administrator'] }, {}, async (tx, record, at) => {
    await record(persons.map((one): PersonAdded => ({ kind: 'PersonAdded', v: 1, ...one })));
    for (const { person } of persons) {
      await addAccount(tx, { person, displayName: null, passwordHash }, at);
      sessions.set(person, await openSession(tx, person, at, ALWAYS));
    }
    return {};
  });
  return sessions;
}
