import type { EntityManager } from 'typeorm';
import { insertRows, queryRows } from '../../platform/database/rows.js';

/** What a person is called and the hash of their password. */
export interface Account {
  readonly person: string;
  readonly displayName: string | null;
  readonly passwordHash: string | null;
}

interface Row {
  person: string;
  display_name: string | null;
  password_hash: string | null;
}

const account = (row: Row): Account => ({ person: row.person, displayName: row.display_name, passwordHash: row.password_hash });

export async function accountOf(tx: EntityManager, person: string): Promise<Account | undefined> {
  const [row] = await queryRows<Row>(tx, 'SELECT * FROM "person_account" WHERE "person" = ?', [person]);
  return row && account(row);
}

export async function accounts(tx: EntityManager): Promise<Map<string, Account>> {
  const rows = await queryRows<Row>(tx, 'SELECT * FROM "person_account" ORDER BY "person"');
  return new Map(rows.map((row) => [row.person, account(row)]));
}

export async function addAccount(tx: EntityManager, { person, displayName, passwordHash }: Account, at: string): Promise<void> {
  await insertRows(
    tx,
    'person_account',
    ['person', 'display_name', 'password_hash', 'password_set_at'],
    [[person, displayName, passwordHash, passwordHash === null ? null : at]],
  );
}

export async function setPasswordHash(tx: EntityManager, person: string, hash: string, at: string): Promise<void> {
  await queryRows(tx, 'UPDATE "person_account" SET "password_hash" = ?, "password_set_at" = ? WHERE "person" = ?', [hash, at, person]);
}

/** Sets what a person is called; null erases the name. Entries keep the code, which then stands for nobody. */
export async function setDisplayName(tx: EntityManager, person: string, displayName: string | null): Promise<void> {
  await queryRows(tx, 'UPDATE "person_account" SET "display_name" = ? WHERE "person" = ?', [displayName, person]);
}
