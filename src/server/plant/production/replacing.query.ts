import type { EntityManager } from 'typeorm';
import { formatQuantity, parseQuantity, sumMicro } from '../../../../shared/quantity.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import type { FittedPart } from './replacing.decide.js';
import type { ReplacementView } from './run-view.dto.js';

interface Row {
  seq: number;
  run: string;
  unit_lot: string;
  unit_piece: number;
  unit_serial: string | null;
  item: string;
  old_lot: string;
  old_piece: number | null;
  old_quantity: number | string;
  old_serial: string | null;
  new_lot: string;
  new_piece: number | null;
  new_serial: string | null;
  at: string;
  by: string;
  reason: string;
  location: string | null;
}

const serialOf = (lot: string, piece: string, as: string): string =>
  `(SELECT s."serial" FROM "serial" s JOIN "lot" l ON l."id" = s."lot_id" WHERE l."code" = p."${lot}" AND s."piece" = p."${piece}") AS "${as}"`;

/** Parts replaced by a run, in a unit, or of a lot: an old part stays findable as what was fitted (GE-6). */
export async function replacementsOf(
  tx: EntityManager,
  of: { readonly run: string } | { readonly unitLot: string; readonly unitPiece: number } | { readonly oldLot: string },
): Promise<ReplacementView[]> {
  const [where, values] =
    'run' in of
      ? (['p."run" = ?', [of.run]] as const)
      : 'oldLot' in of
        ? (['p."old_lot" = ?', [of.oldLot]] as const)
        : (['p."unit_lot" = ? AND p."unit_piece" = ?', [of.unitLot, of.unitPiece]] as const);
  const rows = await queryRows<Row>(
    tx,
    `SELECT p.*, ${serialOf('unit_lot', 'unit_piece', 'unit_serial')}, ${serialOf('old_lot', 'old_piece', 'old_serial')},
            ${serialOf('new_lot', 'new_piece', 'new_serial')} FROM "part_replaced" p WHERE ${where} ORDER BY p."seq"`,
    values,
  );
  return rows.map((row) => ({
    unitLot: row.unit_lot,
    unitPiece: row.unit_piece,
    unitSerial: row.unit_serial,
    item: row.item,
    oldLot: row.old_lot,
    oldPiece: row.old_piece,
    oldSerial: row.old_serial,
    oldQuantity: formatQuantity(safeInteger(row.old_quantity)),
    newLot: row.new_lot,
    newPiece: row.new_piece,
    newSerial: row.new_serial,
    at: row.at,
    by: row.by,
    reason: row.reason,
    location: row.location,
    run: row.run,
    seq: row.seq,
  }));
}

/** A link into one unit, as the record has it. */
export interface UnitLink {
  readonly seq: number;
  readonly ord: number;
  readonly lot: string;
  readonly item: string;
  readonly unit: string;
  readonly supplier: string | null;
  readonly supplierLot: string | null;
  /** Exact piece where pieces went one by one; null where any of the span may be in the unit, or the lot is bulk. */
  readonly piece: number | null;
  readonly fromFirst: number;
  readonly fromLast: number;
  /** What the link took, shared by the pieces `toFirst` to `toLast`. */
  readonly quantityMicro: number;
  readonly toFirst: number;
  readonly toLast: number;
  readonly run: string;
  readonly kind: string;
  readonly at: string;
}

/** Every standing link into a unit. */
export async function unitLinks(tx: EntityManager, unitLot: string, unitPiece: number): Promise<UnitLink[]> {
  const rows = await queryRows<{
    seq: number;
    ord: number;
    lot: string;
    item: string;
    unit: string;
    supplier: string | null;
    supplier_lot: string | null;
    from_first: number;
    from_last: number;
    to_first: number;
    to_last: number;
    quantity: number | string;
    each: boolean | number;
    run: string;
    kind: string;
    at: string;
  }>(
    tx,
    `SELECT k.*, f."code" AS "lot", f."item", f."unit", f."supplier", f."supplier_lot" FROM "link" k
     JOIN "lot" f ON f."id" = k."from_lot" JOIN "lot" t ON t."id" = k."to_lot"
     WHERE t."code" = ? AND k."to_first" <= ? AND k."to_last" >= ? AND k."void_seq" IS NULL ORDER BY k."seq", k."ord"`,
    [unitLot, unitPiece, unitPiece],
  );
  return rows.map((row) => ({
    seq: row.seq,
    ord: row.ord,
    lot: row.lot,
    item: row.item,
    unit: row.unit,
    supplier: row.supplier,
    supplierLot: row.supplier_lot,
    piece: row.each ? row.from_first + unitPiece - row.to_first : null,
    fromFirst: row.from_first,
    fromLast: row.from_last,
    quantityMicro: safeInteger(row.quantity),
    toFirst: row.to_first,
    toLast: row.to_last,
    run: row.run,
    kind: row.kind,
    at: row.at,
  }));
}

/** What is in a unit now: the links into it, less the parts with a number that were replaced, each replacement ending one earlier fitting. */
export async function fittedNow(
  tx: EntityManager,
  unitLot: string,
  unitPiece: number,
): Promise<{ inUnit: FittedPart[]; takenMicro: Map<string, number> }> {
  const links = await unitLinks(tx, unitLot, unitPiece);
  const replaced = await replacementsOf(tx, { unitLot, unitPiece });
  const gone = replaced.filter((one) => one.oldPiece !== null);
  const takenMicro = new Map<string, number>();
  for (const { item, oldPiece, oldQuantity } of replaced) {
    if (oldPiece === null) takenMicro.set(item, sumMicro([takenMicro.get(item) ?? 0, parseQuantity(oldQuantity)]));
  }
  const inUnit = links
    .filter((link) => !gone.some((one) => one.oldLot === link.lot && one.oldPiece === link.piece && one.seq > link.seq))
    .map((link) => ({ lot: link.lot, piece: link.piece, run: link.run, item: link.item, shareMicro: shareOf(link) }));
  return { inUnit, takenMicro };
}

/** What a link of a bulk lot put into each of the units it went into. */
export const shareOf = (link: UnitLink): number =>
  link.fromFirst > 0 ? 0 : Math.floor(link.quantityMicro / (link.toLast - link.toFirst + 1));
