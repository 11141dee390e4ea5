import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { formatSpans } from '../../../../shared/spans.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import { placesAt } from '../../trace/trace.query.js';
import { catalogueRevision } from '../catalogue/catalogue.query.js';
import type { Fate } from '../stock/effects.facts.js';
import { type LotRow, stamped } from './lot-row.query.js';
import type { LotLinkView, LotView, ReconciliationView } from './lots.dto.js';
import { stampsOf } from './stamps.js';

/** Everything about one lot, as known at entry `seq`, or undefined. */
export async function lotView(from: EntityManager, lineage: Lineage, lot: string, seq: number, on: string): Promise<LotView | undefined> {
  const [row] = await queryRows<LotRow>(from, 'SELECT * FROM "lot" WHERE "code" = ? AND "born_seq" <= ?', [lot, seq]);
  if (!row) return undefined;
  const item = await catalogueRevision(from, 'item', row.item, row.item_revision);
  const stampedLot = await stamped(from, lineage, row, seq);
  const places = (await placesAt(from, [row.id], seq)).toSorted((a, b) => (a.fate + a.at < b.fate + b.at ? -1 : 1));
  return {
    lot: row.code,
    item: row.item,
    itemName: item?.name ?? row.item,
    itemRevision: row.item_revision,
    unit: row.unit,
    pieces: row.pieces,
    quantity: formatQuantity(safeInteger(row.quantity)),
    origin: row.origin,
    bornAt: row.born_at,
    bornSeq: row.born_seq,
    madeOn: row.made_on,
    expiresOn: row.expires_on,
    supplier: row.supplier,
    supplierLot: row.supplier_lot,
    supplierLotAssigned: Boolean(row.supplier_lot_assigned),
    source: row.source,
    asKnownAt: seq,
    stamps: stampsOf(stampedLot, on),
    places: places.map((part) => ({
      fate: part.fate,
      at: part.at,
      pieces: part.spans === null ? null : formatSpans(part.spans),
      quantity: formatQuantity(part.quantityMicro),
    })),
    holds: stampedLot.holds.map(({ hold, lot: held, reason, reaches }) => ({ hold, lot: held, reason, reaches })),
    madeFrom: await linksOf(from, row.id, 'to_lot', seq),
    wentInto: await linksOf(from, row.id, 'from_lot', seq),
    reconciliation: reconcile(safeInteger(row.quantity), places),
    hazard: item?.hazard ?? null,
  };
}

async function linksOf(from: EntityManager, lotId: number, side: 'from_lot' | 'to_lot', seq: number): Promise<LotLinkView[]> {
  const other = side === 'from_lot' ? 'to_lot' : 'from_lot';
  const rows = await queryRows<{
    seq: number;
    ord: number;
    code: string;
    item: string;
    from_first: number;
    from_last: number;
    to_first: number;
    to_last: number;
    quantity: unknown;
    each: boolean | number;
    run: string;
    kind: string;
    at: string;
  }>(
    from,
    `SELECT k.*, l."code", l."item" FROM "link" k JOIN "lot" l ON l."id" = k."${other}"
     WHERE k."${side}" = ? AND k."seq" <= ? AND (k."void_seq" IS NULL OR k."void_seq" > ?) ORDER BY k."seq", k."ord"`,
    [lotId, seq, seq],
  );
  const span = (first: number, last: number): string | null => (first === 0 ? null : formatSpans([[first, last]]));
  return rows.map((row) => ({
    link: `${row.seq}.${row.ord}`,
    lot: row.code,
    item: row.item,
    fromPieces: span(row.from_first, row.from_last),
    toPieces: span(row.to_first, row.to_last),
    quantity: formatQuantity(safeInteger(row.quantity)),
    map: row.each ? 'each' : 'all',
    run: row.run,
    kind: row.kind,
    at: row.at,
  }));
}

function reconcile(quantityMicro: number, places: readonly { readonly fate: string; readonly quantityMicro: number }[]): ReconciliationView {
  const sum = (fate: Fate): number => places.filter((part) => part.fate === fate).reduce((total, part) => total + part.quantityMicro, 0);
  return {
    quantity: formatQuantity(quantityMicro),
    onHand: formatQuantity(sum('on-hand')),
    consumed: formatQuantity(sum('consumed')),
    dispatched: formatQuantity(sum('dispatched')),
    scrapped: formatQuantity(sum('scrapped')),
    retained: formatQuantity(sum('retained')),
    destroyedInTest: formatQuantity(sum('destroyed-in-test')),
    returnedToSupplier: formatQuantity(sum('returned-to-supplier')),
    countDifference: formatQuantity(sum('count-difference')),
    gap: formatQuantity(quantityMicro - places.reduce((total, part) => total + part.quantityMicro, 0)),
  };
}
