import type { EntityManager } from 'typeorm';
import type { SpanSet } from '../../../shared/spans.js';
import { safeInteger, storedSpans } from '../platform/database/columns.js';
import { queryRows, selectIn } from '../platform/database/rows.js';

/** A part of a lot at a place, as it was known at an entry. */
export interface PartThen {
  readonly lotId: number;
  readonly fate: string;
  readonly at: string;
  readonly quantityMicro: number;
  readonly spans: SpanSet | null;
}

/** Where the parts of these lots were at entry `seq`; only of one fate, if given. */
export async function placesAt(from: EntityManager, lotIds: readonly number[], seq: number, fate?: string): Promise<PartThen[]> {
  const only = fate === undefined ? '' : `"fate" = '${fate}' AND `;
  const rows = await selectIn<{ lot_id: number; fate: string; at: string; quantity: unknown; spans: string | null }>(
    from,
    `SELECT "lot_id", "fate", "at", "quantity", "spans" FROM "whereabout"
     WHERE ${only}"since_seq" <= ${seq} AND ("until_seq" IS NULL OR "until_seq" > ${seq}) AND "lot_id" IN (:list)`,
    lotIds,
  );
  return rows.map((row) => ({
    lotId: row.lot_id,
    fate: row.fate,
    at: row.at,
    quantityMicro: safeInteger(row.quantity),
    spans: storedSpans(row.spans),
  }));
}

/** Customer and instant of shipments, by code. */
export async function shipmentHeads(
  from: EntityManager,
  shipments: Iterable<string>,
): Promise<Map<string, { customer: string; at: string }>> {
  const rows = await selectIn<{ code: string; customer: string; shipped_at: string }>(
    from,
    'SELECT "code", "customer", "shipped_at" FROM "shipment" WHERE "code" IN (:list)',
    [...new Set(shipments)],
  );
  return new Map(rows.map((row) => [row.code, { customer: row.customer, at: row.shipped_at }]));
}

/** Class of items, by code. */
export async function itemClasses(from: EntityManager): Promise<Map<string, string>> {
  const rows = await queryRows<{ code: string; record: string }>(
    from,
    `SELECT "code", "record" FROM "catalogue_record" WHERE "what" = 'item' AND "until_seq" IS NULL`,
  );
  return new Map(rows.map((row) => [row.code, (JSON.parse(row.record) as { class: string }).class]));
}

export async function entryAt(from: EntityManager, seq: number): Promise<string | null> {
  const [row] = await queryRows<{ at: string }>(from, 'SELECT "at" FROM "ledger_entry" WHERE "seq" = ?', [seq]);
  return row?.at ?? null;
}
