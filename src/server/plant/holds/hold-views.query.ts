import type { EntityManager } from 'typeorm';
import { formatQuantity, MICRO } from '../../../../shared/quantity.js';
import { countPieces, formatSpans, intersectSpans, parseSpans, type SpanSet, unionSpans } from '../../../../shared/spans.js';
import { inWords } from '../../../../shared/written.js';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { Genealogy } from '../../trace/genealogy.js';
import type { Lineage, LotPart } from '../../trace/lineage.js';
import { placesAt, shipmentHeads } from '../../trace/trace.query.js';
import type { Origin } from '../../trace/traced.js';
import { traceForward } from '../../trace/walk.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { meets } from '../stock/lot-state.facts.js';
import type { HoldReachView, HoldView, HoldWhereView, ReachedPartView, UrgentReleaseView } from './holds.dto.js';
import { LATEST } from './holds.query.js';

interface HoldRow {
  code: string;
  lot_id: number;
  lot: string;
  item: string;
  spans: string | null;
  quantity: unknown;
  reaches: boolean | number;
  reason: string;
  owner: string;
  placed_at: string;
  placed_seq: number;
  placed_by: string;
  lifted_seq: number | null;
  lifted_by: string | null;
  lifted_at: string | null;
  lift_reason: string | null;
}

const HOLDS = `SELECT h.*, l."code" AS "lot", l."item", p."actor" AS "placed_by", f."actor" AS "lifted_by", f."at" AS "lifted_at"
  FROM "hold" h JOIN "lot" l ON l."id" = h."lot_id" JOIN "ledger_entry" p ON p."seq" = h."placed_seq"
  LEFT JOIN "ledger_entry" f ON f."seq" = h."lifted_seq"`;

/** Holds, the open ones first, then the newest. */
export async function holdViews(from: EntityManager): Promise<HoldView[]> {
  const rows = await queryRows<HoldRow>(
    from,
    `${HOLDS} ORDER BY CASE WHEN h."lifted_seq" IS NULL THEN 0 ELSE 1 END, h."placed_seq" DESC, h."lot_id"`,
  );
  return viewsOf(rows);
}

function viewsOf(rows: readonly HoldRow[]): HoldView[] {
  const views = new Map<string, HoldView>();
  for (const row of rows) {
    const view = views.get(row.code) ?? {
      hold: row.code,
      parts: [],
      reaches: Boolean(row.reaches),
      reason: row.reason,
      owner: row.owner,
      placedAt: row.placed_at,
      placedBy: row.placed_by,
      placedSeq: row.placed_seq,
      liftedAt: row.lifted_at,
      liftedBy: row.lifted_by,
      liftedSeq: row.lifted_seq,
      liftReason: row.lift_reason,
    };
    views.set(row.code, view);
    const quantity = row.quantity === null ? null : formatQuantity(safeInteger(row.quantity));
    view.parts.push({ lot: row.lot, item: row.item, pieces: row.spans, quantity });
  }
  return [...views.values()];
}

/** One hold with everything it reaches at this moment, or undefined. */
export async function holdReach(from: EntityManager, lineage: Lineage, hold: string): Promise<HoldReachView | undefined> {
  const rows = await queryRows<HoldRow>(from, `${HOLDS} WHERE h."code" = ? ORDER BY h."lot_id"`, [hold]);
  const [view] = viewsOf(rows);
  if (!view) return undefined;
  const origins = rows.map((row) => ({ lotId: row.lot_id, spans: storedSpans(row.spans) }));
  const parts = view.reaches ? await descendantsOf(from, lineage, origins) : new Map<number, SpanSet | null>();
  const own = await reachedParts(from, new Map(origins.map(({ lotId, spans }) => [lotId, spans])));
  const reached = await reachedParts(from, parts);
  const pieces = [...parts.values()].reduce((sum, spans) => sum + (spans === null ? 0 : countPieces(spans)), 0);
  return { ...view, held: own, reached, reachedLots: parts.size, reachedPieces: pieces, where: countsOf([...own, ...reached]) };
}

/** How many lots and pieces are where, and who has what was dispatched. */
function countsOf(parts: readonly ReachedPartView[]): HoldWhereView[] {
  const counts = new Map<string, { lots: Set<string>; pieces: number; customers: Set<string> }>();
  for (const part of parts) {
    const count = counts.get(part.where) ?? { lots: new Set(), pieces: 0, customers: new Set() };
    counts.set(part.where, count);
    count.lots.add(part.lot);
    count.pieces += part.pieces === null ? 0 : countPieces(parseSpans(part.pieces));
    if (part.customer !== null) count.customers.add(part.customer);
  }
  return [...counts]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([where, { lots, pieces, customers }]) => ({ where, lots: lots.size, pieces, customers: [...customers].toSorted() }));
}

async function descendantsOf(from: EntityManager, lineage: Lineage, origins: readonly LotPart[]): Promise<Map<number, SpanSet | null>> {
  const parts = new Map<number, SpanSet | null>();
  for (const origin of origins) {
    for (const { lotId, spans } of await lineage.descendants(from, origin)) {
      const before = parts.get(lotId);
      parts.set(lotId, spans === null || before === null ? null : unionSpans(before ?? [], spans));
    }
  }
  return parts;
}

/** Where the parts are now, lot by lot. */
async function reachedParts(from: EntityManager, parts: ReadonlyMap<number, SpanSet | null>): Promise<ReachedPartView[]> {
  const ids = [...parts.keys()];
  const lots = await selectIn<{ id: number; code: string; item: string; unit: string }>(
    from,
    'SELECT "id", "code", "item", "unit" FROM "lot" WHERE "id" IN (:list)',
    ids,
  );
  const byId = new Map(lots.map((lot) => [lot.id, lot]));
  const places = await placesAt(from, ids, LATEST);
  const heads = await shipmentHeads(
    from,
    places.filter((place) => place.fate === 'dispatched').map((place) => place.at),
  );
  const vessels = await catalogueByCode(
    from,
    'vessel',
    places.filter((place) => place.fate === 'on-hand').map((place) => place.at),
  );
  const views: ReachedPartView[] = [];
  for (const place of places) {
    const wanted = parts.get(place.lotId) ?? null;
    const spans = place.spans === null || wanted === null ? place.spans : intersectSpans(place.spans, wanted);
    if (spans !== null && spans.length === 0) continue;
    const lot = byId.get(place.lotId)!;
    views.push({
      lot: lot.code,
      item: lot.item,
      pieces: spans === null ? null : formatSpans(spans),
      where: place.fate === 'on-hand' && vessels.has(place.at) ? 'in process' : inWords(place.fate),
      fate: place.fate,
      at: place.at,
      quantity: formatQuantity(spans === null ? place.quantityMicro : countPieces(spans) * MICRO),
      unit: lot.unit,
      customer: place.fate === 'dispatched' ? (heads.get(place.at)?.customer ?? null) : null,
    });
  }
  const key = (view: ReachedPartView) => `${view.lot}\u0000${view.fate}\u0000${view.at}`;
  return views.toSorted((a, b) => (key(a) < key(b) ? -1 : 1));
}

/** Urgent releases, the open ones first, each with the lots made from it since it was opened (ST-6); one of them, if named. */
export async function urgentReleaseViews(from: EntityManager, genealogy: Genealogy, code?: string): Promise<UrgentReleaseView[]> {
  const rows = await queryRows<UrgentRow>(
    from,
    `SELECT u.*, l."code" AS "lot", o."at" AS "opened_at", c."actor" AS "closed_by", c."at" AS "closed_at"
     FROM "urgent_release" u JOIN "lot" l ON l."id" = u."lot_id" JOIN "ledger_entry" o ON o."seq" = u."opened_seq"
     LEFT JOIN "ledger_entry" c ON c."seq" = u."closed_seq"${code === undefined ? '' : ' WHERE u."code" = ?'}
     ORDER BY CASE WHEN u."closed_seq" IS NULL THEN 0 ELSE 1 END, u."opened_seq" DESC`,
    code === undefined ? [] : [code],
  );
  const shipments = await shipmentsLeaningOn(from);
  const views: UrgentReleaseView[] = [];
  for (const row of rows) {
    const made = row.closed_seq === null ? madeSince(genealogy, row) : [];
    const codes = await selectIn<{ code: string }>(from, 'SELECT "code" FROM "lot" WHERE "id" IN (:list)', made);
    views.push({
      urgentRelease: row.code,
      lot: row.lot,
      pieces: row.spans,
      setsAside: row.sets_aside.split(','),
      reason: row.reason,
      signedBy: row.signed_by,
      openedAt: row.opened_at,
      openedSeq: row.opened_seq,
      closedAt: row.closed_at,
      closedBy: row.closed_by,
      closedSeq: row.closed_seq,
      closeReason: row.close_reason,
      marks: codes.map((lot) => lot.code).toSorted(),
      shipments: shipments.get(row.code) ?? [],
    });
  }
  return views;
}

/** Shipments with a line that an urgent release let go, by the code of the release; those recorded in error left out. */
async function shipmentsLeaningOn(from: EntityManager): Promise<Map<string, string[]>> {
  const rows = await queryRows<{ release: string; shipment: string }>(
    from,
    `SELECT e."code" AS "release", s."code" AS "shipment" FROM "entry_subject" e JOIN "shipment" s ON s."dispatched_seq" = e."seq"
     WHERE e."kind" = 'urgentRelease' AND s."reversed_seq" IS NULL ORDER BY e."seq"`,
  );
  const shipments = new Map<string, string[]>();
  for (const { release, shipment } of rows) shipments.set(release, [...(shipments.get(release) ?? []), shipment]);
  return shipments;
}

interface UrgentRow {
  code: string;
  lot_id: number;
  lot: string;
  spans: string | null;
  sets_aside: string;
  reason: string;
  signed_by: string;
  opened_at: string;
  opened_seq: number;
  closed_at: string | null;
  closed_by: string | null;
  closed_seq: number | null;
  close_reason: string | null;
}

/** Lots that links recorded after the opening led to, and everything made from them. */
function madeSince(genealogy: Genealogy, row: UrgentRow): number[] {
  const spans = storedSpans(row.spans);
  const into = genealogy
    .linksOf(row.lot_id, 'out')
    .filter((link) => link.seq > row.opened_seq && meets(spans, link.fromFirst === 0 ? null : [[link.fromFirst, link.fromLast]]));
  const origins = into.map((link): Origin => ({ lot: link.toLot, spans: link.toFirst === 0 ? null : [[link.toFirst, link.toLast]] }));
  return origins.length === 0 ? [] : traceForward(genealogy, origins).lots.map(({ lot }) => lot);
}
