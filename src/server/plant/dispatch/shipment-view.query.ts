import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { intersectSpans, type SpanSet } from '../../../../shared/spans.js';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { queryRows, selectIn, type Value } from '../../platform/database/rows.js';
import type { Item, Location, Party } from '../catalogue/catalogue.facts.js';
import type { ShipmentLineView, ShipmentView } from './dispatch.dto.js';

interface HeadRow {
  code: string;
  customer: string;
  customer_record: string | null;
  bill_to: string | null;
  document_type: string | null;
  document: string | null;
  shipped_at: string;
  location: string | null;
  location_record: string | null;
  note: string | null;
  dispatched_seq: number;
  reversed_seq: number | null;
  reverse_reason: string | null;
}

interface LineRow {
  shipment: string;
  lot_id: number;
  lot: string;
  item: string;
  item_record: string | null;
  unit: string;
  pieces: number | null;
  origin: string;
  source: string;
  supplier: string | null;
  supplier_lot: string | null;
  supplier_lot_assigned: boolean | number;
  made_on: string | null;
  born_at: string;
  expires_on: string | null;
  spans: string | null;
  quantity: unknown;
  urgent_releases: string;
  passed_over: string;
  pick_reason: string | null;
}

const HEADS = `SELECT s.*, p."record" AS "customer_record", l."record" AS "location_record"
  FROM "shipment" s
  LEFT JOIN "catalogue_record" p ON p."what" = 'party' AND p."code" = s."customer" AND p."revision" = s."customer_revision"
  LEFT JOIN "catalogue_record" l ON l."what" = 'location' AND l."code" = s."location" AND l."until_seq" IS NULL`;

const LINES = `SELECT s."shipment", s."lot_id", l."code" AS "lot", l."item", i."record" AS "item_record", l."unit", l."pieces", l."origin",
    l."source", l."supplier", l."supplier_lot", l."supplier_lot_assigned", l."made_on", l."born_at", l."expires_on", s."spans", s."quantity",
    s."urgent_releases", s."passed_over", s."pick_reason"
  FROM "shipment_line" s JOIN "lot" l ON l."id" = s."lot_id"
  LEFT JOIN "catalogue_record" i ON i."what" = 'item' AND i."code" = l."item" AND i."revision" = l."item_revision"
  WHERE s."shipment" IN (:list) ORDER BY s."shipment", s."line"`;

const MOST_SERIALS = 5000;

/** What a list of shipments may be narrowed by. */
export interface ShipmentFilter {
  readonly customer?: string | undefined;
  readonly lot?: string | undefined;
  readonly item?: string | undefined;
  /** Instants: shipped at or after, shipped before. */
  readonly since?: string | undefined;
  readonly until?: string | undefined;
}

/** One shipment with its lines, or undefined. */
export async function shipmentView(from: EntityManager, shipment: string): Promise<ShipmentView | undefined> {
  const heads = await queryRows<HeadRow>(from, `${HEADS} WHERE s."code" = ?`, [shipment]);
  return (await withLines(from, heads))[0];
}

/** Shipments, newest first. */
export async function shipmentViews(from: EntityManager, filter: ShipmentFilter, limit: number): Promise<ShipmentView[]> {
  const { where, values } = narrowing(filter);
  const heads = await queryRows<HeadRow>(from, `${HEADS}${where} ORDER BY s."dispatched_seq" DESC, s."code" LIMIT ?`, [...values, limit]);
  return withLines(from, heads);
}

/** The `WHERE` of a filter over shipments `s`. */
export function narrowing(filter: ShipmentFilter): { where: string; values: Value[] } {
  const line = (column: string) =>
    `EXISTS (SELECT 1 FROM "shipment_line" x JOIN "lot" y ON y."id" = x."lot_id" WHERE x."shipment" = s."code" AND y."${column}" = ?)`;
  const terms: [string, string | undefined][] = [
    ['s."customer" = ?', filter.customer],
    [line('code'), filter.lot],
    [line('item'), filter.item],
    ['s."shipped_at" >= ?', filter.since],
    ['s."shipped_at" < ?', filter.until],
  ];
  const used = terms.filter((term): term is [string, string] => term[1] !== undefined);
  return { where: used.length === 0 ? '' : ` WHERE ${used.map(([sql]) => sql).join(' AND ')}`, values: used.map(([, value]) => value) };
}

async function withLines(from: EntityManager, heads: readonly HeadRow[]): Promise<ShipmentView[]> {
  const rows = await selectIn<LineRow>(
    from,
    LINES,
    heads.map((head) => head.code),
  );
  const serials = await serialsOf(from, rows);
  const lines = new Map<string, ShipmentLineView[]>();
  for (const row of rows) lines.set(row.shipment, [...(lines.get(row.shipment) ?? []), lineView(row, serials.get(row.lot_id))]);
  return heads.map((head) => {
    const party = head.customer_record === null ? null : (JSON.parse(head.customer_record) as Party);
    const location = head.location_record === null ? null : (JSON.parse(head.location_record) as Location);
    return {
      shipment: head.code,
      customer: head.customer,
      customerName: party?.name ?? head.customer,
      customerGln: party?.gln ?? null,
      customerContact: party?.contact ?? null,
      billTo: head.bill_to ?? head.customer,
      documentType: head.document_type,
      document: head.document,
      shippedAt: head.shipped_at,
      location: head.location,
      locationName: location?.name ?? null,
      note: head.note,
      seq: head.dispatched_seq,
      reversed: head.reversed_seq === null ? null : { seq: head.reversed_seq, reason: head.reverse_reason ?? '' },
      lines: lines.get(head.code) ?? [],
    };
  });
}

async function serialsOf(from: EntityManager, rows: readonly LineRow[]): Promise<Map<number, { piece: number; serial: string }[]>> {
  const found = await selectIn<{ lot_id: number; piece: number; serial: string }>(
    from,
    'SELECT "lot_id", "piece", "serial" FROM "serial" WHERE "lot_id" IN (:list) ORDER BY "lot_id", "piece"',
    [...new Set(rows.filter((row) => row.pieces !== null).map((row) => row.lot_id))],
  );
  const byLot = new Map<number, { piece: number; serial: string }[]>();
  for (const { lot_id: lot, ...serial } of found) {
    const list = byLot.get(lot) ?? [];
    list.push(serial);
    byLot.set(lot, list);
  }
  return byLot;
}

function lineView(row: LineRow, serials: readonly { piece: number; serial: string }[] | undefined): ShipmentLineView {
  const item = row.item_record === null ? null : (JSON.parse(row.item_record) as Item);
  const spans = storedSpans(row.spans);
  return {
    lot: row.lot,
    item: row.item,
    description: item?.name ?? row.item,
    gtin: item?.gtin ?? null,
    spans: spans as number[][] | null,
    pieces: row.spans,
    quantity: formatQuantity(safeInteger(row.quantity)),
    unit: row.unit,
    serials: spans === null || !serials ? [] : within(serials, spans),
    lotCodeSource: lotCodeSource(row),
    madeOn: row.made_on ?? (row.origin === 'made' ? row.born_at.slice(0, 10) : null),
    expiresOn: row.expires_on,
    urgentReleases: JSON.parse(row.urgent_releases) as string[],
    passedOver: JSON.parse(row.passed_over) as string[],
    pickReason: row.pick_reason,
  };
}

const within = (serials: readonly { piece: number; serial: string }[], spans: SpanSet): string[] =>
  serials
    .filter(({ piece }) => intersectSpans(spans, [[piece, piece]]).length > 0)
    .slice(0, MOST_SERIALS)
    .map(({ serial }) => serial);

/** Who gave the lot its code, and where that is on record (21 CFR 1.1340(a)). */
function lotCodeSource(row: LineRow): string {
  if (row.origin === 'made') return `given here by ${row.source}`;
  if (row.origin === 'returned') return `given here on return ${row.source}`;
  if (row.origin === 'opening') return `brought over from older records by ${row.source}`;
  if (row.supplier_lot === null || Boolean(row.supplier_lot_assigned))
    return `given here on delivery ${row.source}: it came without a lot code`;
  return `given here on delivery ${row.source}; ${row.supplier} calls it ${row.supplier_lot}`;
}
