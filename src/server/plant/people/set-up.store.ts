import type { EntityManager } from 'typeorm';
import { insertRows, queryRows } from '../../platform/database/rows.js';

/** Keeps the hash of the set-up code; one that was there before is void. */
export async function keepSetUpCode(tx: EntityManager, hash: string, at: string): Promise<void> {
  await dropSetUpCode(tx);
  await insertRows(tx, 'set_up_code', ['id', 'code_hash', 'made_at'], [[1, hash, at]]);
}

export async function setUpCodeHash(tx: EntityManager): Promise<string | undefined> {
  const [row] = await queryRows<{ code_hash: string }>(tx, 'SELECT "code_hash" FROM "set_up_code" WHERE "id" = 1');
  return row?.code_hash;
}

export async function dropSetUpCode(tx: EntityManager): Promise<void> {
  await queryRows(tx, 'DELETE FROM "set_up_code" WHERE "id" = 1');
}
