import type { EntityManager } from 'typeorm';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { nextDocument, nextLotCodes } from '../stock/codes.query.js';
import type { BookDelivery, ReceivingState } from './receiving.decide.js';
import type { DeliveryView } from './receiving.dto.js';
import { formatQuantity } from '../../../../shared/quantity.js';
import { safeInteger } from '../../platform/database/columns.js';

export async function receivingState(tx: EntityManager, command: BookDelivery, lotPattern: string, at: string): Promise<ReceivingState> {
  const items = await catalogueByCode(
    tx,
    'item',
    command.lines.map((line) => line.item),
  );
  const classes = command.lines.map((line) => items.get(line.item)?.class ?? 'raw-material');
  const earlier: string[][] = [];
  for (const line of command.lines) earlier.push(await sameSupplierLot(tx, command.supplier, line.item, line.supplierLot));
  return {
    at,
    delivery: await nextDocument(tx, 'delivery', 'D'),
    supplier: (await catalogueByCode(tx, 'party', [command.supplier])).get(command.supplier),
    location: (await catalogueByCode(tx, 'location', [command.location])).get(command.location),
    items,
    codes: await nextLotCodes(tx, lotPattern, classes, command.receivedAt),
    earlier,
    sameDocument: await sameDocument(tx, command),
    serialsTaken: await serialsTaken(tx, command),
  };
}

async function sameSupplierLot(tx: EntityManager, supplier: string, item: string, supplierLot: string | undefined): Promise<string[]> {
  if (supplierLot === undefined) return [];
  const rows = await queryRows<{ code: string }>(
    tx,
    `SELECT l."code" FROM "lot" l WHERE l."supplier_lot" = ? AND l."supplier" = ? AND l."item" = ?
       AND NOT EXISTS (SELECT 1 FROM "delivery" d WHERE d."code" = l."source" AND d."reversed_seq" IS NOT NULL)
     ORDER BY l."id"`,
    [supplierLot, supplier, item],
  );
  return rows.map((row) => row.code);
}

async function sameDocument(tx: EntityManager, command: BookDelivery): Promise<string[]> {
  const rows = await queryRows<{ code: string }>(
    tx,
    'SELECT "code" FROM "delivery" WHERE "supplier" = ? AND "document_type" = ? AND "document" = ? AND "reversed_seq" IS NULL ORDER BY "code"',
    [command.supplier, command.documentType, command.document],
  );
  return rows.map((row) => row.code);
}

async function serialsTaken(tx: EntityManager, command: BookDelivery): Promise<{ item: string; serial: string }[]> {
  const wanted = new Set(command.lines.flatMap((line) => (line.serials ?? []).map((serial) => `${line.item}\u0000${serial}`)));
  const rows = await selectIn<{ item: string; serial: string }>(
    tx,
    'SELECT "item", "serial" FROM "serial" WHERE "serial" IN (:list)',
    command.lines.flatMap((line) => line.serials ?? []),
  );
  return rows.filter((row) => wanted.has(`${row.item}\u0000${row.serial}`));
}

interface Head {
  code: string;
  supplier: string;
  document_type: string;
  document: string;
  received_at: string;
  location: string;
  condition: string;
  note: string | null;
  booked_seq: number;
  reversed_seq: number | null;
  reverse_reason: string | null;
}

interface LineRow {
  lot: string;
  item: string;
  unit: string;
  quantity: unknown;
  supplier_lot: string;
  supplier_lot_assigned: number | boolean;
  containers: number | null;
  made_on: string | null;
  expires_on: string | null;
  earlier: string;
  expired_on_arrival: number | boolean;
}

/** One delivery with its lines, or undefined. */
export async function deliveryView(tx: EntityManager, delivery: string): Promise<DeliveryView | undefined> {
  const [head] = await queryRows<Head>(tx, 'SELECT * FROM "delivery" WHERE "code" = ?', [delivery]);
  if (!head) return undefined;
  const lines = await queryRows<LineRow>(
    tx,
    `SELECT d."lot", l."item", l."unit", l."quantity", l."supplier_lot", l."supplier_lot_assigned", d."containers", l."made_on",
            l."expires_on", d."earlier", d."expired_on_arrival"
     FROM "delivery_line" d JOIN "lot" l ON l."code" = d."lot" WHERE d."delivery" = ? ORDER BY d."line"`,
    [delivery],
  );
  return {
    delivery: head.code,
    supplier: head.supplier,
    documentType: head.document_type,
    document: head.document,
    receivedAt: head.received_at,
    location: head.location,
    condition: head.condition,
    note: head.note,
    seq: head.booked_seq,
    reversed: head.reversed_seq === null ? null : { seq: head.reversed_seq, reason: head.reverse_reason ?? '' },
    lines: lines.map((line) => ({
      lot: line.lot,
      item: line.item,
      quantity: formatQuantity(safeInteger(line.quantity)),
      unit: line.unit,
      supplierLot: line.supplier_lot,
      supplierLotAssigned: Boolean(line.supplier_lot_assigned),
      containers: line.containers,
      madeOn: line.made_on,
      expiresOn: line.expires_on,
      earlier: JSON.parse(line.earlier) as string[],
      expiredOnArrival: Boolean(line.expired_on_arrival),
    })),
  };
}

/** Deliveries, newest first. */
export async function deliveries(tx: EntityManager, limit: number): Promise<DeliveryView[]> {
  const rows = await queryRows<{ code: string }>(tx, 'SELECT "code" FROM "delivery" ORDER BY "booked_seq" DESC LIMIT ?', [limit]);
  const views: DeliveryView[] = [];
  for (const row of rows) views.push((await deliveryView(tx, row.code))!);
  return views;
}
