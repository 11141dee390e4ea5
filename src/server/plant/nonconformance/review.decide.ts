import { Reasons } from '../../../../shared/refusal.js';
import type { SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { Signature } from '../people/signature.js';
import { checkMove, type NeedState } from './needs.decide.js';
import type {
  Answered,
  ConsigneeAnswered,
  ConsigneeTold,
  ReportReopened,
  ReportReviewed,
  ReportWithdrawn,
} from './nonconformance.facts.js';
import type { Report } from './report-state.facts.js';

export interface Review {
  readonly severity?: SeverityClass | undefined;
  readonly investigate: Answered;
  readonly inform: Answered;
}

/**
 * The signed review of a contained report.
 * @throws Refusal when it is not contained
 * @see docs/rules/nonconformance.md NR-9
 */
export function decideReview(command: Review, report: Report, needs: NeedState, signature: Signature): ReportReviewed {
  const no = new Reasons();
  checkMove(no, report, 'reviewed', needs);
  no.throwIfAny();
  const { severity = report.severity, investigate, inform } = command;
  return { kind: 'ReportReviewed', v: 1, report: report.report, state: 'reviewed', severity, investigate, inform, signature };
}

/** @see docs/rules/nonconformance.md NR-1 */
export function decideWithdraw(reason: string, report: Report, needs: NeedState, signature: Signature): ReportWithdrawn {
  const no = new Reasons();
  checkMove(no, report, 'withdrawn', needs);
  no.throwIfAny();
  return { kind: 'ReportWithdrawn', v: 1, report: report.report, state: 'withdrawn', reason, signature };
}

/** @see docs/rules/nonconformance.md NR-1 */
export function decideReopen(reason: string, report: Report, needs: NeedState, signature: Signature): ReportReopened {
  const no = new Reasons();
  if (report.state !== 'closed') {
    no.conflict('report-in-other-state', `${report.report} is ${report.state}: only a closed report is opened again`, {
      report: report.report,
      state: report.state,
    });
  } else checkMove(no, report, 'verified', needs);
  no.throwIfAny();
  return { kind: 'ReportReopened', v: 1, report: report.report, state: 'verified', reason, signature };
}

export interface Tell {
  readonly customer: string;
  readonly channel: string;
  readonly what: string;
  readonly toldAt: string;
}

/** What telling a consignee rests on. */
interface TellState {
  readonly report: Report;
  /** Customers that affected goods went to. */
  readonly consignees: readonly string[];
  readonly at: string;
}

/** @see docs/rules/nonconformance.md NR-7 */
export function decideTell(command: Tell, { report, consignees, at }: TellState): ConsigneeTold {
  const no = new Reasons();
  checkConsignee(no, command.customer, consignees, report);
  if (command.toldAt > at) no.conflict('not-yet', `told at ${command.toldAt}, which is still to come`, { pointer: '/toldAt' });
  no.throwIfAny();
  return { kind: 'ConsigneeTold', v: 1, report: report.report, ...command };
}

/** @see docs/rules/nonconformance.md NR-7 */
export function decideAnswer(
  command: { readonly customer: string; readonly answer: string; readonly answeredAt: string },
  { report, consignees, at }: TellState,
): ConsigneeAnswered {
  const no = new Reasons();
  checkConsignee(no, command.customer, consignees, report);
  if (!report.told.some((one) => one.fact.customer === command.customer)) {
    no.conflict('not-told', `${command.customer} has not been told of ${report.report}`, { pointer: '/customer' });
  }
  if (command.answeredAt > at)
    no.conflict('not-yet', `answered at ${command.answeredAt}, which is still to come`, { pointer: '/answeredAt' });
  no.throwIfAny();
  return { kind: 'ConsigneeAnswered', v: 1, report: report.report, ...command };
}

function checkConsignee(no: Reasons, customer: string, consignees: readonly string[], { report }: Report): void {
  if (consignees.includes(customer)) return;
  no.unknown('consignee-unknown', `nothing affected by ${report} went to ${customer}`, { pointer: '/customer', customers: consignees });
}
