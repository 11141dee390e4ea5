import type { EntityManager } from 'typeorm';
import { type SpanSet, unionSpans, wholeLot } from '../../../../shared/spans.js';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { isPostgres, selectIn } from '../../platform/database/rows.js';
import type { Genealogy } from '../../trace/genealogy.js';
import { placesAt } from '../../trace/trace.query.js';
import { traceBackward, traceForward } from '../../trace/walk.js';
import type { OpenHold } from '../holds/holds.facts.js';
import { openHolds } from '../holds/holds.query.js';
import type { LotStatus } from '../stock/effects.facts.js';
import { meets } from '../stock/lot-state.facts.js';
import type { Stamped } from './stamps.js';

/** A row of table `lot`, as the pages about lots read it. */
export interface LotRow {
  id: number;
  code: string;
  item: string;
  item_revision: number;
  unit: string;
  pieces: number | null;
  quantity: unknown;
  origin: string;
  born_at: string;
  born_seq: number;
  made_on: string | null;
  expires_on: string | null;
  supplier: string | null;
  supplier_lot: string | null;
  supplier_lot_assigned: boolean | number;
  source: string;
}

/** Where and when a page about lots stands: readings, the genealogy, the entry as of which it is written, and that day. */
export interface Known {
  readonly from: EntityManager;
  readonly genealogy: Genealogy;
  readonly seq: number;
  readonly on: string;
}

/** A column of codes in the order of their characters, whatever language the database speaks. */
export const codeOrder = (from: EntityManager, column: string): string => (isPostgres(from) ? `${column} COLLATE "C"` : column);

/** A hold on a lot: its own, or one it has from what it was made from; then `spans` are the pieces that this reaches. */
export interface HoldOn extends OpenHold {
  readonly inherited: boolean;
}

type StampedLot = Stamped & { readonly holds: readonly HoldOn[] };

/** So few that a walk back from each is cheaper than one forward from every hold. */
const FEW = 25;

function byLot<Row>(rows: readonly Row[], lotOf: (row: Row) => number): Map<number, Row[]> {
  const groups = new Map<number, Row[]>();
  for (const row of rows) {
    const group = groups.get(lotOf(row));
    if (group) group.push(row);
    else groups.set(lotOf(row), [row]);
  }
  return groups;
}

/** What the stamps of these lots are made from, by lot id. */
export async function stampedLots(known: Known, rows: readonly LotRow[]): Promise<Map<number, StampedLot>> {
  const { from, seq } = known;
  const ids = rows.map((row) => row.id);
  const statuses = await selectIn<{ lot_id: number; status: LotStatus; spans: string | null }>(
    from,
    `SELECT "lot_id", "status", "spans" FROM "lot_status"
     WHERE "since_seq" <= ${seq} AND ("until_seq" IS NULL OR "until_seq" > ${seq}) AND "lot_id" IN (:list)`,
    ids,
  );
  const statusesOf = byLot(statuses, (one) => one.lot_id);
  const scrapped = byLot(await placesAt(from, ids, seq, 'scrapped'), (part) => part.lotId);
  const holds = await openHolds(from, seq);
  const reached = reachedBy(known, holdsToFollow(known, rows, holds));
  const stamped = rows.map((row): [number, StampedLot] => {
    const here = scrapped.get(row.id) ?? [];
    return [
      row.id,
      {
        pieces: row.pieces,
        expiresOn: row.expires_on,
        statuses: new Map((statusesOf.get(row.id) ?? []).map(({ status, spans }) => [status, storedSpans(spans)])),
        holds: holdsOn(row, holds, reached),
        scrapped: row.pieces === null ? null : here.reduce<SpanSet>((sum, part) => unionSpans(sum, part.spans ?? []), []),
        allScrapped: here.reduce((sum, part) => sum + part.quantityMicro, 0) === safeInteger(row.quantity),
      },
    ];
  });
  return new Map(stamped);
}

/** Reaching holds that may touch any of the lots: all of them, or, for a few lots, those found walking back. */
function holdsToFollow({ genealogy, seq }: Known, rows: readonly LotRow[], holds: readonly OpenHold[]): OpenHold[] {
  const reaching = holds.filter((hold) => hold.reaches);
  if (reaching.length === 0 || rows.length > FEW) return reaching;
  const origins = rows.map((row) => ({ lot: row.id, spans: row.pieces === null ? null : wholeLot(row.pieces) }));
  const traced = traceBackward(genealogy, origins, { asKnownAt: seq });
  return reaching.filter((hold) => {
    const found = traced.get(hold.lotId);
    return found !== undefined && meets(hold.spans, found.spans);
  });
}

/** For each hold the parts made from what it stops: lot id to pieces, null for a bulk lot. */
export function reachedBy({ genealogy, seq }: Known, holds: readonly OpenHold[]): Map<OpenHold, Map<number, SpanSet | null>> {
  return new Map(
    holds.map((hold) => {
      const traced = traceForward(genealogy, [{ lot: hold.lotId, spans: hold.spans }], { asKnownAt: seq });
      return [hold, new Map(traced.reachedByLinks().map((lot) => [lot.lot, lot.again ? lot.again.spans : lot.spans]))];
    }),
  );
}

function holdsOn(row: LotRow, holds: readonly OpenHold[], reached: ReadonlyMap<OpenHold, ReadonlyMap<number, SpanSet | null>>): HoldOn[] {
  const own = holds.filter((hold) => hold.lotId === row.id).map((hold) => ({ ...hold, inherited: false }));
  const inherited = [...reached].flatMap(([hold, lots]) =>
    hold.lotId !== row.id && lots.has(row.id) ? [{ ...hold, spans: lots.get(row.id)!, quantityMicro: null, inherited: true }] : [],
  );
  return [...own, ...inherited];
}
