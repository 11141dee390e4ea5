import { Reasons } from '../../../../shared/refusal.js';
import { accountsOf, addsUp } from './adds-up.decide.js';
import { isContained, type ReportHold } from './contain.decide.js';
import { couldMove, type NeedState } from './needs.decide.js';
import type { ReportFact } from './nonconformance.facts.js';
import { type Disposition, type Report, reportOf } from './report-state.facts.js';
import { type ReviewRule, signatureStanding } from './review-rule.decide.js';
import { moveBetween, type ReportState } from './states.facts.js';

/** What the signatures of one disposition are judged by. */
export interface Signing {
  /** The rule that stood when it was proposed. */
  readonly rule: ReviewRule;
  /** Of what would be signed now. */
  readonly digest: string;
  /** Who made or booked the pieces. */
  readonly makers: readonly string[];
}

/** A report with what every decision on its dispositions rests on. */
export interface DecisionState {
  readonly report: Report;
  /** By number of the disposition, of all that are not withdrawn. */
  readonly signing: ReadonlyMap<number, Signing>;
  /** Open holds that count as the report's own. */
  readonly holds: readonly ReportHold[];
  /** Who decides. */
  readonly actor: string;
}

/** The dispositions that count. */
export const standingOf = (report: Report): Disposition[] => report.dispositions.filter((one) => one.withdrawn === null);

/** What signatures a disposition lacks, in words; empty when it is signed. */
export function lacksOf(one: Disposition, report: Report, signing: DecisionState['signing']): readonly string[] {
  const judgedBy = signing.get(one.disposition);
  return judgedBy === undefined ? ['a signature of quality'] : signatureStanding(one, report, judgedBy).lacks;
}

/** What the needs of a move are judged by. */
export function needsOf({ report, signing, holds }: Pick<DecisionState, 'report' | 'signing' | 'holds'>): NeedState {
  const lacking = new Map<number, readonly string[]>();
  for (const one of standingOf(report)) {
    const lacks = lacksOf(one, report, signing);
    if (lacks.length > 0) lacking.set(one.disposition, lacks);
  }
  return { lacking, contained: isContained(report, holds) };
}

/** The report as it is once a fact is recorded. */
export function reportWith(report: Report, fact: ReportFact, actor: string): Report {
  const seq = (report.entries.at(-1)?.seq ?? 0) + 1;
  return reportOf([...report.entries, { seq, at: '', actor, fact }])!;
}

/** What a report comes to by itself, one after the other, as soon as its needs are met. */
const ONWARD: readonly ReportState[] = ['dispositioned', 'carried-out', 'verified'];

/**
 * The fact with the state it brings the report to: on as far as needs are met, or back to reviewed when something has no disposition any more.
 * @see docs/rules/nonconformance.md NR-1, NR-26
 */
export function settled<F extends ReportFact & { readonly state: ReportState }>(fact: F, state: DecisionState): F {
  const after = reportWith(state.report, fact, state.actor);
  const needs = needsOf({ ...state, report: after });
  const begin = after.state === 'dispositioned' && !addsUp(accountsOf(after)) ? 'reviewed' : after.state;
  const reached = ONWARD.reduce<ReportState>(
    (at, to) => (moveBetween(at, to) && couldMove({ ...after, state: at }, to, needs, new Reasons()) ? to : at),
    begin,
  );
  return { ...fact, state: reached };
}
