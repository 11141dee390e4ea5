import type { EntityManager } from 'typeorm';
import { Session } from '../../src/server/plant/people/people.entity.js';
import { Reader } from '../../src/server/platform/database/reader.js';
import { rowPages, tableColumns } from '../../src/server/record/table-rows.js';
import { KEPT, PROJECTED } from '../../src/server/schema.js';
import type { Plant } from '../harness.js';

/**
 * Every committed row of every table, the ledger included, by table. Not the sessions: that a person was seen is noted before the command
 * begins, and stays true when it fails.
 */
export async function everything(plant: Plant): Promise<Map<string, string[]>> {
  const tx: EntityManager = plant.app.get(Reader).manager;
  const found = new Map<string, string[]>();
  for (const table of tableColumns(
    tx,
    [...PROJECTED, ...KEPT].filter((entity) => entity !== Session),
  )) {
    const rows: string[] = [];
    for await (const page of rowPages(tx, table)) rows.push(...page.map((row) => JSON.stringify(row)));
    found.set(table.table, rows);
  }
  return found;
}
