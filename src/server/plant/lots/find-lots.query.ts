import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows, type Value } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import { placesAt } from '../../trace/trace.query.js';
import { meets } from '../stock/lot-state.facts.js';
import { type LotRow, NOW, stamped } from './lot-row.query.js';
import type { FindLotsDto, LotLineView, LotListView, SerialView } from './lots.dto.js';
import { stampsOf } from './stamps.js';

/** `%` and `_` in what was typed stand for themselves. */
const containing = (text: string): string => `%${text.toLowerCase().replaceAll(/[\\%_]/g, (mark) => `\\${mark}`)}%`;

/** Lots that match, by code, a page at a time (ID-1, ID-5). */
export async function findLots(from: EntityManager, lineage: Lineage, asked: FindLotsDto, on: string): Promise<LotListView> {
  const where: string[] = [];
  const values: Value[] = [];
  const add = (clause: string, ...given: Value[]): void => {
    where.push(clause);
    values.push(...given);
  };
  if (asked.query !== undefined) {
    const like = containing(asked.query);
    add(
      `(lower(l."code") LIKE ? ESCAPE '\\' OR lower(l."supplier_lot") LIKE ? ESCAPE '\\'
        OR EXISTS (SELECT 1 FROM "serial" s WHERE s."lot_id" = l."id" AND lower(s."serial") LIKE ? ESCAPE '\\'))`,
      like,
      like,
      like,
    );
  }
  if (asked.item !== undefined) add('l."item" = ?', asked.item);
  if (asked.supplier !== undefined) add('l."supplier" = ?', asked.supplier);
  if (asked.status !== undefined) add('EXISTS (SELECT 1 FROM "lot_status" t WHERE t."lot_id" = l."id" AND t."until_seq" IS NULL AND t."status" = ?)', asked.status);
  if (asked.location !== undefined) {
    add(`EXISTS (SELECT 1 FROM "whereabout" w WHERE w."lot_id" = l."id" AND w."until_seq" IS NULL AND w."fate" = 'on-hand' AND w."at" = ?)`, asked.location);
  }
  const clause = where.length === 0 ? '' : ` WHERE ${where.join(' AND ')}`;
  const [count] = await queryRows<{ n: unknown }>(from, `SELECT count(*) AS "n" FROM "lot" l${clause}`, values);
  if (asked.after !== undefined) add('l."code" > ?', asked.after);
  const page = where.length === 0 ? '' : ` WHERE ${where.join(' AND ')}`;
  const rows = await queryRows<LotRow>(from, `SELECT l.* FROM "lot" l${page} ORDER BY l."code" LIMIT ?`, [...values, asked.limit ?? 100]);
  return { total: safeInteger(count?.n ?? 0), lots: await lotLines(from, lineage, rows, on) };
}

async function lotLines(from: EntityManager, lineage: Lineage, rows: readonly LotRow[], on: string): Promise<LotLineView[]> {
  const ids = rows.map((row) => row.id);
  const onHand = await placesAt(from, ids, NOW, 'on-hand');
  const lines: LotLineView[] = [];
  for (const row of rows) {
    const here = onHand.filter((part) => part.lotId === row.id).reduce((sum, part) => sum + part.quantityMicro, 0);
    lines.push({
      lot: row.code,
      item: row.item,
      unit: row.unit,
      pieces: row.pieces,
      quantity: formatQuantity(safeInteger(row.quantity)),
      onHand: formatQuantity(here),
      origin: row.origin,
      bornAt: row.born_at,
      supplier: row.supplier,
      supplierLot: row.supplier_lot,
      expiresOn: row.expires_on,
      stamps: stampsOf(await stamped(from, lineage, row, NOW), on),
    });
  }
  return lines;
}

/** A serial, in every item that has one like it, with where the piece is. */
export async function serialViews(from: EntityManager, serial: string): Promise<SerialView[]> {
  const rows = await queryRows<{ item: string; serial: string; lot_id: number; lot: string; piece: number }>(
    from,
    'SELECT s.*, l."code" AS "lot" FROM "serial" s JOIN "lot" l ON l."id" = s."lot_id" WHERE s."serial" = ? ORDER BY s."item"',
    [serial],
  );
  const places = await placesAt(
    from,
    rows.map((row) => row.lot_id),
    NOW,
  );
  return rows.map((row) => {
    const part = places.find(({ lotId, spans }) => lotId === row.lot_id && meets(spans, [[row.piece, row.piece]]));
    return { item: row.item, serial: row.serial, lot: row.lot, piece: row.piece, fate: part?.fate ?? 'nowhere', at: part?.at ?? '' };
  });
}
