import { formatQuantity } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import type { Role } from '../people/people.facts.js';
import type { Signature } from '../people/signature.js';
import type { DispositionSigned, DispositionWithdrawn } from './disposition.facts.js';
import type { Disposition, Report } from './report-state.facts.js';
import { SIGNING_FUNCTIONS, signatureStanding } from './review-rule.decide.js';
import { type DecisionState, reportWith, lacksOf, settled } from './settle.decide.js';
import type { ReportState } from './states.facts.js';

/** The disposition of that number. @throws Refusal when there is none */
export function numbered(report: Report, disposition: number): Disposition {
  const one = report.dispositions.find((of) => of.disposition === disposition);
  if (one) return one;
  const no = new Reasons();
  no.unknown('disposition-unknown', `${report.report} has no disposition ${disposition}`, { report: report.report, disposition });
  no.throwIfAny();
  throw new Error('unreachable');
}

/**
 * The disposition of that number, if anything can still be decided about it.
 * @throws Refusal when there is none, it was withdrawn, or the report is in a state where nothing is decided about dispositions
 */
export function begun(no: Reasons, report: Report, disposition: number, states: readonly ReportState[]): Disposition {
  const one = numbered(report, disposition);
  const at = { report: report.report, disposition };
  if (one.withdrawn !== null) {
    no.conflict('disposition-withdrawn', `disposition ${disposition} of ${report.report} was taken back: ${one.withdrawn}`, at);
  }
  if (!states.includes(report.state)) {
    no.conflict('report-in-other-state', `${report.report} is ${report.state}: nothing more is decided about its dispositions`, {
      report: report.report,
      state: report.state,
    });
  }
  return one;
}

export interface Sign {
  readonly disposition: number;
  /** The function the signer signs for. */
  readonly as: Role;
}

/**
 * Signs a disposition for one of the signer's functions. The last signature that is waited for may bring the report on.
 * @throws Refusal when the function is not the signer's, they signed before, or nothing is waited for
 * @see docs/rules/nonconformance.md NR-23 to NR-26
 */
export function decideSign(
  command: Sign,
  state: DecisionState & { readonly roles: readonly Role[] },
  signature: Signature,
): DispositionSigned {
  const no = new Reasons();
  const { report, signing } = state;
  const one = begun(no, report, command.disposition, ['reviewed', 'dispositioned', 'carried-out', 'verified']);
  const at = { report: report.report, disposition: one.disposition };
  if (!state.roles.includes(command.as)) {
    no.forbidden('function-not-theirs', `${signature.by} does not work as ${command.as}`, { pointer: '/as', as: command.as });
  } else if (!SIGNING_FUNCTIONS.includes(command.as)) {
    no.forbidden('function-signs-nothing', `${command.as} signs no disposition`, { pointer: '/as', as: command.as });
  }
  const judgedBy = signing.get(one.disposition);
  if (judgedBy !== undefined) {
    const { valid, lacks } = signatureStanding(one, report, judgedBy);
    if (valid.some((earlier) => earlier.fact.signature.by === signature.by)) {
      no.conflict('signed-already', `${signature.by} has signed disposition ${one.disposition} of ${report.report}`, at);
    } else if (lacks.length === 0) {
      const who = valid.map((earlier) => earlier.fact.signature.by).join(' and ');
      no.conflict('signed-in-full', `disposition ${one.disposition} of ${report.report} waits for no signature: ${who} signed it`, at);
    }
  }
  no.throwIfAny();
  const fact: DispositionSigned = {
    kind: 'DispositionSigned',
    v: 1,
    report: report.report,
    state: report.state,
    disposition: one.disposition,
    as: command.as,
    digest: judgedBy!.digest,
    complete: false,
    signature,
  };
  const after = reportWith(report, fact, state.actor);
  const signed = after.dispositions.find((of) => of.disposition === one.disposition)!;
  return settled({ ...fact, complete: lacksOf(signed, after, signing).length === 0 }, state);
}

/**
 * Takes a disposition back that was not carried out; its part is open again.
 * @param taken of the part, in millionths, by a rework run since it was signed: what is being reworked is reworked to the end
 * @see docs/rules/nonconformance.md NR-27
 */
export function decideWithdrawDisposition(
  command: { readonly disposition: number; readonly reason: string },
  state: DecisionState & { readonly takenMicro: number },
): DispositionWithdrawn {
  const no = new Reasons();
  const { report } = state;
  const one = begun(no, report, command.disposition, ['reviewed', 'dispositioned']);
  const at = { report: report.report, disposition: one.disposition };
  if (one.carriedOut !== null) {
    no.conflict('carried-out-already', `disposition ${one.disposition} of ${report.report} is carried out`, at);
  } else if (state.takenMicro > 0) {
    const what = `${formatQuantity(state.takenMicro)} of ${one.terms.part.lot}`;
    no.conflict('work-begun', `${what} went into a rework run for disposition ${one.disposition}: take it back, or finish it`, at);
  }
  no.throwIfAny();
  return settled(
    {
      kind: 'DispositionWithdrawn',
      v: 1,
      report: report.report,
      state: report.state,
      disposition: one.disposition,
      reason: command.reason,
    },
    state,
  );
}
