import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { parseSpans } from '../../../../shared/spans.js';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { queryRows, selectIn, type Value } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import type { Item } from '../catalogue/catalogue.facts.js';
import { catalogueByCode, catalogueRevision } from '../catalogue/catalogue.query.js';
import { partsWithStates, type PartWithState, serialPieces } from '../dispatch/asked-lines.query.js';
import { nextDocument, nextLotCodes } from '../stock/codes.query.js';
import { lotStates } from '../stock/lot-state.query.js';
import type { ReturnGoods, ReturnState, ShipmentThen } from './returns.decide.js';
import type { ReturnLineView, ReturnView } from './returns.dto.js';
import type { ReturnReversalState } from './reversal.decide.js';

/** What booking a return rests on, read while the write lock is held. */
export async function returnState(
  tx: EntityManager,
  lineage: Lineage,
  command: ReturnGoods,
  lotPattern: string,
  at: string,
): Promise<ReturnState> {
  const serials = await serialPieces(tx, command.lines);
  const parts = await partsWithStates(tx, lineage, command.lines, serials);
  const items = await itemsOf(tx, parts);
  const lotOf = new Map(parts.map((part) => [part.line, part.lot]));
  const classes = command.lines.map((_, i) => items.get(lotOf.get(i) ?? '')?.class ?? 'raw-material');
  return {
    at,
    returned: await nextDocument(tx, 'goods_return', 'RT'),
    customer: (await catalogueByCode(tx, 'party', [command.customer])).get(command.customer),
    location: (await catalogueByCode(tx, 'location', [command.location])).get(command.location),
    sameDocument: await sameDocument(tx, command),
    serials,
    parts,
    shipments: await shipmentsThen(tx, parts, command),
    items,
    codes: await nextLotCodes(tx, lotPattern, classes, command.returnedAt),
  };
}

async function itemsOf(tx: EntityManager, parts: readonly PartWithState[]): Promise<Map<string, Item>> {
  const items = new Map<string, Item>();
  for (const { lot, state } of parts) {
    if (!state || items.has(lot)) continue;
    const item = await catalogueRevision(tx, 'item', state.item, state.itemRevision);
    if (item) items.set(lot, item);
  }
  return items;
}

async function sameDocument(tx: EntityManager, command: ReturnGoods): Promise<string[]> {
  const rows = await queryRows<{ code: string }>(
    tx,
    `SELECT "code" FROM "goods_return"
     WHERE "customer" = ? AND "document_type" = ? AND "document" = ? AND "reversed_seq" IS NULL ORDER BY "code"`,
    [command.customer, command.documentType, command.document],
  );
  return rows.map((row) => row.code);
}

async function shipmentsThen(tx: EntityManager, parts: readonly PartWithState[], command: ReturnGoods): Promise<Map<string, ShipmentThen>> {
  const out = parts.flatMap((part) =>
    (part.state?.places ?? []).filter(({ place }) => place.fate === 'dispatched').map(({ place }) => place.at),
  );
  const named = command.lines.flatMap((line) => (line.shipment === undefined ? [] : [line.shipment]));
  const rows = await selectIn<{ code: string; customer: string; shipped_at: string }>(
    tx,
    'SELECT "code", "customer", "shipped_at" FROM "shipment" WHERE "code" IN (:list)',
    [...new Set([...out, ...named])],
  );
  return new Map(rows.map((row) => [row.code, { customer: row.customer, shippedAt: row.shipped_at }]));
}

/** What reversing a return rests on; undefined if there is none of that number. */
export async function returnReversalState(tx: EntityManager, lineage: Lineage, returned: string): Promise<ReturnReversalState | undefined> {
  const [head] = await queryRows<HeadRow>(tx, 'SELECT * FROM "goods_return" WHERE "code" = ?', [returned]);
  if (!head) return undefined;
  const rows = await queryRows<LineRow>(tx, `${LINES} WHERE n."return_code" = ? ORDER BY n."line"`, [returned]);
  const links = await queryRows<{ seq: number; ord: number }>(
    tx,
    'SELECT "seq", "ord" FROM "link" WHERE "run" = ? AND "seq" = ? AND "void_seq" IS NULL ORDER BY "ord"',
    [returned, head.booked_seq],
  );
  const codes = rows.flatMap((row) => [row.lot, ...(row.becomes === null ? [] : [row.becomes])]);
  return {
    returned,
    location: head.location,
    bookedSeq: head.booked_seq,
    reversedSeq: head.reversed_seq,
    lines: rows.map((row) => ({
      lot: row.lot,
      spans: storedSpans(row.spans),
      quantityMicro: safeInteger(row.quantity),
      shipment: row.shipment,
      shipmentNamed: Boolean(row.shipment_named),
      becomes: row.becomes ?? undefined,
    })),
    lots: await lotStates(
      tx,
      lineage,
      codes.map((lot) => ({ lot, spans: null })),
    ),
    links,
  };
}

interface HeadRow {
  code: string;
  customer: string;
  document_type: string;
  document: string;
  returned_at: string;
  location: string;
  condition: string;
  note: string | null;
  booked_seq: number;
  reversed_seq: number | null;
  reverse_reason: string | null;
}

interface LineRow {
  return_code: string;
  lot: string;
  item: string;
  unit: string;
  spans: string | null;
  quantity: unknown;
  shipment: string;
  shipment_named: boolean | number;
  becomes: string | null;
}

const LINES = `SELECT n."return_code", l."code" AS "lot", l."item", l."unit", n."spans", n."quantity", n."shipment", n."shipment_named", n."becomes"
  FROM "return_line" n JOIN "lot" l ON l."id" = n."lot_id"`;

/** What a list of returns may be narrowed by. */
export interface ReturnFilter {
  readonly customer?: string | undefined;
  readonly lot?: string | undefined;
  readonly shipment?: string | undefined;
}

/** One return with its lines, or undefined. */
export async function returnView(from: EntityManager, returned: string): Promise<ReturnView | undefined> {
  const heads = await queryRows<HeadRow>(from, 'SELECT * FROM "goods_return" WHERE "code" = ?', [returned]);
  return (await withLines(from, heads))[0];
}

/** Returns, newest first. */
export async function returnViews(from: EntityManager, filter: ReturnFilter, limit: number): Promise<ReturnView[]> {
  const line = (term: string) =>
    `EXISTS (SELECT 1 FROM "return_line" x JOIN "lot" y ON y."id" = x."lot_id" WHERE x."return_code" = r."code" AND ${term} = ?)`;
  const terms: [string, string | undefined][] = [
    ['r."customer" = ?', filter.customer],
    [line('y."code"'), filter.lot],
    [line('x."shipment"'), filter.shipment],
  ];
  const used = terms.filter((term): term is [string, string] => term[1] !== undefined);
  const where = used.length === 0 ? '' : `WHERE ${used.map(([sql]) => sql).join(' AND ')}`;
  const values: Value[] = [...used.map(([, value]) => value), limit];
  const heads = await queryRows<HeadRow>(
    from,
    `SELECT r.* FROM "goods_return" r ${where} ORDER BY r."booked_seq" DESC, r."code" LIMIT ?`,
    values,
  );
  return withLines(from, heads);
}

async function withLines(from: EntityManager, heads: readonly HeadRow[]): Promise<ReturnView[]> {
  const rows = await selectIn<LineRow>(
    from,
    `${LINES} WHERE n."return_code" IN (:list) ORDER BY n."return_code", n."line"`,
    heads.map((head) => head.code),
  );
  const lines = new Map<string, ReturnLineView[]>();
  for (const row of rows) lines.set(row.return_code, [...(lines.get(row.return_code) ?? []), lineView(row)]);
  return heads.map((head) => ({
    returned: head.code,
    customer: head.customer,
    documentType: head.document_type,
    document: head.document,
    returnedAt: head.returned_at,
    location: head.location,
    condition: head.condition,
    note: head.note,
    seq: head.booked_seq,
    reversed: head.reversed_seq === null ? null : { seq: head.reversed_seq, reason: head.reverse_reason ?? '' },
    lines: lines.get(head.code) ?? [],
  }));
}

const lineView = (row: LineRow): ReturnLineView => ({
  lot: row.lot,
  item: row.item,
  spans: row.spans === null ? null : (parseSpans(row.spans) as unknown as number[][]),
  pieces: row.spans,
  quantity: formatQuantity(safeInteger(row.quantity)),
  unit: row.unit,
  shipment: row.shipment,
  shipmentNamed: Boolean(row.shipment_named),
  becomes: row.becomes,
});
