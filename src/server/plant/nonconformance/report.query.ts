import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import type { ReportFact } from './nonconformance.facts.js';
import { type Report, type ReportEntry, reportOf } from './report-state.facts.js';

const KINDS: Readonly<Record<ReportFact['kind'], true>> = {
  ReportRaised: true,
  ReportPartJudged: true,
  ReportContained: true,
  ConsigneeTold: true,
  ConsigneeAnswered: true,
  ReportReviewed: true,
  DispositionProposed: true,
  DispositionWithdrawn: true,
  DispositionSigned: true,
  DispositionCarriedOut: true,
  DispositionVerified: true,
  CauseAnalysed: true,
  ActionPlanned: true,
  ActionDone: true,
  EffectivenessPlanned: true,
  EffectivenessChecked: true,
  CostRecorded: true,
  ReportClosed: true,
  ReportWithdrawn: true,
  ReportReopened: true,
};

/**
 * A report as its entries make it; undefined if there is none of that number.
 * @param asKnownAt entries after this one are left out
 */
export async function reportState(tx: EntityManager, report: string, asKnownAt = Number.MAX_SAFE_INTEGER): Promise<Report | undefined> {
  const rows = await queryRows<{ seq: number; at: string; actor: string; kind: string; body: string }>(
    tx,
    `SELECT e."seq", e."at", e."actor", e."kind", e."body" FROM "entry_subject" s JOIN "ledger_entry" e ON e."seq" = s."seq"
     WHERE s."kind" = 'report' AND s."code" = ? ORDER BY e."seq"`,
    [report],
  );
  const entries = rows
    .filter((row) => row.kind in KINDS && row.seq <= asKnownAt)
    .map((row): ReportEntry => ({ seq: row.seq, at: row.at, actor: row.actor, fact: JSON.parse(row.body) as ReportFact }))
    .filter((entry) => entry.fact.report === report);
  return reportOf(entries);
}
