import type { EntityManager } from 'typeorm';
import { safeInteger } from '../platform/database/columns.js';
import { queryRows } from '../platform/database/rows.js';
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

interface LinkRow {
  seq: number;
  ord: number;
  from_lot: number;
  from_first: number;
  from_last: number;
  to_lot: number;
  to_first: number;
  to_last: number;
  quantity: unknown;
  mass: unknown;
  each: boolean | number;
}

/** Reads the links recorded after entry `after`, up to `upTo`, in ledger order. */
export async function loadLinks(from: EntityManager, genealogy: Genealogy, after: number, upTo: number): Promise<void> {
  let seq = after;
  let ord = 2_147_483_647;
  for (;;) {
    const rows = await queryRows<LinkRow>(
      from,
      `SELECT "seq", "ord", "from_lot", "from_first", "from_last", "to_lot", "to_first", "to_last", "quantity", "mass", "each"
       FROM "link" WHERE ("seq", "ord") > (?, ?) AND "seq" <= ? ORDER BY "seq", "ord" LIMIT ?`,
      [seq, ord, upTo, PAGE],
    );
    for (const row of rows) genealogy.append(linkOf(row));
    const last = rows.at(-1);
    if (!last || rows.length < PAGE) return;
    ({ seq, ord } = last);
  }
}

function linkOf(row: LinkRow) {
  const massMicro = safeInteger(row.mass);
  return {
    seq: row.seq,
    ord: row.ord,
    fromLot: row.from_lot,
    fromFirst: row.from_first,
    fromLast: row.from_last,
    toLot: row.to_lot,
    toFirst: row.to_first,
    toLast: row.to_last,
    quantityMicro: safeInteger(row.quantity),
    massMicro,
    map: row.each ? ('each' as const) : ('all' as const),
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
