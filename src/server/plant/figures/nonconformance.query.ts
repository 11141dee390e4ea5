import type { EntityManager } from 'typeorm';
import { minorDigits } from '../../../../shared/currency.js';
import { storedSpans } from '../../platform/database/columns.js';
import { queryRows, type Value } from '../../platform/database/rows.js';
import type { SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { DispositionKind } from '../nonconformance/disposition.facts.js';
import type { CostRecorded } from '../nonconformance/learning.facts.js';
import { markedReports, reportEntries } from '../nonconformance/report-marks.query.js';
import type { ReportState } from '../nonconformance/states.facts.js';
import { ageingOf } from './ageing.js';
import type {
  AgeingView,
  CostFiguresView,
  CostRowView,
  OverdueView,
  ParetoQueryDto,
  ParetoView,
  PeriodQueryDto,
  RightFirstTimeQueryDto,
  RightFirstTimeRowView,
} from './nonconformance.dto.js';
import { overdueOf, PROMISED, type Promised } from './overdue.js';
import { paretoOf } from './pareto.js';
import { rightFirstTime } from './right-first-time.js';

const within = (at: string, { from, to }: PeriodQueryDto): boolean => (from === undefined || at >= from) && (to === undefined || at < to);

/** Reports raised in a time, counted by what they have. */
export async function paretoFigures(from: EntityManager, { by = 'defect', ...period }: ParetoQueryDto): Promise<ParetoView> {
  const reports = await markedReports(from);
  return paretoOf(
    reports.filter((report) => within(report.raisedAt, period)),
    by,
  );
}

interface Row {
  code: string;
  state: ReportState;
  severity: SeverityClass;
  requirement: string;
  raised_at: string;
  state_at: string;
}

/** Open reports by age, as of a day. */
export async function ageingFigures(from: EntityManager, on: string): Promise<AgeingView> {
  const rows = await queryRows<Row>(
    from,
    `SELECT "code", "state", "severity", "requirement", "raised_at", "state_at" FROM "report"
     WHERE "state" NOT IN ('closed', 'withdrawn') ORDER BY "raised_seq"`,
  );
  return ageingOf(
    rows.map(({ code, state, severity, requirement, raised_at, state_at }) => ({
      report: code,
      state,
      severity,
      requirement,
      raisedAt: raised_at,
      stateAt: state_at,
    })),
    on,
  );
}

/** Costs recorded in a time, by what they are of. @see docs/rules/figures.md F-11 */
export async function costFigures(from: EntityManager, period: PeriodQueryDto, currency: string): Promise<CostFiguresView> {
  const entries = (await reportEntries<CostRecorded>(from, ['CostRecorded'])).filter(({ at }) => within(at, period));
  const kinds = await dispositionKinds(from);
  const rows = new Map<string, CostRowView & { of: Set<string> }>();
  for (const { fact } of entries) {
    const dispositionKind = fact.disposition === null ? null : kinds.get(`${fact.report}\u0000${fact.disposition}`)!;
    const key = `${dispositionKind ?? ''}\u0000${fact.costKind}`;
    const row = rows.get(key) ?? { dispositionKind, kind: fact.costKind, minor: 0, reports: 0, of: new Set<string>() };
    row.of.add(fact.report);
    rows.set(key, { ...row, minor: row.minor + fact.minor, reports: row.of.size });
  }
  const sorted = [...rows].toSorted(([a, x], [b, y]) => y.minor - x.minor || (a < b ? -1 : 1));
  return {
    currency,
    minorDigits: minorDigits(currency),
    rows: sorted.map(([, { dispositionKind, kind, minor, reports }]) => ({ dispositionKind, kind, minor, reports })),
    totalMinor: sorted.reduce((sum, [, row]) => sum + row.minor, 0),
  };
}

async function dispositionKinds(from: EntityManager): Promise<Map<string, DispositionKind>> {
  const rows = await queryRows<{ report: string; disposition: number; kind: DispositionKind }>(
    from,
    'SELECT "report", "disposition", "kind" FROM "disposition"',
  );
  return new Map(rows.map((row) => [`${row.report}\u0000${row.disposition}`, row.kind]));
}

/** First inspections decided in a time. What comes out of a rework run is not there for the first time. */
export async function rightFirstTimeFigures(
  from: EntityManager,
  { item, from: since, to }: RightFirstTimeQueryDto,
): Promise<RightFirstTimeRowView[]> {
  const wanted: (readonly [string, Value])[] = [];
  if (item !== undefined) wanted.push(['i."item" = ?', item]);
  if (since !== undefined) wanted.push(['i."ended_at" >= ?', since]);
  if (to !== undefined) wanted.push(['i."ended_at" < ?', to]);
  const rows = await queryRows<{ item: string; spans: string | null; verdict: string; ended_at: string }>(
    from,
    `SELECT i."item", i."spans", i."verdict", i."ended_at" FROM "inspection" i LEFT JOIN "run" r ON i."occasion" = 'run' AND r."code" = i."source"
     WHERE i."state" = 'decided' AND i."occasion" IN ('delivery', 'run') AND coalesce(r."kind", '') <> 'rework'
       ${wanted.map(([sql]) => ` AND ${sql}`).join('')}
     ORDER BY i."ended_seq", i."code"`,
    wanted.map(([, value]) => value),
  );
  return rightFirstTime(
    rows.map((row) => ({
      item: row.item,
      spans: storedSpans(row.spans),
      accepted: row.verdict === 'accepted',
      decidedAt: row.ended_at,
    })),
  );
}

/** Actions and checks whose day is past. */
export async function overdueFigures(from: EntityManager, today: string): Promise<OverdueView[]> {
  const reports = await queryRows<Row>(from, 'SELECT "code", "state", "severity" FROM "report"');
  const entries = await reportEntries<Promised>(from, PROMISED);
  return overdueOf(
    reports.map(({ code, state, severity }) => ({ report: code, state, severity })),
    entries.map(({ fact }) => fact),
    today,
  );
}
