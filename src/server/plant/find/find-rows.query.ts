import type { EntityManager } from 'typeorm';
import { safeInteger } from '../../platform/database/columns.js';
import { isPostgres, queryRows, type Value } from '../../platform/database/rows.js';
import type { Rank } from './matching.js';

/** `%` and `_` in what was typed stand for themselves. */
const literal = (text: string): string => text.toLowerCase().replaceAll(/[\\%_]/g, (mark) => `\\${mark}`);

/** Where to look: a table (or what stands for one) with a code, other columns by which its rows are known, and what to answer of them. */
export interface Looked {
  readonly from: string;
  readonly code: string;
  readonly alsoBy?: readonly string[];
  readonly columns: string;
}

/** Rows of a table that fit what was asked for, the best first, and how many fit. */
export async function fittingRows<Row>(
  tx: EntityManager,
  { from, code, alsoBy = [], columns }: Looked,
  asked: string,
  limit: number,
): Promise<{ rows: (Row & { rank: Rank })[]; total: number }> {
  const [whole, start, part] = [asked.toLowerCase(), `${literal(asked)}%`, `%${literal(asked)}%`];
  const begins = [code, ...alsoBy].map((column) => `lower(${column}) LIKE ? ESCAPE '\\'`).join(' OR ');
  const rank = `CASE WHEN ${code} = ? THEN 0 WHEN lower(${code}) = ? THEN 1 WHEN ${begins} THEN 2 ELSE 3 END`;
  const fields = [code, ...alsoBy];
  const values: Value[] = [asked, whole, ...fields.map(() => start), ...fields.map(() => part), asked, limit];
  const order = isPostgres(tx) ? `${code} COLLATE "C"` : code;
  const rows = await queryRows<Row & { rank: unknown; total: unknown }>(
    tx,
    `SELECT ${columns}, ${rank} AS "rank", count(*) OVER () AS "total" FROM ${from} WHERE ${begins} OR ${code} = ? ORDER BY "rank", ${order} LIMIT ?`,
    values,
  );
  return { rows: rows.map((row) => ({ ...row, rank: safeInteger(row.rank) as Rank })), total: safeInteger(rows[0]?.total ?? 0) };
}
