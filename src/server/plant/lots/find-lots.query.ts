import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { safeInteger } from '../../platform/database/columns.js';
import { isPostgres, queryRows, type Value } from '../../platform/database/rows.js';
import { placesAt, shipmentHeads } from '../../trace/trace.query.js';
import { openHolds } from '../holds/holds.query.js';
import { meets } from '../stock/lot-state.facts.js';
import { codeOrder, type Known, type LotRow, reachedBy, stampedLots } from './lot-row.query.js';
import type { FindLotsDto, LotLineView, LotListView, LotSearchStatus, SerialView } from './lots.dto.js';
import { stampsOf } from './stamps.js';

/** `%` and `_` in what was typed stand for themselves. */
const containing = (text: string): string => `%${text.toLowerCase().replaceAll(/[\\%_]/g, (mark) => `\\${mark}`)}%`;

/** Ids of lots as one bound value, however many they are. */
const among = (from: EntityManager, ids: Iterable<number>): [clause: string, value: string] =>
  isPostgres(from)
    ? [`l."id" = ANY(string_to_array(?, ',')::int[])`, [...ids].join(',')]
    : ['l."id" IN (SELECT "value" FROM json_each(?))', `[${[...ids].join(',')}]`];

/** Every lot that an open hold stops, itself or by what it was made from. */
async function heldLots(known: Known): Promise<Set<number>> {
  const holds = await openHolds(known.from, known.seq);
  const reached = reachedBy(
    known,
    holds.filter((hold) => hold.reaches),
  );
  return new Set([...holds.map((hold) => hold.lotId), ...[...reached.values()].flatMap((lots) => [...lots.keys()])]);
}

async function statusClause(known: Known, status: LotSearchStatus): Promise<[clause: string, value: Value]> {
  if (status === 'held') return among(known.from, await heldLots(known));
  if (status === 'expired') return ['l."expires_on" < ?', known.on];
  const exists = (table: string, column: string) =>
    `EXISTS (SELECT 1 FROM "${table}" t WHERE t."lot_id" = l."id" AND t."until_seq" IS NULL AND t."${column}" = ?)`;
  return [status === 'scrapped' ? exists('whereabout', 'fate') : exists('lot_status', 'status'), status];
}

/** Lots that match, by code, a page at a time (ID-1, ID-5). */
export async function findLots(known: Known, asked: FindLotsDto): Promise<LotListView> {
  const { from } = known;
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
  if (asked.lots !== undefined) add(`l."code" IN (${asked.lots.map(() => '?').join(', ') || 'NULL'})`, ...asked.lots);
  if (asked.item !== undefined) add('l."item" = ?', asked.item);
  if (asked.supplier !== undefined) add('l."supplier" = ?', asked.supplier);
  if (asked.status !== undefined) add(...(await statusClause(known, asked.status)));
  if (asked.location !== undefined) {
    add(
      `EXISTS (SELECT 1 FROM "whereabout" w WHERE w."lot_id" = l."id" AND w."until_seq" IS NULL AND w."fate" = 'on-hand' AND w."at" = ?)`,
      asked.location,
    );
  }
  const clause = where.length === 0 ? '' : ` WHERE ${where.join(' AND ')}`;
  const [count] = await queryRows<{ n: unknown }>(from, `SELECT count(*) AS "n" FROM "lot" l${clause}`, values);
  const order = codeOrder(from, 'l."code"');
  if (asked.after !== undefined) add(`${order} > ?`, asked.after);
  const page = where.length === 0 ? '' : ` WHERE ${where.join(' AND ')}`;
  const rows = await queryRows<LotRow>(from, `SELECT l.* FROM "lot" l${page} ORDER BY ${order} LIMIT ?`, [...values, asked.limit ?? 100]);
  return { total: safeInteger(count?.n ?? 0), lots: await lotLines(known, rows) };
}

async function lotLines(known: Known, rows: readonly LotRow[]): Promise<LotLineView[]> {
  const onHand = new Map<number, number>();
  const ids = rows.map((row) => row.id);
  for (const part of await placesAt(known.from, ids, known.seq, 'on-hand'))
    onHand.set(part.lotId, (onHand.get(part.lotId) ?? 0) + part.quantityMicro);
  const stamped = await stampedLots(known, rows);
  return rows.map((row) => ({
    lot: row.code,
    item: row.item,
    unit: row.unit,
    pieces: row.pieces,
    quantity: formatQuantity(safeInteger(row.quantity)),
    onHand: formatQuantity(onHand.get(row.id) ?? 0),
    origin: row.origin,
    bornAt: row.born_at,
    supplier: row.supplier,
    supplierLot: row.supplier_lot,
    expiresOn: row.expires_on,
    stamps: stampsOf(stamped.get(row.id)!, known.on),
  }));
}

/** A serial, in every item that has one like it, with where the piece is and who has it. */
export async function serialViews({ from, seq }: Known, serial: string): Promise<SerialView[]> {
  const rows = await queryRows<{ item: string; serial: string; lot_id: number; lot: string; piece: number }>(
    from,
    `SELECT s.*, l."code" AS "lot" FROM "serial" s JOIN "lot" l ON l."id" = s."lot_id" WHERE s."serial" = ? ORDER BY ${codeOrder(from, 's."item"')}`,
    [serial],
  );
  const ids = rows.map((row) => row.lot_id);
  const places = await placesAt(from, ids, seq);
  const placeOf = (row: { lot_id: number; piece: number }) =>
    places.find(({ lotId, spans }) => lotId === row.lot_id && meets(spans, [[row.piece, row.piece]]));
  const shipments = rows.flatMap((row) => placeOf(row) ?? []).filter(({ fate }) => fate === 'dispatched');
  const heads = await shipmentHeads(
    from,
    shipments.map(({ at }) => at),
  );
  return rows.map((row) => {
    const part = placeOf(row);
    const customer = part?.fate === 'dispatched' ? (heads.get(part.at)?.customer ?? null) : null;
    return {
      item: row.item,
      serial: row.serial,
      lot: row.lot,
      piece: row.piece,
      fate: part?.fate ?? 'nowhere',
      at: part?.at ?? '',
      customer,
    };
  });
}
