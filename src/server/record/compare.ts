import type { EntityManager } from 'typeorm';
import type { Fault } from '../ledger/chain.js';
import { compareKeys, type Row, rowPages, type TableColumns } from './table-rows.js';

/** One row that stands otherwise than the ledger says. Null: it stands nowhere, or should not stand at all. */
export interface Difference {
  readonly table: TableColumns;
  readonly live: Row | null;
  readonly rebuilt: Row | null;
}

/** Every difference between a live table and the rebuilt one, in order of its key. Memory holds two pages of rows. */
export async function* differences(live: EntityManager, rebuilt: EntityManager, table: TableColumns): AsyncGenerator<Difference> {
  const [left, right] = [eachRow(live, table), eachRow(rebuilt, table)];
  let [a, b] = [await left.next(), await right.next()];
  while (!a.done || !b.done) {
    const order = a.done ? 1 : b.done ? -1 : compareKeys(a.value, b.value, table.key.length);
    if (order < 0) yield { table, live: a.value as Row, rebuilt: null };
    else if (order > 0) yield { table, live: null, rebuilt: b.value as Row };
    else if (!sameRow(a.value as Row, b.value as Row)) yield { table, live: a.value as Row, rebuilt: b.value as Row };
    if (order <= 0) a = await left.next();
    if (order >= 0) b = await right.next();
  }
}

async function* eachRow(tx: EntityManager, table: TableColumns): AsyncGenerator<Row, void> {
  for await (const page of rowPages(tx, table)) yield* page;
}

const sameRow = (a: Row, b: Row): boolean => a.every((value, i) => value === b[i]);

/** A difference in words: table and key, then what the row says against what it should say. */
export function differenceFault({ table, live, rebuilt }: Difference): Fault {
  const row = (live ?? rebuilt)!;
  const where = `${table.table} ${table.key.map((column, i) => `${column}=${JSON.stringify(row[i])}`).join(' ')}`;
  if (live === null) return { what: 'row-missing', where, detail: 'the ledger says this row stands in the table; it does not' };
  if (rebuilt === null) return { what: 'row-too-many', where, detail: 'no entry of the ledger puts this row in the table' };
  const said = table.columns
    .map((column, i) => ({ column, is: live[i], should: rebuilt[i] }))
    .filter(({ is, should }) => is !== should)
    .map(({ column, is, should }) => `"${column}" is ${JSON.stringify(is)}, by the ledger ${JSON.stringify(should)}`);
  return { what: 'row-differs', where, detail: said.join('; ') };
}
