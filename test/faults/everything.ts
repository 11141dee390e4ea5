import type { EntityManager } from 'typeorm';
import { Reader } from '../../src/server/platform/database/reader.js';
import { rowPages, tableColumns } from '../../src/server/record/table-rows.js';
import { KEPT, PROJECTED } from '../../src/server/schema.js';
import type { Plant } from '../harness.js';

/** Every committed row of every table, the ledger included, by table. */
export async function everything(plant: Plant): Promise<Map<string, string[]>> {
  const tx: EntityManager = plant.app.get(Reader).manager;
  const found = new Map<string, string[]>();
  for (const table of tableColumns(tx, [...PROJECTED, ...KEPT])) {
    const rows: string[] = [];
    for await (const page of rowPages(tx, table)) rows.push(...page.map((row) => JSON.stringify(row)));
    found.set(table.table, rows);
  }
  return found;
}
