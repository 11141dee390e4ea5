import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { safeInteger } from '../../platform/database/columns.js';
import { isPostgres, queryRows, type Value } from '../../platform/database/rows.js';
import { placesAt, shipmentHeads } from '../../trace/trace.query.js';
import { catalogueByCode, catalogueOf } from '../catalogue/catalogue.query.js';
import { openHolds } from '../holds/holds.query.js';
import { meets } from '../stock/lot-state.facts.js';
import { codeOrder, type Known, type LotRow, reachedBy, stampedLots } from './lot-row.query.js';
import type { FindLotsDto, LotLineView, LotListView, LotSearchStatus, LotSort, SerialView } from './lots.dto.js';
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
  const [table, column] = status === 'scrapped' ? ['whereabout', 'fate'] : ['lot_status', 'status'];
  return [`l."id" IN (SELECT t."lot_id" FROM "${table}" t WHERE t."${column}" = ? AND t."until_seq" IS NULL)`, status];
}

/** Every column that orders is followed by the code, so that a page is the same each time. */
function orderOf(from: EntityManager, sort: LotSort): string {
  const byCode = codeOrder(from, 'l."code"');
  if (sort === '-bornAt') return `l."born_at" DESC, ${byCode}`;
  return sort === 'expiresOn' ? `l."expires_on" ASC NULLS LAST, ${byCode}` : byCode;
}

/** What lots have to be to match; clauses on a table `lot` called l. */
async function clausesOf(known: Known, asked: FindLotsDto): Promise<{ where: string[]; values: Value[] }> {
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
        OR l."id" IN (SELECT s."lot_id" FROM "serial" s WHERE lower(s."serial") LIKE ? ESCAPE '\\'))`,
      like,
      like,
      like,
    );
  }
  if (asked.lots !== undefined) add(`l."code" IN (${asked.lots.map(() => '?').join(', ') || 'NULL'})`, ...asked.lots);
  if (asked.item !== undefined) add('l."item" = ?', asked.item);
  if (asked.supplier !== undefined) add('l."supplier" = ?', asked.supplier);
  if (asked.origin !== undefined) add('l."origin" = ?', asked.origin);
  if (asked.class !== undefined) {
    const items = (await catalogueOf(from, 'item')).filter((item) => item.class === asked.class).map(({ code }) => code);
    add(items.length === 0 ? '1 = 0' : `l."item" IN (${items.map(() => '?').join(',')})`, ...items);
  }
  if (asked.status !== undefined) add(...(await statusClause(known, asked.status)));
  if (asked.location !== undefined) {
    add(
      `l."id" IN (SELECT w."lot_id" FROM "whereabout" w WHERE w."fate" = 'on-hand' AND w."at" = ? AND w."until_seq" IS NULL)`,
      asked.location,
    );
  }
  return { where, values };
}

const wherePart = (where: readonly string[]): string => (where.length === 0 ? '' : ` WHERE ${where.join(' AND ')}`);

/** Lots that match, a page at a time (ID-1, ID-5): after a code, or from a position on. */
export async function findLots(known: Known, asked: FindLotsDto): Promise<LotListView> {
  const { from } = known;
  const { where, values } = await clausesOf(known, asked);
  const [count] = await queryRows<{ n: unknown }>(from, `SELECT count(*) AS "n" FROM "lot" l${wherePart(where)}`, values);
  const order = orderOf(from, asked.sort ?? 'code');
  if (asked.after !== undefined) {
    where.push(`${codeOrder(from, 'l."code"')} > ?`);
    values.push(asked.after);
  }
  // Whole rows are read of the page alone: what is passed over costs no more than a step in an index.
  const page = `SELECT l."id" FROM "lot" l${wherePart(where)} ORDER BY ${order} LIMIT ? OFFSET ?`;
  const rows = await queryRows<LotRow>(from, `SELECT l.* FROM "lot" l WHERE l."id" IN (${page}) ORDER BY ${order}`, [
    ...values,
    asked.limit ?? 100,
    asked.offset ?? 0,
  ]);
  return { total: safeInteger(count?.n ?? 0), lots: await lotLines(known, rows) };
}

async function lotLines(known: Known, rows: readonly LotRow[]): Promise<LotLineView[]> {
  const onHand = new Map<number, number>();
  const ids = rows.map((row) => row.id);
  for (const part of await placesAt(known.from, ids, known.seq, 'on-hand'))
    onHand.set(part.lotId, (onHand.get(part.lotId) ?? 0) + part.quantityMicro);
  const stamped = await stampedLots(known, rows);
  const items = await catalogueByCode(
    known.from,
    'item',
    rows.map((row) => row.item),
  );
  return rows.map((row) => ({
    lot: row.code,
    item: row.item,
    itemName: items.get(row.item)?.name ?? row.item,
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
