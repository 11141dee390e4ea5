import type { EntityManager } from 'typeorm';
import { formatQuantity, MICRO } from '../../../../shared/quantity.js';
import { countPieces, formatSpans, intersectSpans, type SpanSet, unionSpans } from '../../../../shared/spans.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { Lineage, LotPart } from '../../trace/lineage.js';
import { placesAt, shipmentHeads } from '../../trace/trace.query.js';
import type { HoldReachView, HoldView, ReachedPartView, UrgentReleaseView } from './holds.dto.js';
import { LATEST, spansOf } from './holds.query.js';

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
  lifted_seq: number | null;
  lift_reason: string | null;
}

const HOLDS = 'SELECT h.*, l."code" AS "lot", l."item" FROM "hold" h JOIN "lot" l ON l."id" = h."lot_id"';

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
      placedSeq: row.placed_seq,
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
  const origins = rows.map((row) => ({ lotId: row.lot_id, spans: spansOf(row.spans) }));
  const parts = view.reaches ? await descendantsOf(from, lineage, origins) : new Map<number, SpanSet | null>();
  const reached = await reachedParts(from, parts);
  const pieces = [...parts.values()].reduce((sum, spans) => sum + (spans === null ? 0 : countPieces(spans)), 0);
  return { ...view, reached, reachedLots: parts.size, reachedPieces: pieces };
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

/** Urgent releases, the open ones first, each with the lots made from it (ST-6). */
export async function urgentReleaseViews(from: EntityManager, lineage: Lineage): Promise<UrgentReleaseView[]> {
  const rows = await queryRows<{
    code: string;
    lot_id: number;
    lot: string;
    spans: string | null;
    sets_aside: string;
    reason: string;
    signed_by: string;
    opened_seq: number;
    closed_seq: number | null;
    close_reason: string | null;
  }>(
    from,
    `SELECT u.*, l."code" AS "lot" FROM "urgent_release" u JOIN "lot" l ON l."id" = u."lot_id"
     ORDER BY CASE WHEN u."closed_seq" IS NULL THEN 0 ELSE 1 END, u."opened_seq" DESC`,
  );
  const views: UrgentReleaseView[] = [];
  for (const row of rows) {
    const made = row.closed_seq === null ? await lineage.descendants(from, { lotId: row.lot_id, spans: spansOf(row.spans) }) : [];
    const codes = await selectIn<{ code: string }>(
      from,
      'SELECT "code" FROM "lot" WHERE "id" IN (:list)',
      made.map((part) => part.lotId),
    );
    views.push({
      urgentRelease: row.code,
      lot: row.lot,
      pieces: row.spans,
      setsAside: row.sets_aside.split(','),
      reason: row.reason,
      signedBy: row.signed_by,
      openedSeq: row.opened_seq,
      closedSeq: row.closed_seq,
      closeReason: row.close_reason,
      marks: codes.map((lot) => lot.code).toSorted(),
    });
  }
  return views;
}
