import type { EntityManager } from 'typeorm';
import { selectIn } from '../../platform/database/rows.js';

/** Those of the hashes under which a file is stored. */
export async function knownFiles(tx: EntityManager, hashes: readonly string[]): Promise<Set<string>> {
  const rows = await selectIn<{ sha256: string }>(tx, 'SELECT "sha256" FROM "stored_file" WHERE "sha256" IN (:list)', [...new Set(hashes)]);
  return new Set(rows.map((row) => row.sha256));
}
