import type { EntityManager } from 'typeorm';
import { isPostgres, queryRows } from '../../src/server/platform/database/rows.js';
import { Session } from '../../src/server/plant/people/people.entity.js';
import { Reader } from '../../src/server/platform/database/reader.js';
import { rowPages, tableColumns } from '../../src/server/record/table-rows.js';
import { KEPT, PROJECTED } from '../../src/server/schema.js';
import type { Plant } from '../harness.js';

const LOOKED_AT = [...PROJECTED, ...KEPT].filter((entity) => entity !== Session);

/**
 * Every committed row of every table, the ledger included, by table. Not the sessions: that a person was seen is noted before the command
 * begins, and stays true when it fails.
 */
export async function everything(plant: Plant): Promise<Map<string, string[]>> {
  const tx: EntityManager = plant.app.get(Reader).manager;
  const found = new Map<string, string[]>();
  for (const table of tableColumns(tx, LOOKED_AT)) {
    const rows: string[] = [];
    for await (const page of rowPages(tx, table)) rows.push(...page.map((row) => JSON.stringify(row)));
    found.set(table.table, rows);
  }
  return found;
}

/**
 * Text that is another one after any committed change to what `everything` reads; the same text twice says that nothing changed. One
 * statement, because it is asked after each of thousands of failures. On SQLite it is the database's own count of other connections'
 * commits, on PostgreSQL the version of each row there is: where it stands and the transaction that wrote it.
 * @see https://sqlite.org/pragma.html#pragma_data_version
 * @see https://www.postgresql.org/docs/18/ddl-system-columns.html
 */
export async function mark(plant: Plant): Promise<string> {
  const tx: EntityManager = plant.app.get(Reader).manager;
  if (!isPostgres(tx)) return JSON.stringify(await queryRows(tx, 'PRAGMA data_version'));
  const tables = tableColumns(tx, LOOKED_AT).map(
    ({ table }) => `SELECT '${table}' AS "table", md5(string_agg(ctid::text || xmin::text, ' ')) AS "versions" FROM "${table}"`,
  );
  return JSON.stringify(await queryRows(tx, tables.join(' UNION ALL ')));
}
