import type { EntityManager } from 'typeorm';
import { selectIn } from '../../platform/database/rows.js';

/** Lot code to database id, for codes the ledger says exist. */
export async function lotIds(tx: EntityManager, lots: Iterable<string>): Promise<Map<string, number>> {
  const codes = [...new Set(lots)];
  const rows = await selectIn<{ id: number; code: string }>(tx, 'SELECT "id", "code" FROM "lot" WHERE "code" IN (:list)', codes);
  if (rows.length !== codes.length) throw new Error('the ledger names a lot that no entry brought into being');
  return new Map(rows.map((row) => [row.code, row.id]));
}
