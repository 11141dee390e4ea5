import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { writtenDate } from '../../../../shared/written.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { fittingRows } from './find-rows.query.js';
import type { Match, Matches, Rank } from './matching.js';

interface LotCells {
  code: string;
  item: string;
  unit: string;
  pieces: number | null;
  quantity: unknown;
  origin: string;
  born_at: string;
  source: string;
  supplier: string | null;
  rank: Rank;
}
interface SerialCells {
  serial: string;
  item: string;
  lot: string;
  piece: number;
  rank: Rank;
}
interface SupplierLotCells {
  supplier: string;
  supplier_lot: string;
  rank: Rank;
}

const LOT = 'l."code", l."item", l."unit", l."pieces", l."quantity", l."origin", l."born_at", l."source", l."supplier"';
const SERIAL = 's."serial", s."item", s."piece", l."code" AS "lot"';
const SERIALS = '"serial" s JOIN "lot" l ON l."id" = s."lot_id"';
/** Plant lots of one supplier lot that are named one by one. */
const NAMED = 3;

/** Plant lots, serials and suppliers' lots that fit what was typed. */
export async function findStock(from: EntityManager, asked: string, limit: number): Promise<Matches[]> {
  const lots = await fittingRows<LotCells>(from, { from: '"lot" l', code: 'l."code"', columns: LOT }, asked, limit);
  const serials = await fittingRows<SerialCells>(from, { from: SERIALS, code: 's."serial"', columns: SERIAL }, asked, limit);
  const suppliers = await fittingRows<SupplierLotCells>(
    from,
    {
      from: '(SELECT DISTINCT "supplier", "supplier_lot" FROM "lot" WHERE "supplier_lot" IS NOT NULL AND "supplier" IS NOT NULL) p',
      code: 'p."supplier_lot"',
      columns: 'p."supplier", p."supplier_lot"',
    },
    asked,
    limit,
  );
  return [
    { matches: await lotMatches(from, lots.rows), total: lots.total },
    { matches: await serialMatches(from, serials.rows), total: serials.total },
    { matches: await supplierLotMatches(from, suppliers.rows), total: suppliers.total },
  ];
}

/**
 * What a scanned label names: a plant lot or a supplier's, and a serial, exactly as they stand there.
 * @param item only of this item; undefined: of any, as no item was named
 */
export async function findScanned(
  from: EntityManager,
  { lot, serial }: { readonly lot?: string | undefined; readonly serial?: string | undefined },
  item: string | undefined,
): Promise<Match[]> {
  const only = item === undefined ? '' : ' AND l."item" = ?';
  const values = item === undefined ? [] : [item];
  const exactly = <Row>(sql: string, code: string): Promise<(Row & { rank: Rank })[]> =>
    queryRows<Row & { rank: Rank }>(from, `${sql} = ?${only} ORDER BY l."id"`, [code, ...values]);
  const found: Match[] = [];
  if (serial !== undefined) {
    const rows = await exactly<SerialCells>(`SELECT 0 AS "rank", ${SERIAL} FROM ${SERIALS} WHERE s."serial"`, serial);
    found.push(...(await serialMatches(from, rows)));
  }
  if (lot !== undefined) {
    const rows = await exactly<LotCells>(`SELECT 0 AS "rank", ${LOT} FROM "lot" l WHERE l."code"`, lot);
    found.push(...(await lotMatches(from, rows)));
    const theirs = `SELECT DISTINCT 0 AS "rank", l."supplier", l."supplier_lot" FROM "lot" l WHERE l."supplier" IS NOT NULL AND l."supplier_lot"`;
    const named = await queryRows<SupplierLotCells>(from, `${theirs} = ?${only} ORDER BY l."supplier"`, [lot, ...values]);
    found.push(...(await supplierLotMatches(from, named, item)));
  }
  return found;
}

async function itemNames(from: EntityManager, rows: readonly { readonly item: string }[]): Promise<(item: string) => string> {
  const items = await catalogueByCode(
    from,
    'item',
    rows.map((row) => row.item),
  );
  return (item) => items.get(item)?.name ?? item;
}

async function lotMatches(from: EntityManager, rows: readonly LotCells[]): Promise<Match[]> {
  const name = await itemNames(from, rows);
  return rows.map((row) => ({
    rank: row.rank,
    found: { kind: 'lot', code: row.code, of: row.item, lot: row.code, supplier: null, piece: null, says: lotWords(row, name(row.item)) },
  }));
}

function lotWords(row: LotCells, name: string): string {
  const amount =
    row.pieces === null
      ? `${formatQuantity(safeInteger(row.quantity))} ${row.unit}`
      : `${row.pieces} ${row.pieces === 1 ? 'piece' : 'pieces'}`;
  const on = writtenDate(row.born_at);
  const came =
    row.origin === 'received'
      ? `received ${on}${row.supplier === null ? '' : ` from ${row.supplier}`}`
      : `${row.origin} ${on}, ${row.source}`;
  return `${amount} ${name}, ${came}`;
}

async function serialMatches(from: EntityManager, rows: readonly SerialCells[]): Promise<Match[]> {
  const name = await itemNames(from, rows);
  return rows.map((row) => ({
    rank: row.rank,
    found: {
      kind: 'serial',
      code: row.serial,
      of: row.lot,
      lot: row.lot,
      supplier: null,
      piece: row.piece,
      says: `${name(row.item)}, piece ${row.piece} of lot ${row.lot}`,
    },
  }));
}

async function supplierLotMatches(from: EntityManager, rows: readonly SupplierLotCells[], item?: string): Promise<Match[]> {
  const lots = await selectIn<{ id: number; code: string; item: string; supplier: string | null; supplier_lot: string }>(
    from,
    'SELECT "id", "code", "item", "supplier", "supplier_lot" FROM "lot" WHERE "supplier_lot" IN (:list)',
    [...new Set(rows.map((row) => row.supplier_lot))],
  );
  const name = await itemNames(from, lots);
  return rows.map((row) => {
    const of = lots
      .filter((lot) => lot.supplier === row.supplier && lot.supplier_lot === row.supplier_lot && (item === undefined || lot.item === item))
      .toSorted((a, b) => b.id - a.id);
    const named = of.slice(0, NAMED).map(({ code }) => code);
    const more = of.length > NAMED ? ` and ${of.length - NAMED} more` : '';
    const names = [...new Set(of.map((lot) => name(lot.item)))].toSorted().join(', ');
    const says = `${names} of ${row.supplier}, here ${named.join(', ')}${more}`;
    return {
      rank: row.rank,
      found: {
        kind: 'supplier-lot',
        code: row.supplier_lot,
        of: named[0] ?? null,
        lot: named[0] ?? null,
        lots: of.map((lot) => lot.code),
        supplier: row.supplier,
        piece: null,
        says,
      },
    };
  });
}
