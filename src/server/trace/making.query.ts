import type { EntityManager } from 'typeorm';
import type { RunInProcess, WasFitted } from '../../../shared/api/trace.js';
import { formatQuantity, MICRO } from '../../../shared/quantity.js';
import { countPieces, coversSpans, intersectSpans, parseSpans } from '../../../shared/spans.js';
import { safeInteger } from '../platform/database/columns.js';
import { queryRows, selectIn } from '../platform/database/rows.js';
import type { LotCard } from './load.query.js';
import { type Affected, byText } from './trace.answer.js';

/** Runs that had taken affected material and were not closed at entry `seq`. */
export async function runsInProcess(
  from: EntityManager,
  affected: readonly Affected[],
  cards: readonly LotCard[],
  seq: number,
): Promise<RunInProcess[]> {
  const rows = await queryRows<{
    run: string;
    kind: string;
    place: string | null;
    started_at: string;
    lot_id: number;
    quantity: unknown;
    spans: string | null;
  }>(
    from,
    `SELECT r."code" AS "run", r."kind", coalesce(r."vessel", r."line") AS "place", r."started_at", w."lot_id", w."quantity", w."spans"
     FROM "run" r JOIN "whereabout" w ON w."fate" = 'consumed' AND w."at" = r."code"
     WHERE r."started_seq" <= ? AND (r."closed_seq" IS NULL OR r."closed_seq" > ?) AND w."since_seq" <= ?
       AND (w."until_seq" IS NULL OR w."until_seq" > ?) ORDER BY r."code", w."lot_id"`,
    [seq, seq, seq, seq],
  );
  const wanted = new Map(affected.map(({ lot, spans }) => [lot, spans]));
  const runs = new Map<
    string,
    { run: string; kind: string; place: string | null; startedAt: string; took: RunInProcess['took'][number][] }
  >();
  for (const row of rows) {
    const spans = wanted.get(row.lot_id);
    if (spans === undefined) continue;
    const taken = row.spans === null || spans === null ? null : intersectSpans(spans, parseSpans(row.spans));
    if (taken !== null && taken.length === 0) continue;
    const run = runs.get(row.run) ?? { run: row.run, kind: row.kind, place: row.place, startedAt: row.started_at, took: [] };
    const quantityMicro = taken === null ? safeInteger(row.quantity) : countPieces(taken) * MICRO;
    run.took.push({ lot: cards[row.lot_id]!.lot, spans: taken, quantity: formatQuantity(quantityMicro) });
    runs.set(row.run, run);
  }
  return [...runs.values()]
    .map((run) => ({ ...run, took: run.took.toSorted(byText((part) => part.lot)) }))
    .toSorted(byText((run) => run.run));
}

/** Affected units whose affected part was replaced by entry `seq`: as built they hold it, as they are they do not. */
export async function unitsOnceFitted(
  from: EntityManager,
  affected: readonly Affected[],
  cards: readonly LotCard[],
  seq: number,
): Promise<WasFitted[]> {
  const byCode = new Map(affected.map(({ lot, spans }) => [cards[lot]!.lot, spans]));
  const rows = await selectIn<{
    unit_lot: string;
    unit_piece: number;
    serial: string | null;
    old_lot: string;
    old_piece: number | null;
    new_lot: string;
    at: string;
    reason: string;
  }>(
    from,
    `SELECT p."unit_lot", p."unit_piece", s."serial", p."old_lot", p."old_piece", p."new_lot", p."at", p."reason"
     FROM "part_replaced" p JOIN "lot" l ON l."code" = p."unit_lot"
     LEFT JOIN "serial" s ON s."lot_id" = l."id" AND s."piece" = p."unit_piece"
     WHERE p."seq" <= ${seq} AND p."old_lot" IN (:list) ORDER BY p."seq"`,
    [...byCode.keys()],
  );
  const holds = (lot: string, piece: number | null): boolean => {
    const spans = byCode.get(lot);
    return spans !== undefined && (spans === null || piece === null || coversSpans(spans, [[piece, piece]]));
  };
  return rows
    .filter((row) => holds(row.old_lot, row.old_piece) && holds(row.unit_lot, row.unit_piece))
    .map((row) => ({
      lot: row.unit_lot,
      piece: row.unit_piece,
      serial: row.serial,
      part: row.old_lot,
      partPiece: row.old_piece,
      replacedBy: row.new_lot,
      at: row.at,
      reason: row.reason,
    }))
    .toSorted(byText((unit) => `${unit.lot}\u0000${String(unit.piece).padStart(10, '0')}\u0000${unit.at}`));
}
