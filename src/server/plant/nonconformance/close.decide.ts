import { Reasons } from '../../../../shared/refusal.js';
import type { Signature } from '../people/signature.js';
import { checkNeeds } from './needs.decide.js';
import type { ReportClosed } from './nonconformance.facts.js';
import { type HoldChange, type HoldsState, lifted } from './outcome-holds.decide.js';
import { type DecisionState, needsOf } from './settle.decide.js';

export interface CloseState extends DecisionState {
  readonly outcome: HoldsState;
}

/**
 * Closes a report, and lifts its holds but for parts under a concession.
 * @throws Refusal naming everything that is not done
 * @see docs/rules/nonconformance.md NR-35
 */
export function decideCloseReport(reason: string, state: CloseState, signature: Signature): readonly (HoldChange | ReportClosed)[] {
  const no = new Reasons();
  const { report } = state;
  if (report.state !== 'verified') {
    no.conflict('report-in-other-state', `${report.report} is ${report.state}: from there it does not become closed`, {
      report: report.report,
      state: report.state,
    });
  }
  if (report.state !== 'closed' && report.state !== 'withdrawn') checkNeeds(no, report, 'verified', 'closed', needsOf(state));
  no.throwIfAny();
  const closed: ReportClosed = { kind: 'ReportClosed', v: 1, report: report.report, state: 'closed', reason, signature };
  return [...liftedByClosing(state.outcome), closed];
}

/**
 * Lifts every hold of a report that is closed. Holds that mark a concession are not among those given, and stay.
 * @see docs/rules/nonconformance.md NR-33, NR-35
 */
export const liftedByClosing = ({ report, held }: HoldsState): HoldChange[] =>
  [...new Set(held.map((row) => row.hold))].map((hold) => lifted(hold, report, `${report} is closed`));
