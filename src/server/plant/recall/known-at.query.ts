import type { EntityManager } from 'typeorm';
import type { SpanSet } from '../../../../shared/spans.js';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { Item, Party } from '../catalogue/catalogue.facts.js';
import type { LotStatus, Origin, Unit } from '../stock/effects.facts.js';

/** A lot and what it is of, as the record knew at its birth; neither ever changes. */
export interface KnownLot {
  readonly id: number;
  readonly lot: string;
  readonly item: string;
  readonly itemRecord: Item | null;
  readonly unit: Unit;
  readonly pieces: number | null;
  readonly quantityMicro: number;
  readonly origin: Origin;
  readonly bornAt: string;
  readonly bornSeq: number;
  readonly madeOn: string | null;
  readonly expiresOn: string | null;
  readonly source: string;
  readonly supplier: string | null;
  readonly supplierLot: string | null;
}

/** A hold as it stood. */
export interface KnownHold {
  readonly hold: string;
  readonly lotId: number;
  readonly spans: SpanSet | null;
  readonly quantityMicro: number | null;
  readonly reaches: boolean;
  readonly reason: string;
}

/** What went of a lot in a shipment that stood. */
export interface KnownLine {
  readonly lotId: number;
  readonly spans: SpanSet | null;
  readonly quantityMicro: number;
  readonly shipment: string;
  readonly customer: string;
  readonly shippedAt: string;
  readonly document: string | null;
  readonly seq: number;
}

/** Rows that stood at entry `seq`, by the entries since when and until when they held. */
export const stoodAt = (seq: number, alias = ''): string =>
  `${alias}"since_seq" <= ${seq} AND (${alias}"until_seq" IS NULL OR ${alias}"until_seq" > ${seq})`;

interface LotCells {
  id: number;
  code: string;
  item: string;
  item_revision: number;
  unit: Unit;
  pieces: number | null;
  quantity: unknown;
  origin: Origin;
  born_at: string;
  born_seq: number;
  made_on: string | null;
  expires_on: string | null;
  source: string;
  supplier: string | null;
  supplier_lot: string | null;
}

/** The lots with these ids, by id. */
export async function knownLots(from: EntityManager, ids: readonly number[]): Promise<Map<number, KnownLot>> {
  const rows = await selectIn<LotCells>(
    from,
    `SELECT "id", "code", "item", "item_revision", "unit", "pieces", "quantity", "origin", "born_at", "born_seq", "made_on", "expires_on",
            "source", "supplier", "supplier_lot" FROM "lot" WHERE "id" IN (:list)`,
    ids,
  );
  // Thousands of lots are of a few items: each record is read once.
  const revisions = await selectIn<{ code: string; revision: number; record: string }>(
    from,
    `SELECT "code", "revision", "record" FROM "catalogue_record" WHERE "what" = 'item' AND "code" IN (:list)`,
    [...new Set(rows.map((row) => row.item))],
  );
  const items = new Map(revisions.map(({ code, revision, record }) => [`${code}\u0000${revision}`, JSON.parse(record) as Item]));
  return new Map(
    rows.map((row) => [
      row.id,
      {
        id: row.id,
        lot: row.code,
        item: row.item,
        itemRecord: items.get(`${row.item}\u0000${row.item_revision}`) ?? null,
        unit: row.unit,
        pieces: row.pieces,
        quantityMicro: safeInteger(row.quantity),
        origin: row.origin,
        bornAt: row.born_at,
        bornSeq: row.born_seq,
        madeOn: row.made_on,
        expiresOn: row.expires_on,
        source: row.source,
        supplier: row.supplier,
        supplierLot: row.supplier_lot,
      },
    ]),
  );
}

/** Quality status of these lots at entry `seq`, by lot id. */
export async function statusesAt(
  from: EntityManager,
  ids: readonly number[],
  seq: number,
): Promise<Map<number, Map<LotStatus, SpanSet | null>>> {
  const rows = await selectIn<{ lot_id: number; status: LotStatus; spans: string | null }>(
    from,
    `SELECT "lot_id", "status", "spans" FROM "lot_status" WHERE ${stoodAt(seq)} AND "lot_id" IN (:list)`,
    ids,
  );
  const found = new Map<number, Map<LotStatus, SpanSet | null>>();
  for (const row of rows) found.set(row.lot_id, (found.get(row.lot_id) ?? new Map()).set(row.status, storedSpans(row.spans)));
  return found;
}

/** Every hold that stood at entry `seq`. */
export async function holdsAt(from: EntityManager, seq: number): Promise<KnownHold[]> {
  const rows = await queryRows<{
    code: string;
    lot_id: number;
    spans: string | null;
    quantity: unknown;
    reaches: boolean | number;
    reason: string;
  }>(
    from,
    `SELECT "code", "lot_id", "spans", "quantity", "reaches", "reason" FROM "hold"
     WHERE "placed_seq" <= ? AND ("lifted_seq" IS NULL OR "lifted_seq" > ?) ORDER BY "placed_seq", "code", "lot_id"`,
    [seq, seq],
  );
  return rows.map((row) => ({
    hold: row.code,
    lotId: row.lot_id,
    spans: storedSpans(row.spans),
    quantityMicro: row.quantity === null ? null : safeInteger(row.quantity),
    reaches: Boolean(row.reaches),
    reason: row.reason,
  }));
}

/** What went of these lots in shipments that stood at entry `seq`. */
export async function linesAt(from: EntityManager, ids: readonly number[], seq: number): Promise<KnownLine[]> {
  const rows = await selectIn<{
    lot_id: number;
    spans: string | null;
    quantity: unknown;
    shipment: string;
    customer: string;
    shipped_at: string;
    document: string | null;
    dispatched_seq: number;
  }>(
    from,
    `SELECT n."lot_id", n."spans", n."quantity", s."code" AS "shipment", s."customer", s."shipped_at", s."document", s."dispatched_seq"
     FROM "shipment_line" n JOIN "shipment" s ON s."code" = n."shipment"
     WHERE s."dispatched_seq" <= ${seq} AND (s."reversed_seq" IS NULL OR s."reversed_seq" > ${seq}) AND n."lot_id" IN (:list)`,
    ids,
  );
  return rows.map((row) => ({
    lotId: row.lot_id,
    spans: storedSpans(row.spans),
    quantityMicro: safeInteger(row.quantity),
    shipment: row.shipment,
    customer: row.customer,
    shippedAt: row.shipped_at,
    document: row.document,
    seq: row.dispatched_seq,
  }));
}

/** Parties as they were known at entry `seq`, by code. */
export async function partiesAt(from: EntityManager, codes: Iterable<string>, seq: number): Promise<Map<string, Party>> {
  const rows = await selectIn<{ code: string; record: string }>(
    from,
    `SELECT "code", "record" FROM "catalogue_record" WHERE "what" = 'party' AND ${stoodAt(seq)} AND "code" IN (:list)`,
    [...new Set(codes)],
  );
  return new Map(rows.map((row) => [row.code, JSON.parse(row.record) as Party]));
}

/** Serials of the pieces of these lots, by lot id, in order of the pieces. */
export async function serialsOf(from: EntityManager, ids: readonly number[]): Promise<Map<number, string[]>> {
  const rows = await selectIn<{ lot_id: number; piece: number; serial: string }>(
    from,
    'SELECT "lot_id", "piece", "serial" FROM "serial" WHERE "lot_id" IN (:list)',
    ids,
  );
  const found = new Map<number, string[]>();
  for (const { lot_id: id, piece, serial } of rows) {
    const serials = found.get(id) ?? [];
    serials[piece - 1] = serial;
    found.set(id, serials);
  }
  return found;
}
