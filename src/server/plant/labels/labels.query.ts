import type { EntityManager } from 'typeorm';
import { writtenPieces, writtenQuantity } from '../../../../shared/written.js';
import type { LabelSubject } from '../../documents/label.model.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import { catalogueByCode, catalogueRevision } from '../catalogue/catalogue.query.js';
import type { Origin } from '../stock/effects.facts.js';

/** What is printed the same on every label of one printing. */
export type Printing = Pick<LabelSubject, 'plantName' | 'demo' | 'printedOn'>;

interface LotRow {
  code: string;
  item: string;
  item_revision: number;
  unit: string;
  pieces: number | null;
  quantity: unknown;
  origin: Origin;
  born_at: string;
  made_on: string | null;
  expires_on: string | null;
  supplier: string | null;
  supplier_lot: string | null;
  supplier_lot_assigned: boolean | number;
}

const HOW: Readonly<Record<Origin, LabelSubject['came']['how']>> = {
  received: 'received',
  made: 'made',
  returned: 'returned',
  opening: 'brought over',
};

/** Lot codes of a delivery in the order of its lines, and whether it was booked in error; undefined when there is no such delivery. */
export async function lotsOfDelivery(from: EntityManager, delivery: string): Promise<{ lots: string[]; reversed: boolean } | undefined> {
  const [head] = await queryRows<{ reversed_seq: number | null }>(from, 'SELECT "reversed_seq" FROM "delivery" WHERE "code" = ?', [
    delivery,
  ]);
  if (!head) return undefined;
  const lines = await queryRows<{ lot: string }>(from, 'SELECT "lot" FROM "delivery_line" WHERE "delivery" = ? ORDER BY "line"', [
    delivery,
  ]);
  return { lots: lines.map(({ lot }) => lot), reversed: head.reversed_seq !== null };
}

/** The lot that a unit is a piece of, or undefined. */
export async function lotOfUnit(from: EntityManager, item: string, serial: string): Promise<string | undefined> {
  const [row] = await queryRows<{ code: string }>(
    from,
    'SELECT l."code" FROM "serial" s JOIN "lot" l ON l."id" = s."lot_id" WHERE s."item" = ? AND s."serial" = ?',
    [item, serial],
  );
  return row?.code;
}

/** What the label of a lot, or of one unit in it, is made from; undefined when there is no such lot. */
export async function labelSubject(
  from: EntityManager,
  printing: Printing,
  lot: string,
  serial: string | null = null,
): Promise<LabelSubject | undefined> {
  const [row] = await queryRows<LotRow>(from, 'SELECT * FROM "lot" WHERE "code" = ?', [lot]);
  if (!row) return undefined;
  const item = await catalogueRevision(from, 'item', row.item, row.item_revision);
  return {
    ...printing,
    item: {
      code: row.item,
      name: item?.name ?? row.item,
      gtin: item?.gtin ?? null,
      hazard: item?.hazard ?? null,
      storage: item?.storage ?? null,
    },
    lot: row.code,
    makersLot: isMakersLot(row),
    serial,
    quantity: serial === null ? writtenSize(row) : null,
    supplier: await supplierOf(from, row),
    came: { how: HOW[row.origin], on: row.origin === 'made' && row.made_on !== null ? row.made_on : row.born_at.slice(0, 10) },
    expiresOn: row.expires_on,
  };
}

const writtenSize = ({ pieces, quantity, unit }: LotRow): string =>
  pieces === null ? writtenQuantity(safeInteger(quantity), unit) : writtenPieces(pieces);

/** Lots made here carry the maker's code, and so do goods received under the supplier's own. @see docs/rules/labels.md LB-9 */
function isMakersLot({ origin, code, supplier, supplier_lot: theirs, supplier_lot_assigned: assigned }: LotRow): boolean {
  if (origin === 'made') return true;
  if (origin === 'opening' && supplier === null) return true;
  return theirs === code && !assigned;
}

async function supplierOf(from: EntityManager, row: LotRow): Promise<LabelSubject['supplier']> {
  if (row.supplier === null) return null;
  const party = (await catalogueByCode(from, 'party', [row.supplier])).get(row.supplier);
  return { name: party?.name ?? row.supplier, lot: row.supplier_lot_assigned ? null : row.supplier_lot };
}
