import type { EntityManager } from 'typeorm';

/** What both databases bind in one statement: SQLite allows 32,766 values, PostgreSQL 65,535. */
const MOST_VALUES = 30_000;

/** A database value; booleans are bound as such and stored as 0/1 by SQLite. */
export type Value = string | number | boolean | null;

/** `$n` for PostgreSQL, `?` for SQLite. */
const placeholder = (tx: EntityManager, n: number): string => (isPostgres(tx) ? `$${n}` : '?');

export const isPostgres = (tx: EntityManager): boolean => tx.connection.options.type === 'postgres';

/** Inserts many rows with few statements: projections of imports write hundreds of thousands. */
export async function insertRows(
  tx: EntityManager,
  table: string,
  columns: readonly string[],
  rows: readonly (readonly Value[])[],
): Promise<void> {
  const perStatement = Math.max(1, Math.floor(MOST_VALUES / columns.length));
  const names = columns.map((column) => `"${column}"`).join(', ');
  for (let start = 0; start < rows.length; start += perStatement) {
    const part = rows.slice(start, start + perStatement);
    const tuples = part.map((row, i) => `(${row.map((_, j) => placeholder(tx, i * columns.length + j + 1)).join(',')})`);
    await tx.query(`INSERT INTO "${table}" (${names}) VALUES ${tuples.join(',')}`, part.flat());
  }
}

/** Inserts records that all have the same columns. */
export async function insertRecords(tx: EntityManager, table: string, records: readonly Readonly<Record<string, Value>>[]): Promise<void> {
  const columns = Object.keys(records[0] ?? {});
  await insertRows(
    tx,
    table,
    columns,
    records.map((record) => columns.map((column) => record[column] ?? null)),
  );
}

/**
 * Runs `sql` once for every slice of `values`, with the text `(:list)` replaced by that slice.
 * For `… WHERE "code" IN (:list)`; the answer is the concatenation, in no particular order.
 */
export async function selectIn<Row>(tx: EntityManager, sql: string, values: readonly Value[]): Promise<Row[]> {
  const found: Row[] = [];
  for (let start = 0; start < values.length; start += MOST_VALUES) {
    const part = values.slice(start, start + MOST_VALUES);
    const list = part.map((_, i) => placeholder(tx, i + 1)).join(',');
    const rows = await tx.query<Row[]>(sql.replace('(:list)', `(${list})`), part);
    for (const row of rows) found.push(row); // spread as arguments, some 120,000 rows overflow the stack
  }
  return found;
}

/** Runs one statement whose `?` marks are bound in order, on either database. */
export function queryRows<Row>(tx: EntityManager, sql: string, values: readonly Value[] = []): Promise<Row[]> {
  let n = 0;
  const text = isPostgres(tx) ? sql.replaceAll('?', () => `$${++n}`) : sql;
  return tx.query<Row[]>(text, [...values]);
}
