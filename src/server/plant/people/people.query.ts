import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import type { PersonState, Role } from './people.facts.js';

interface Row {
  code: string;
  roles: string;
  blocked: number | boolean;
}

const state = (row: Row): PersonState => ({
  person: row.code,
  roles: JSON.parse(row.roles) as Role[],
  blocked: Boolean(row.blocked),
});

export async function personState(tx: EntityManager, person: string): Promise<PersonState | undefined> {
  const [row] = await queryRows<Row>(tx, 'SELECT "code", "roles", "blocked" FROM "person" WHERE "code" = ?', [person]);
  return row && state(row);
}

export async function personStates(tx: EntityManager): Promise<PersonState[]> {
  const rows = await queryRows<Row>(tx, 'SELECT "code", "roles", "blocked" FROM "person" ORDER BY "code"');
  return rows.map(state);
}

/** Persons who can act as administrator now. */
export async function administrators(tx: EntityManager): Promise<string[]> {
  const states = await personStates(tx);
  return states.filter((one) => !one.blocked && one.roles.includes('administrator')).map((one) => one.person);
}
