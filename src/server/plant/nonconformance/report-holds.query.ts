import type { EntityManager } from 'typeorm';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { selectIn } from '../../platform/database/rows.js';
import type { ReportHold } from './contain.decide.js';
import type { Report } from './report-state.facts.js';

/** Codes of every hold that was ever a report's own: named by it, placed for it, or by the inspection it was raised from. */
export async function holdCodesOf(tx: EntityManager, report: Report): Promise<string[]> {
  const { source } = report.raised.fact;
  const placed = await selectIn<{ code: string }>(
    tx,
    `SELECT DISTINCT h."code" FROM "entry_subject" s JOIN "hold" h ON h."placed_seq" = s."seq"
     WHERE s."kind" IN ('report', 'inspection') AND s."code" IN (:list)`,
    [report.report, ...(source.kind === 'inspection' && source.code !== null ? [source.code] : [])],
  );
  return [...new Set([...report.holds, ...placed.map((row) => row.code)])];
}

/**
 * Open holds that count as a report's own: placed for it, or by the inspection it was raised from.
 * @see docs/rules/nonconformance.md NR-4, NR-6
 */
export async function openHoldsOf(tx: EntityManager, report: Report): Promise<ReportHold[]> {
  const rows = await selectIn<{ code: string; lot: string; spans: string | null; quantity: unknown }>(
    tx,
    `SELECT h."code", l."code" AS "lot", h."spans", h."quantity" FROM "hold" h JOIN "lot" l ON l."id" = h."lot_id"
     WHERE h."lifted_seq" IS NULL AND h."code" IN (:list)`,
    await holdCodesOf(tx, report),
  );
  return rows
    .map((row) => ({
      hold: row.code,
      lot: row.lot,
      spans: storedSpans(row.spans),
      quantityMicro: row.quantity === null ? null : safeInteger(row.quantity),
    }))
    .toSorted((a, b) => (`${a.hold}\u0000${a.lot}` < `${b.hold}\u0000${b.lot}` ? -1 : 1));
}
