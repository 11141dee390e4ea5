import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { ReportState } from '../nonconformance/states.facts.js';
import type { LotReportView } from './lots.dto.js';

/**
 * The nonconformance reports that judged a part of a lot affected, each with the state it was in at entry `seq`.
 * @see docs/rules/lots.md LT-8
 */
export async function reportsOf(from: EntityManager, lot: string, seq: number): Promise<LotReportView[]> {
  const parts = await queryRows<{ report: string; spans: string | null; quantity: unknown; severity: string; requirement: string }>(
    from,
    `SELECT p."report", p."spans", p."quantity", r."severity", r."requirement" FROM "report_part" p JOIN "report" r ON r."code" = p."report"
     WHERE p."lot" = ? AND p."since_seq" <= ? ORDER BY r."raised_seq", p."part"`,
    [lot, seq],
  );
  const states = await statesAt(
    from,
    parts.map(({ report }) => report),
    seq,
  );
  return parts.map((part) => {
    const state = states.get(part.report) ?? 'raised';
    return {
      report: part.report,
      state,
      open: state !== 'closed' && state !== 'withdrawn',
      severity: part.severity,
      requirement: part.requirement,
      pieces: part.spans,
      quantity: part.quantity === null ? null : formatQuantity(safeInteger(part.quantity)),
    };
  });
}

/** The state that the last entry about each report left it in. */
async function statesAt(from: EntityManager, reports: readonly string[], seq: number): Promise<Map<string, ReportState>> {
  const rows = await selectIn<{ seq: number; body: string }>(
    from,
    `SELECT e."seq", e."body" FROM "entry_subject" s JOIN "ledger_entry" e ON e."seq" = s."seq"
     WHERE s."kind" = 'report' AND s."seq" <= ${seq} AND s."code" IN (:list)`,
    [...new Set(reports)],
  );
  const states = new Map<string, ReportState>();
  for (const { body } of rows.toSorted((a, b) => a.seq - b.seq)) {
    const { report, state } = JSON.parse(body) as { report?: string; state?: ReportState };
    if (report !== undefined && state !== undefined) states.set(report, state);
  }
  return states;
}
