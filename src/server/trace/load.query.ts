import type { EntityManager } from 'typeorm';
import { safeInteger } from '../platform/database/columns.js';
import { isPostgres, queryRows } from '../platform/database/rows.js';
import type { Genealogy } from './genealogy.js';

/** What an answer says about a lot, kept in memory beside the index. */
export interface LotCard {
  readonly lot: string;
  readonly item: string;
  readonly unit: string;
  readonly pieces: number | null;
  readonly quantityMicro: number;
}

/** Rows a page: fewer are slower, more keep the event loop waiting. */
const PAGE = 5000;

/** Reads the lots born up to entry `upTo` that the index does not know yet. */
export async function loadLots(from: EntityManager, genealogy: Genealogy, cards: LotCard[], upTo: number): Promise<void> {
  for (;;) {
    const rows = await queryRows<{ id: number; code: string; item: string; unit: string; pieces: number | null; quantity: unknown }>(
      from,
      'SELECT "id", "code", "item", "unit", "pieces", "quantity" FROM "lot" WHERE "id" > ? AND "born_seq" <= ? ORDER BY "id" LIMIT ?',
      [Math.max(0, cards.length - 1), upTo, PAGE],
    );
    for (const row of rows) {
      genealogy.addLot(row.id, row.pieces ?? 0);
      cards[row.id] = { lot: row.code, item: row.item, unit: row.unit, pieces: row.pieces, quantityMicro: safeInteger(row.quantity) };
    }
    if (rows.length < PAGE) return;
  }
}

type LinkCells = [
  seq: number,
  ord: number,
  fromLot: number,
  fromFirst: number,
  fromLast: number,
  toLot: number,
  toFirst: number,
  toLast: number,
  quantity: number,
  mass: number,
  each: number,
];

const CELLS = ['seq', 'ord', 'from_lot', 'from_first', 'from_last', 'to_lot', 'to_first', 'to_last', 'quantity', 'mass'];

/** A page of links as one JSON text: row objects cost the SQLite driver three to five times as much. */
function pageQuery(from: EntityManager): string {
  const cells = [...CELLS.map((column) => `"${column}"`), 'CASE WHEN "each" THEN 1 ELSE 0 END'].join(', ');
  const page = `SELECT * FROM "link" WHERE ("seq", "ord") > (?, ?) AND "seq" <= ? ORDER BY "seq", "ord" LIMIT ?`;
  return isPostgres(from)
    ? `SELECT json_agg(json_build_array(${cells}) ORDER BY "seq", "ord") AS "page" FROM (${page}) AS p`
    : `SELECT json_group_array(json_array(${cells})) AS "page" FROM (${page})`;
}

/** Reads the links recorded after entry `after`, up to `upTo`, in ledger order. */
export async function loadLinks(from: EntityManager, genealogy: Genealogy, after: number, upTo: number): Promise<void> {
  const sql = pageQuery(from);
  let seq = after;
  let ord = 2_147_483_647;
  for (;;) {
    const [{ page }] = (await queryRows<{ page: string | LinkCells[] | null }>(from, sql, [seq, ord, upTo, PAGE])) as [
      { page: string | LinkCells[] | null },
    ];
    const rows = typeof page === 'string' ? (JSON.parse(page) as LinkCells[]) : (page ?? []);
    for (const row of rows) genealogy.append(linkOf(row));
    const last = rows.at(-1);
    if (!last || rows.length < PAGE) return;
    [seq, ord] = last;
  }
}

function linkOf([seq, ord, fromLot, fromFirst, fromLast, toLot, toFirst, toLast, quantity, mass, each]: LinkCells) {
  const massMicro = safeInteger(mass);
  return {
    seq,
    ord,
    fromLot,
    fromFirst,
    fromLast,
    toLot,
    toFirst,
    toLast,
    quantityMicro: safeInteger(quantity),
    massMicro,
    map: each === 1 ? ('each' as const) : ('all' as const),
    blends: massMicro > 0,
  };
}

/** Reads the links voided after entry `after`, up to `upTo`. */
export async function loadVoids(from: EntityManager, genealogy: Genealogy, after: number, upTo: number): Promise<void> {
  const rows = await queryRows<{ seq: number; ord: number; void_seq: number }>(
    from,
    'SELECT "seq", "ord", "void_seq" FROM "link" WHERE "void_seq" > ? AND "void_seq" <= ? ORDER BY "void_seq", "seq", "ord"',
    [after, upTo],
  );
  for (const row of rows) genealogy.voidLink(row.seq, row.ord, row.void_seq);
}
