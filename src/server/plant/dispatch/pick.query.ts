import type { EntityManager } from 'typeorm';
import type { SpanSet } from '../../../../shared/spans.js';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { selectIn, type Value } from '../../platform/database/rows.js';
import type { LotPart } from '../../trace/lineage.js';
import type { OpenHold } from '../holds/holds.facts.js';
import { openHolds } from '../holds/holds.query.js';
import type { LotStatus, Unit } from '../stock/effects.facts.js';
import type { StockLot } from './pick.facts.js';

/** Asks the genealogy what holds or may hold some of a part. */
export type Descendants = (part: LotPart) => Promise<readonly LotPart[]>;

interface StockRow {
  id: number;
  code: string;
  item: string;
  unit: Unit;
  pieces: number | null;
  born_at: string;
  expires_on: string | null;
  at: string;
  quantity: unknown;
  spans: string | null;
}

type Stop = StockLot['stops'][number];

/** Every lot of these items with something on hand, at one location or at any, with all that may stand against dispatching it. */
export async function stockOnHand(
  tx: EntityManager,
  items: Iterable<string>,
  location: string | undefined,
  descendants: Descendants,
): Promise<StockLot[]> {
  const at = location === undefined ? '' : ` AND w."at" = '${location.replaceAll("'", "''")}'`;
  const rows = await selectIn<StockRow>(
    tx,
    `SELECT l."id", l."code", l."item", l."unit", l."pieces", l."born_at", l."expires_on", w."at", w."quantity", w."spans"
     FROM "lot" l JOIN "whereabout" w ON w."lot_id" = l."id"
     WHERE w."fate" = 'on-hand' AND w."until_seq" IS NULL${at} AND l."item" IN (:list)`,
    [...new Set(items)] as Value[],
  );
  const lots = new Map<number, StockRow[]>();
  for (const row of rows) lots.set(row.id, [...(lots.get(row.id) ?? []), row]);
  const statuses = await statusesOf(tx, [...lots.keys()]);
  const stops = await stopsOn(tx, lots, descendants);
  return [...lots].map(([id, here]): StockLot => {
    const lot = here[0]!;
    return {
      lot: lot.code,
      item: lot.item,
      unit: lot.unit,
      pieces: lot.pieces,
      bornAt: lot.born_at,
      expiresOn: lot.expires_on,
      onHand: here
        .map((row) => ({ at: row.at, quantityMicro: safeInteger(row.quantity), spans: storedSpans(row.spans) }))
        .toSorted((a, b) => (a.at < b.at ? -1 : 1)),
      statuses: statuses.get(id) ?? new Map<LotStatus, SpanSet | null>(),
      stops: stops.get(id) ?? [],
    };
  });
}

async function statusesOf(tx: EntityManager, lotIds: readonly number[]): Promise<Map<number, Map<LotStatus, SpanSet | null>>> {
  const rows = await selectIn<{ lot_id: number; status: LotStatus; spans: string | null }>(
    tx,
    'SELECT "lot_id", "status", "spans" FROM "lot_status" WHERE "until_seq" IS NULL AND "lot_id" IN (:list)',
    lotIds,
  );
  const found = new Map<number, Map<LotStatus, SpanSet | null>>();
  for (const row of rows) found.set(row.lot_id, (found.get(row.lot_id) ?? new Map()).set(row.status, storedSpans(row.spans)));
  return found;
}

/** Holds on the lots themselves, and where reaching holds on others arrive in them. */
async function stopsOn(tx: EntityManager, lots: ReadonlyMap<number, unknown>, descendants: Descendants): Promise<Map<number, Stop[]>> {
  const stops = new Map<number, Stop[]>();
  const add = (lotId: number, stop: Stop): void => {
    if (lots.has(lotId)) stops.set(lotId, [...(stops.get(lotId) ?? []), stop]);
  };
  for (const hold of await openHolds(tx)) {
    add(hold.lotId, { hold, inherited: false, spans: hold.spans });
    for (const part of await reachedBy(hold, descendants)) {
      if (part.lotId !== hold.lotId) add(part.lotId, { hold, inherited: true, spans: part.spans });
    }
  }
  return stops;
}

const reachedBy = async (hold: OpenHold, descendants: Descendants): Promise<readonly LotPart[]> =>
  hold.reaches && hold.quantityMicro === null ? descendants({ lotId: hold.lotId, spans: hold.spans }) : [];
