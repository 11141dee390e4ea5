import type { EntityManager } from 'typeorm';
import { minorDigits } from '../../../../shared/currency.js';
import { Reasons } from '../../../../shared/refusal.js';
import { queryRows } from '../../platform/database/rows.js';
import { checkLearned, learningAsked } from './learned.decide.js';
import { COST_KINDS, type EffectivenessChecked, type EffectivenessPlanned } from './learning.facts.js';
import type { Owner } from './learning.decide.js';
import type {
  ActionView,
  CheckedView,
  CostOfDispositionView,
  CostsView,
  CorrectiveCheckView,
  LearningView,
  RecordedView,
  RepeatView,
} from './learning-view.dto.js';
import { markedReports } from './report-marks.query.js';
import { reportState } from './report.query.js';
import type { Report, ReportEntry } from './report-state.facts.js';
import { type Repeat, repeatsOf } from './repeats.js';

/** Whether somebody can own an action. */
export async function ownerOf(tx: EntityManager, person: string): Promise<Owner> {
  const [row] = await queryRows<{ blocked: boolean | number }>(tx, 'SELECT "blocked" FROM "person" WHERE "code" = ?', [person]);
  if (!row) return 'unknown';
  return row.blocked ? 'blocked' : 'there';
}

/**
 * What a report taught the plant; undefined if there is none of that number.
 * @param today the date, `YYYY-MM-DD`: what is overdue depends on it
 */
export async function learningView(
  from: EntityManager,
  code: string,
  { today, currency }: { readonly today: string; readonly currency: string },
): Promise<LearningView | undefined> {
  const report = await reportState(from, code);
  if (!report) return undefined;
  const lacking = new Reasons();
  checkLearned(lacking, report);
  return {
    report: report.report,
    state: report.state,
    asked: learningAsked(report),
    lacking: lacking.list.map(({ code: of, detail }) => ({ code: of, detail })),
    cause: report.cause && { ...pick(report.cause.fact, ['whys', 'categories', 'conclusion']), ...recorded(report.cause) },
    actions: report.actions.map((one) => actionView(one, today)),
    effectiveness: effectivenessViews(report, today),
    costs: costsView(report),
    currency,
    minorDigits: minorDigits(currency),
    repeats: repeatsOf(code, await markedReports(from)).map(repeatView),
  };
}

const recorded = ({ actor, at, seq }: ReportEntry): RecordedView => ({ by: actor, at, seq });

function pick<T extends object, K extends keyof T>(of: T, keys: readonly K[]): { -readonly [P in K]: Mutable<T[P]> } {
  return Object.fromEntries(keys.map((key) => [key, of[key]])) as { -readonly [P in K]: Mutable<T[P]> };
}
type Mutable<T> = T extends readonly (infer E)[] ? E[] : T;

function actionView({ planned, done }: Report['actions'][number], today: string): ActionView {
  const { action, actionKind, what, owner, dueOn } = planned.fact;
  return {
    action,
    kind: actionKind,
    what,
    owner,
    dueOn,
    ...recorded(planned),
    done: done && { ...pick(done.fact, ['evidence', 'files']), ...recorded(done) },
    overdue: done === null && dueOn < today,
  };
}

/** Every criterion with its check: the entries have them all, the report only the last. */
function effectivenessViews({ entries, state }: Report, today: string): CorrectiveCheckView[] {
  const views: CorrectiveCheckView[] = [];
  for (const entry of entries) {
    const last = views.at(-1);
    if (entry.fact.kind === 'EffectivenessPlanned') {
      if (last?.checked === null) last.replaced = true;
      views.push({ ...planView(entry as ReportEntry<EffectivenessPlanned>), checked: null, replaced: false, overdue: false });
    }
    if (entry.fact.kind === 'EffectivenessChecked' && last) last.checked = checkedView(entry as ReportEntry<EffectivenessChecked>);
  }
  const now = views.at(-1);
  if (now) now.overdue = now.checked === null && now.checkOn < today && state !== 'closed' && state !== 'withdrawn';
  return views;
}

const planView = (entry: ReportEntry<EffectivenessPlanned>) => ({ ...pick(entry.fact, ['criterion', 'checkOn']), ...recorded(entry) });

const checkedView = (entry: ReportEntry<EffectivenessChecked>): CheckedView => ({
  ...pick(entry.fact, ['effective', 'harm', 'evidence', 'files', 'reason']),
  ...recorded(entry),
  meaning: entry.fact.signature.meaning,
  closed: entry.fact.state === 'closed',
});

function costsView({ costs, dispositions }: Report): CostsView {
  const sum = (of: Report['costs']): number => of.reduce((total, { fact }) => total + fact.minor, 0);
  const byDisposition = [...new Set(costs.map(({ fact }) => fact.disposition))]
    .toSorted((a, b) => (a ?? 0) - (b ?? 0))
    .map((disposition): CostOfDispositionView => ({
      disposition,
      dispositionKind: dispositions.find((one) => one.disposition === disposition)?.terms.kind ?? null,
      minor: sum(costs.filter(({ fact }) => fact.disposition === disposition)),
    }));
  return {
    entries: costs.map((entry) => ({
      ...pick(entry.fact, ['disposition', 'minor', 'note']),
      kind: entry.fact.costKind,
      ...recorded(entry),
    })),
    byKind: COST_KINDS.map((kind) => ({ kind, minor: sum(costs.filter(({ fact }) => fact.costKind === kind)) })),
    byDisposition,
    totalMinor: sum(costs),
  };
}

const repeatView = ({ of, because }: Repeat): RepeatView => ({
  ...pick(of, ['report', 'state', 'severity', 'requirement', 'raisedAt']),
  because: because.map(({ what, code }) => ({ what: what as Exclude<typeof what, 'line'>, code })),
});
