import type { EntityManager } from 'typeorm';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows, queryRows } from '../../platform/database/rows.js';
import type { PersonAdded, PersonBlocked, PersonRolesChanged, PersonUnblocked } from './people.facts.js';

export const projectPeople = {
  async PersonAdded(tx: EntityManager, { seq, fact }: Recorded<PersonAdded>): Promise<void> {
    await insertRows(tx, 'person', ['code', 'roles', 'blocked', 'added_seq'], [[fact.person, JSON.stringify(fact.roles), false, seq]]);
  },

  async PersonRolesChanged(tx: EntityManager, { fact }: Recorded<PersonRolesChanged>): Promise<void> {
    await queryRows(tx, 'UPDATE "person" SET "roles" = ? WHERE "code" = ?', [JSON.stringify(fact.roles), fact.person]);
  },

  async PersonBlocked(tx: EntityManager, { fact }: Recorded<PersonBlocked>): Promise<void> {
    await queryRows(tx, 'UPDATE "person" SET "blocked" = ? WHERE "code" = ?', [true, fact.person]);
  },

  async PersonUnblocked(tx: EntityManager, { fact }: Recorded<PersonUnblocked>): Promise<void> {
    await queryRows(tx, 'UPDATE "person" SET "blocked" = ? WHERE "code" = ?', [false, fact.person]);
  },
};
