import type { EntityManager } from 'typeorm';
import type { Fault } from '../ledger/chain.js';
import { queryRows } from '../platform/database/rows.js';

/** What is wrong with one end of a link: a bulk lot has 0,0, a numbered one a span within 1..N. */
const endFault = (side: 'from' | 'to', lot: string): string =>
  `(${lot}."id" IS NULL
    OR (${lot}."pieces" IS NULL AND (k."${side}_first" <> 0 OR k."${side}_last" <> 0))
    OR (${lot}."pieces" IS NOT NULL AND (k."${side}_first" < 1 OR k."${side}_last" > ${lot}."pieces" OR k."${side}_first" > k."${side}_last")))`;

interface LinkRow {
  seq: number;
  ord: number;
  from_code: string | null;
  from_first: number;
  from_last: number;
  to_code: string | null;
  to_first: number;
  to_last: number;
}

/**
 * Links that name pieces their lots do not have, or map piece into piece between spans of different lengths.
 * @see docs/rules/ledger.md L-10
 */
export async function linkFaults(tx: EntityManager, limit: number): Promise<Fault[]> {
  const rows = await queryRows<LinkRow>(
    tx,
    `SELECT k."seq", k."ord", f."code" AS "from_code", k."from_first", k."from_last", t."code" AS "to_code", k."to_first", k."to_last"
     FROM "link" k LEFT JOIN "lot" f ON f."id" = k."from_lot" LEFT JOIN "lot" t ON t."id" = k."to_lot"
     WHERE ${endFault('from', 'f')} OR ${endFault('to', 't')}
       OR (k."each" AND k."from_last" - k."from_first" <> k."to_last" - k."to_first")
     ORDER BY k."seq", k."ord" LIMIT ${limit}`,
  );
  return rows.map((row) => ({
    what: 'link-outside-lot',
    where: `link seq=${row.seq} ord=${row.ord}`,
    detail:
      `from ${row.from_code ?? 'a lot that does not exist'} ${row.from_first}-${row.from_last}` +
      ` to ${row.to_code ?? 'a lot that does not exist'} ${row.to_first}-${row.to_last}`,
  }));
}
