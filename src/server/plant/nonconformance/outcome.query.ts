import type { EntityManager } from 'typeorm';
import { type Span, spanSet } from '../../../../shared/spans.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import type { HeldPart } from '../holds/holds.facts.js';
import { nextDocuments } from '../stock/codes.query.js';
import { lotStates } from '../stock/lot-state.query.js';
import type { HoldsState, OwnHold } from './outcome-holds.decide.js';
import { openHoldsOf } from './report-holds.query.js';
import type { Report } from './report-state.facts.js';

/** What lifting and placing holds for an outcome of a report rests on. */
export async function holdsState(tx: EntityManager, lineage: Lineage, report: Report): Promise<HoldsState> {
  const held = await ownHolds(tx, report);
  const lots = await lotStates(
    tx,
    lineage,
    [...new Set(held.map((row) => row.lot))].map((lot) => ({ lot, spans: null })),
  );
  const madeFrom = new Map<string, HeldPart[]>();
  for (const { lot, reaches, quantityMicro } of held) {
    const of = lots.get(lot)!;
    if (reaches && quantityMicro === null && of.pieces === null) madeFrom.set(lot, await madeOf(tx, of.id));
  }
  const numbers = await nextDocuments(tx, 'hold', 'H', 2 * new Set(held.map((row) => row.hold)).size + 2);
  return { report: report.report, held, lots, madeFrom, numbers };
}

/** Open holds of a report, without those that mark a concession. */
async function ownHolds(tx: EntityManager, report: Report): Promise<OwnHold[]> {
  const marks = new Set(report.dispositions.map((one) => one.carriedOut?.fact.hold));
  const open = (await openHoldsOf(tx, report)).filter((row) => !marks.has(row.hold));
  const rows = await selectIn<{ code: string; reaches: boolean | number; reason: string; owner: string }>(
    tx,
    'SELECT DISTINCT "code", "reaches", "reason", "owner" FROM "hold" WHERE "code" IN (:list)',
    [...new Set(open.map((row) => row.hold))],
  );
  const byCode = new Map(rows.map((row) => [row.code, row]));
  return open.map((row) => {
    const { reaches, reason, owner } = byCode.get(row.hold)!;
    return { ...row, reaches: Boolean(reaches), reason, owner };
  });
}

/** The parts that links lead to from a bulk lot. */
async function madeOf(tx: EntityManager, lotId: number): Promise<HeldPart[]> {
  const rows = await queryRows<{ lot: string; pieces: number | null; to_first: number; to_last: number }>(
    tx,
    `SELECT l."code" AS "lot", l."pieces", k."to_first", k."to_last" FROM "link" k JOIN "lot" l ON l."id" = k."to_lot"
     WHERE k."from_lot" = ? AND k."void_seq" IS NULL ORDER BY l."code", k."to_first"`,
    [lotId],
  );
  return [...new Set(rows.map((row) => row.lot))].map((lot) => {
    const into = rows.filter((row) => row.lot === lot);
    const spans = into[0]!.pieces === null ? null : spanSet(into.map((row): Span => [row.to_first, row.to_last]));
    return { lot, spans, quantityMicro: null };
  });
}
