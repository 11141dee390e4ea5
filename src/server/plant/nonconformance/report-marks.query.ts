import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import type { SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { CauseAnalysed } from './learning.facts.js';
import type { ReportFact, ReportRaised, Source } from './nonconformance.facts.js';
import type { ReportState } from './states.facts.js';

/** Something a report can have in common with another. */
export interface Mark {
  readonly what: 'item' | 'supplier' | 'line' | 'defect' | 'vessel' | 'instrument' | 'cause';
  readonly code: string;
}

export interface MarkedReport {
  readonly report: string;
  readonly state: ReportState;
  readonly severity: SeverityClass;
  readonly requirement: string;
  readonly raisedAt: string;
  /** Each once, sorted by what it is and its code. */
  readonly marks: readonly Mark[];
  readonly defects: readonly { readonly defect: string; readonly count: number }[];
}

interface Row {
  code: string;
  state: ReportState;
  severity: SeverityClass;
  requirement: string;
  source: Source;
  source_code: string | null;
  raised_at: string;
}

/**
 * Every report that is not withdrawn, first to last, with what it can have in common with others: items, suppliers, lines and vessels of its
 * lots, instruments that judged them, defects that were found, kinds of cause.
 */
export async function markedReports(from: EntityManager): Promise<MarkedReport[]> {
  const rows = await queryRows<Row>(
    from,
    `SELECT "code", "state", "severity", "requirement", "source", "source_code", "raised_at" FROM "report"
     WHERE "state" <> 'withdrawn' ORDER BY "raised_seq"`,
  );
  const marks = new Map<string, Mark[]>();
  const add = (report: string, what: Mark['what'], code: string | null): void => {
    if (code === null) return;
    const known = marks.get(report) ?? marks.set(report, []).get(report)!;
    if (!known.some((mark) => mark.what === what && mark.code === code)) known.push({ what, code });
  };
  for (const row of rows) if (row.source === 'instrument') add(row.code, 'instrument', row.source_code);
  for (const { report, item, supplier, line } of await lotMarks(from)) {
    add(report, 'item', item);
    add(report, 'supplier', supplier);
    add(report, 'line', line);
  }
  for (const { report, vessel } of await vesselMarks(from)) add(report, 'vessel', vessel);
  for (const { report, instrument } of await instrumentMarks(from)) add(report, 'instrument', instrument);
  const defects = await entriesOf<ReportRaised>(from, 'ReportRaised');
  for (const { report, defects: found } of defects.values()) for (const { defect } of found) add(report, 'defect', defect);
  for (const { report, categories } of (await entriesOf<CauseAnalysed>(from, 'CauseAnalysed')).values())
    for (const category of categories) add(report, 'cause', category);
  return rows.map((row) => ({
    report: row.code,
    state: row.state,
    severity: row.severity,
    requirement: row.requirement,
    raisedAt: row.raised_at,
    marks: (marks.get(row.code) ?? []).toSorted((a, b) => (`${a.what}\u0000${a.code}` < `${b.what}\u0000${b.code}` ? -1 : 1)),
    defects: defects.get(row.code)?.defects ?? [],
  }));
}

const lotMarks = (from: EntityManager) =>
  queryRows<{ report: string; item: string; supplier: string | null; line: string | null }>(
    from,
    `SELECT DISTINCT p."report", l."item", l."supplier", r."line" FROM "report_part" p
     JOIN "lot" l ON l."code" = p."lot" LEFT JOIN "run" r ON r."code" = l."source"`,
  );

const vesselMarks = (from: EntityManager) =>
  queryRows<{ report: string; vessel: string }>(
    from,
    `SELECT DISTINCT p."report", v."vessel" FROM "report_part" p JOIN "vessel_batch" v ON v."lot" = p."lot"`,
  );

const instrumentMarks = (from: EntityManager) =>
  queryRows<{ report: string; instrument: string }>(
    from,
    `SELECT DISTINCT p."report", t."instrument" FROM "report_part" p JOIN "test_result" t ON t."lot" = p."lot"
     WHERE t."instrument" IS NOT NULL AND t."until_seq" IS NULL`,
  );

/** The last entry of a kind about each report. */
async function entriesOf<F extends ReportFact>(from: EntityManager, kind: F['kind']): Promise<Map<string, F>> {
  const rows = await reportEntries<F>(from, [kind]);
  return new Map(rows.map(({ fact }) => [fact.report, fact]));
}

/** Entries of some kinds about all reports, first to last. */
export async function reportEntries<F extends ReportFact>(
  from: EntityManager,
  kinds: readonly F['kind'][],
): Promise<{ readonly at: string; readonly fact: F }[]> {
  const rows = await queryRows<{ at: string; body: string; report: string }>(
    from,
    `SELECT e."at", e."body", s."code" AS "report" FROM "entry_subject" s JOIN "ledger_entry" e ON e."seq" = s."seq"
     WHERE s."kind" = 'report' AND e."kind" IN (${kinds.map(() => '?').join(', ')}) ORDER BY e."seq"`,
    [...kinds],
  );
  // An entry may name another report than its own.
  return rows
    .map((row) => ({ at: row.at, of: row.report, fact: JSON.parse(row.body) as F }))
    .filter(({ of, fact }) => fact.report === of)
    .map(({ at, fact }) => ({ at, fact }));
}
