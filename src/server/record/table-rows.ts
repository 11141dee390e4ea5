import type { EntityManager } from 'typeorm';
import { isPostgres, queryRows, type Value } from '../platform/database/rows.js';

/** A table as comparing it needs it: its columns, and those of its key, which come first. */
export interface TableColumns {
  readonly table: string;
  readonly key: readonly string[];
  readonly columns: readonly string[];
}

/** A row's values in the order of `columns`. */
export type Row = readonly Value[];

const PAGE = 5000;

/** The tables of these entities, in order of their names. */
export function tableColumns(tx: EntityManager, entities: readonly Function[]): TableColumns[] {
  return entities
    .map((entity) => {
      const meta = tx.connection.getMetadata(entity);
      const key = meta.primaryColumns.map((column) => column.databaseName);
      const others = meta.columns.map((column) => column.databaseName).filter((name) => !key.includes(name));
      return { table: meta.tableName, key, columns: [...key, ...others] };
    })
    .toSorted((a, b) => (a.table < b.table ? -1 : 1));
}

/** All rows of a table in order of its key, by code unit whatever the language of the database, page by page. */
export async function* rowPages(tx: EntityManager, { table, key, columns }: TableColumns): AsyncGenerator<Row[]> {
  const names = columns.map((column) => `"${column}"`).join(', ');
  const byCode = await inKeyOrder(tx, table, key);
  for (let last: Row | null = null; ;) {
    const after: string = last ? `WHERE (${byCode.join(', ')}) > (${key.map(() => '?').join(', ')})` : '';
    const found: Readonly<Record<string, Value>>[] = await queryRows(
      tx,
      `SELECT ${names} FROM "${table}" ${after} ORDER BY ${byCode.join(', ')} LIMIT ${PAGE}`,
      last ? last.slice(0, key.length) : [],
    );
    if (found.length === 0) return;
    const rows = found.map((row) => columns.map((column) => row[column]!));
    yield rows;
    if (rows.length < PAGE) return;
    last = rows.at(-1)!;
  }
}

/** Key columns with the collation that sorts text by code unit; named only where the database has another, so that its index serves. */
async function inKeyOrder(tx: EntityManager, table: string, key: readonly string[]): Promise<string[]> {
  const plain = key.map((column) => `"${column}"`);
  if (!isPostgres(tx)) return plain;
  const [database] = await queryRows<{ by_language: boolean }>(tx, `SELECT 'a' < 'B' AS "by_language"`); // no code unit order says so
  if (!database?.by_language) return plain;
  const texts = await queryRows<{ name: string }>(
    tx,
    `SELECT "column_name" AS "name" FROM "information_schema"."columns" WHERE "table_name" = ? AND "collation_name" IS NULL AND "data_type" IN ('text', 'character varying')`,
    [table],
  );
  const names = new Set(texts.map((text) => text.name));
  return key.map((column) => (names.has(column) ? `"${column}" COLLATE "C"` : `"${column}"`));
}

/** Orders two keys as the database does. */
export function compareKeys(a: Row, b: Row, length: number): number {
  for (let i = 0; i < length; i += 1) {
    const [x, y] = [a[i]!, b[i]!];
    if (x === y) continue;
    if (typeof x === 'string' && typeof y === 'string') return Buffer.compare(Buffer.from(x), Buffer.from(y));
    return x < y ? -1 : 1;
  }
  return 0;
}
