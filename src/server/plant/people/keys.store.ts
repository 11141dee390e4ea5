import type { EntityManager } from 'typeorm';
import { insertRows, queryRows } from '../../platform/database/rows.js';
import type { Actor } from './access.js';
import type { Role } from './people.facts.js';
import { newToken, tokenHash } from './tokens.js';

/** A key as it may be shown: never its token. */
interface KeyRow {
  readonly id: string;
  readonly person: string;
  readonly role: Role | null;
  readonly label: string;
  readonly createdBy: string;
  readonly createdAt: string;
  readonly revokedBy: string | null;
  readonly revokedAt: string | null;
}

interface Row {
  id: string;
  person: string;
  role: Role | null;
  label: string;
  created_by: string;
  created_at: string;
  revoked_by: string | null;
  revoked_at: string | null;
}

const shown = (row: Row): KeyRow => ({
  id: row.id,
  person: row.person,
  role: row.role,
  label: row.label,
  createdBy: row.created_by,
  createdAt: row.created_at,
  revokedBy: row.revoked_by,
  revokedAt: row.revoked_at,
});

/** Whom a key acts as, when it is good: all roles of its person, or the one it is narrowed to as long as the person has it. */
export async function findKey(tx: EntityManager, token: string): Promise<Actor | undefined> {
  const [row] = await queryRows<{ person: string; role: Role | null; roles: string }>(
    tx,
    `SELECT k."person", k."role", p."roles" FROM "api_key" k JOIN "person" p ON p."code" = k."person"
     WHERE k."token_hash" = ? AND k."revoked_at" IS NULL AND p."blocked" = ?`,
    [tokenHash(token), false],
  );
  if (!row) return undefined;
  const roles = JSON.parse(row.roles) as Role[];
  return { person: row.person, roles: row.role === null ? roles : roles.filter((role) => role === row.role) };
}

/** Makes a key and answers its token, which is shown once and not stored. */
export async function addKey(
  tx: EntityManager,
  key: Pick<KeyRow, 'id' | 'person' | 'role' | 'label' | 'createdBy' | 'createdAt'>,
): Promise<string> {
  const token = newToken();
  await insertRows(
    tx,
    'api_key',
    ['id', 'token_hash', 'person', 'role', 'label', 'created_by', 'created_at'],
    [[key.id, tokenHash(token), key.person, key.role, key.label, key.createdBy, key.createdAt]],
  );
  return token;
}

export async function keys(tx: EntityManager): Promise<KeyRow[]> {
  const rows = await queryRows<Row>(tx, 'SELECT * FROM "api_key" ORDER BY "created_at", "id"');
  return rows.map(shown);
}

export async function keyOf(tx: EntityManager, id: string): Promise<KeyRow | undefined> {
  const [row] = await queryRows<Row>(tx, 'SELECT * FROM "api_key" WHERE "id" = ?', [id]);
  return row && shown(row);
}

export async function revokeKey(tx: EntityManager, id: string, by: string, at: string): Promise<void> {
  await queryRows(tx, 'UPDATE "api_key" SET "revoked_by" = ?, "revoked_at" = ? WHERE "id" = ? AND "revoked_at" IS NULL', [by, at, id]);
}
