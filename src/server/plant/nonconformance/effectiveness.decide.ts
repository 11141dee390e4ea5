import { Reasons } from '../../../../shared/refusal.js';
import type { Signature } from '../people/signature.js';
import { liftedByClosing } from './close.decide.js';
import { checkCorrective, correctiveActions, learningAsked } from './learned.decide.js';
import { checkFiles, checkOpen } from './learning.decide.js';
import type { EffectivenessChecked } from './learning.facts.js';
import { checkMove } from './needs.decide.js';
import type { HoldChange, HoldsState } from './outcome-holds.decide.js';
import type { Report } from './report-state.facts.js';
import { type DecisionState, needsOf, reportWith } from './settle.decide.js';

type CheckEffectiveness = Pick<EffectivenessChecked, 'effective' | 'harm' | 'evidence' | 'files' | 'reason'>;

/** What a check of effectiveness rests on. */
interface CheckState extends DecisionState {
  readonly outcome: HoldsState;
  readonly stored: ReadonlySet<string>;
  /** The date, `YYYY-MM-DD`. */
  readonly today: string;
}

/**
 * The signed check of the corrective action, by the criterion set beforehand. One that found it effective closes a report that is verified,
 * and lifts its holds as a closing does; one that did not leaves the report where it is, with another action and another check to come.
 * @throws Refusal with everything that stands against the check and, where it would close the report, against closing
 * @see docs/rules/nonconformance.md NR-35, NR-44, NR-45
 */
export function decideCheckEffectiveness(
  command: CheckEffectiveness,
  state: CheckState,
  signature: Signature,
): readonly (HoldChange | EffectivenessChecked)[] {
  const no = new Reasons();
  const { report } = state;
  const checked: EffectivenessChecked = {
    kind: 'EffectivenessChecked',
    v: 1,
    report: report.report,
    state: report.state,
    ...command,
    signature,
  };
  checkCriterion(no, command.effective, state);
  checkChecker(no, report, signature.by);
  const after = reportWith(report, checked, state.actor);
  const closes = command.effective && report.state === 'verified';
  // Where closing asks for the actions, its needs name those that are missing.
  if (!closes || !learningAsked(after)) checkCorrective(no, report, correctiveActions(report));
  if (closes) checkMove(no, after, 'closed', needsOf({ ...state, report: after }));
  checkFiles(no, command.files, state.stored);
  no.throwIfAny();
  return closes ? [...liftedByClosing(state.outcome), { ...checked, state: 'closed' }] : [checked];
}

/** That it did not work may show at any time; that it did shows on the day set for it. */
function checkCriterion(no: Reasons, effective: boolean, { report, today }: CheckState): void {
  checkOpen(no, report);
  const at = { report: report.report };
  const planned = report.effectiveness;
  if (planned === null) {
    no.conflict('criterion-missing', `no criterion is set by which the action of ${report.report} could be checked`, at);
  } else if (planned.checked !== null) {
    const { seq } = planned.checked;
    no.conflict('checked-already', `entry ${seq} has checked ${report.report} by this criterion: set another, and its day`, at);
  } else if (effective && planned.planned.fact.checkOn > today) {
    const { checkOn } = planned.planned.fact;
    no.conflict('check-not-due', `it is checked on ${checkOn}: today, ${today}, nobody can say yet that it works`, { ...at, checkOn });
  }
}

function checkChecker(no: Reasons, report: Report, by: string): void {
  const own = correctiveActions(report).filter(({ planned }) => planned.fact.owner === by);
  if (own.length === 0) return;
  const numbers = own.map(({ planned }) => planned.fact.action);
  no.forbidden('checks-own-action', `${by} owns corrective action ${numbers.join(', ')} of ${report.report}: another person checks it`, {
    report: report.report,
    actions: numbers,
  });
}
