import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { formatSpans } from '../../../../shared/spans.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import { type PartThen, placesAt, shipmentHeads } from '../../trace/trace.query.js';
import { catalogueByCode, catalogueRevision } from '../catalogue/catalogue.query.js';
import { type HoldOn, type Known, type LotRow, stampedLots } from './lot-row.query.js';
import type { LotHoldView, LotLinkView, LotUrgentReleaseView, LotView, PlacePartView } from './lots.dto.js';
import { reportsOf } from './lot-reports.query.js';
import { reconcile } from './reconcile.query.js';
import { recordKeptUntil } from './retention.js';
import { stampsOf } from './stamps.js';

/** Everything about one lot, as known at an entry, or undefined. */
export async function lotView(known: Known, lot: string): Promise<LotView | undefined> {
  const { from, seq } = known;
  const [row] = await queryRows<LotRow>(from, 'SELECT * FROM "lot" WHERE "code" = ? AND "born_seq" <= ?', [lot, seq]);
  if (!row) return undefined;
  const item = await catalogueRevision(from, 'item', row.item, row.item_revision);
  const stamped = (await stampedLots(known, [row])).get(row.id)!;
  const places = (await placesAt(from, [row.id], seq)).toSorted((a, b) => (a.fate + a.at < b.fate + b.at ? -1 : 1));
  const [born] = await queryRows<{ actor: string }>(from, 'SELECT "actor" FROM "ledger_entry" WHERE "seq" = ?', [row.born_seq]);
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
    bornBy: born?.actor ?? '',
    earlier: await earlierArrivals(from, row.code),
    asKnownAt: seq,
    stamps: stampsOf(stamped, known.on),
    places: await placeViews(from, places),
    holds: stamped.holds.map(holdView),
    reports: await reportsOf(from, row.code, seq),
    urgentReleases: await urgentReleasesOf(from, row.id, seq),
    madeFrom: await linksOf(from, row.id, 'to_lot', seq),
    wentInto: await linksOf(from, row.id, 'from_lot', seq),
    reconciliation: await reconcile(from, { id: row.id, quantityMicro: safeInteger(row.quantity) }, places, seq),
    hazard: item?.hazard ?? null,
    recordKeptUntil: recordKeptUntil(row.born_at, row.expires_on),
  };
}

const holdView = (hold: HoldOn): LotHoldView => ({
  hold: hold.hold,
  lot: hold.lot,
  inherited: hold.inherited,
  pieces: hold.spans === null ? null : formatSpans(hold.spans),
  quantity: hold.quantityMicro === null ? null : formatQuantity(hold.quantityMicro),
  reason: hold.reason,
  reaches: hold.reaches,
});

async function placeViews(from: EntityManager, places: readonly PartThen[]): Promise<PlacePartView[]> {
  const shipments = places.filter((part) => part.fate === 'dispatched').map((part) => part.at);
  const heads = await shipmentHeads(from, shipments);
  const parties = await catalogueByCode(
    from,
    'party',
    [...heads.values()].map(({ customer }) => customer),
  );
  return places.map((part) => {
    const customer = part.fate === 'dispatched' ? (heads.get(part.at)?.customer ?? null) : null;
    return {
      fate: part.fate,
      at: part.at,
      pieces: part.spans === null ? null : formatSpans(part.spans),
      quantity: formatQuantity(part.quantityMicro),
      customer,
      customerName: customer === null ? null : (parties.get(customer)?.name ?? null),
    };
  });
}

async function earlierArrivals(from: EntityManager, lot: string): Promise<string[]> {
  const [line] = await queryRows<{ earlier: string }>(from, 'SELECT "earlier" FROM "delivery_line" WHERE "lot" = ?', [lot]);
  return line ? (JSON.parse(line.earlier) as string[]) : [];
}

async function urgentReleasesOf(from: EntityManager, lotId: number, seq: number): Promise<LotUrgentReleaseView[]> {
  const rows = await queryRows<{ code: string; spans: string | null; sets_aside: string; reason: string; signed_by: string }>(
    from,
    `SELECT "code", "spans", "sets_aside", "reason", "signed_by" FROM "urgent_release"
     WHERE "lot_id" = ? AND "opened_seq" <= ? AND ("closed_seq" IS NULL OR "closed_seq" > ?) ORDER BY "opened_seq"`,
    [lotId, seq, seq],
  );
  return rows.map((row) => ({
    urgentRelease: row.code,
    pieces: row.spans,
    setsAside: row.sets_aside.split(','),
    reason: row.reason,
    signedBy: row.signed_by,
  }));
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
  const items = await catalogueByCode(
    from,
    'item',
    rows.map((row) => row.item),
  );
  const span = (first: number, last: number): string | null => (first === 0 ? null : formatSpans([[first, last]]));
  return rows.map((row) => ({
    link: `${row.seq}.${row.ord}`,
    lot: row.code,
    item: row.item,
    itemName: items.get(row.item)?.name ?? row.item,
    fromPieces: span(row.from_first, row.from_last),
    toPieces: span(row.to_first, row.to_last),
    quantity: formatQuantity(safeInteger(row.quantity)),
    map: row.each ? 'each' : 'all',
    run: row.run,
    kind: row.kind,
    at: row.at,
  }));
}
