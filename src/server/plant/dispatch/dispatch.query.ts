import type { EntityManager } from 'typeorm';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { nextDocument } from '../stock/codes.query.js';
import { partsWithStates, serialPieces } from './asked-lines.query.js';
import type { Dispatch, DispatchState, ReversalState } from './dispatch.decide.js';
import { stockOnHand } from './pick.query.js';

/** What dispatching rests on, read while the write lock is held. */
export async function dispatchState(tx: EntityManager, lineage: Lineage, command: Dispatch, at: string): Promise<DispatchState> {
  const parties = await catalogueByCode(tx, 'party', [command.customer, ...(command.billTo === undefined ? [] : [command.billTo])]);
  const serials = await serialPieces(tx, command.lines);
  const parts = await partsWithStates(tx, lineage, command.lines, serials);
  const items = parts.flatMap((part) => (part.state ? [part.state.item] : []));
  return {
    at,
    shipment: await nextDocument(tx, 'shipment', 'S'),
    customer: parties.get(command.customer),
    billTo: command.billTo === undefined ? undefined : parties.get(command.billTo),
    location: (await catalogueByCode(tx, 'location', [command.location])).get(command.location),
    sameDocument: await sameDocument(tx, command),
    serials,
    parts,
    stock: await stockOnHand(tx, items, command.location, (part) => lineage.descendants(tx, part)),
  };
}

async function sameDocument(tx: EntityManager, command: Dispatch): Promise<string[]> {
  const rows = await queryRows<{ code: string }>(
    tx,
    `SELECT "code" FROM "shipment"
     WHERE "customer" = ? AND "document_type" = ? AND "document" = ? AND "reversed_seq" IS NULL ORDER BY "code"`,
    [command.customer, command.documentType, command.document],
  );
  return rows.map((row) => row.code);
}

/** What reversing a shipment rests on; undefined if there is none of that number. */
export async function reversalState(tx: EntityManager, shipment: string): Promise<ReversalState | undefined> {
  const [head] = await queryRows<{ dispatched_seq: number; reversed_seq: number | null; location: string | null }>(
    tx,
    'SELECT "dispatched_seq", "reversed_seq", "location" FROM "shipment" WHERE "code" = ?',
    [shipment],
  );
  if (!head) return undefined;
  const returns = await queryRows<{ code: string }>(
    tx,
    `SELECT DISTINCT r."code" FROM "return_line" n JOIN "goods_return" r ON r."code" = n."return_code"
     WHERE n."shipment" = ? AND r."reversed_seq" IS NULL ORDER BY r."code"`,
    [shipment],
  );
  const out = await queryRows<{ lot: string; spans: string | null; quantity: unknown }>(
    tx,
    `SELECT l."code" AS "lot", w."spans", w."quantity" FROM "whereabout" w JOIN "lot" l ON l."id" = w."lot_id"
     WHERE w."fate" = 'dispatched' AND w."at" = ? AND w."until_seq" IS NULL ORDER BY l."code"`,
    [shipment],
  );
  return {
    shipment,
    dispatchedSeq: head.dispatched_seq,
    reversedSeq: head.reversed_seq,
    location: head.location,
    returns: returns.map((row) => row.code),
    out: out.map((row) => ({
      lot: row.lot,
      spans: storedSpans(row.spans),
      quantityMicro: safeInteger(row.quantity),
    })),
  };
}
