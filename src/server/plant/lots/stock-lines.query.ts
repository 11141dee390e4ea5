import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { queryRows, type Value } from '../../platform/database/rows.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { codeOrder, type Known, type LotRow, stampedLots } from './lot-row.query.js';
import type { StockLineView, SupplyView } from './stock-lines.dto.js';
import { stampsOf } from './stamps.js';

/** Stock on hand by item and location, what expires first standing first (ST-8). */
export async function stockLines(
  known: Known,
  asked: { readonly item?: string | undefined; readonly location?: string | undefined },
): Promise<StockLineView[]> {
  const rows = await lotsOnHand(known.from, asked.item, asked.location);
  const stamped = await stampedLots(known, [...new Map(rows.map((row) => [row.id, row])).values()]);
  return rows.map((row) => {
    const here = storedSpans(row.spans);
    return {
      item: row.item,
      location: row.at,
      lot: row.code,
      pieces: row.spans,
      quantity: formatQuantity(safeInteger(row.here)),
      unit: row.unit,
      expiresOn: row.expires_on,
      bornAt: row.born_at,
      stamps: stampsOf(stamped.get(row.id)!, known.on, here),
    };
  });
}

async function lotsOnHand(from: EntityManager, item: string | undefined, location: string | undefined) {
  const where = [`w."fate" = 'on-hand'`, 'w."until_seq" IS NULL'];
  const values: Value[] = [];
  if (item !== undefined) {
    where.push('l."item" = ?');
    values.push(item);
  }
  if (location !== undefined) {
    where.push('w."at" = ?');
    values.push(location);
  }
  return queryRows<LotRow & { at: string; here: unknown; spans: string | null }>(
    from,
    `SELECT l.*, w."at", w."quantity" AS "here", w."spans" FROM "whereabout" w JOIN "lot" l ON l."id" = w."lot_id" WHERE ${where.join(' AND ')}
     ORDER BY ${codeOrder(from, 'l."item"')}, ${codeOrder(from, 'w."at"')}, coalesce(l."expires_on", '9999'), l."born_at", l."id"`,
    values,
  );
}

/** Everyone who supplied an item between two dates (RC-3). */
export async function suppliersOf(from: EntityManager, item: string, since: string, until: string): Promise<SupplyView[]> {
  const rows = await queryRows<{ supplier: string; lots: unknown; quantity: unknown; first: string; last: string }>(
    from,
    `SELECT "supplier", count(*) AS "lots", sum("quantity") AS "quantity", min("born_at") AS "first", max("born_at") AS "last" FROM "lot"
     WHERE "item" = ? AND "origin" = 'received' AND "supplier" IS NOT NULL AND "born_at" >= ? AND "born_at" < ?
       AND "source" NOT IN (SELECT "code" FROM "delivery" WHERE "reversed_seq" IS NOT NULL) GROUP BY "supplier" ORDER BY ${codeOrder(from, '"supplier"')}`,
    [item, since, until],
  );
  const parties = await catalogueByCode(
    from,
    'party',
    rows.map((row) => row.supplier),
  );
  return rows.map((row) => ({
    supplier: row.supplier,
    supplierName: parties.get(row.supplier)?.name ?? row.supplier,
    lots: safeInteger(row.lots),
    quantity: formatQuantity(safeInteger(row.quantity)),
    first: row.first,
    last: row.last,
  }));
}
