import { Reasons } from '../../../../shared/refusal.js';
import { afterDecision, decisionFault, type SwitchingDecision, type SwitchingReason } from '../../../../shared/sampling/switching.js';
import { reason as why } from '../../../../shared/sampling/switching-state.js';
import type { Severity } from '../../../../shared/sampling/tables.js';
import type { Revised } from '../catalogue/catalogue.facts.js';
import type { InspectionPlan } from '../catalogue/inspection-plan.facts.js';
import type { Signature } from '../people/signature.js';
import type { SwitchingByClass } from './begin.decide.js';
import type { Switched, SwitchingDecided } from './inspection.facts.js';
import { planKey } from './verdict.decide.js';

/** What quality may decide, as it is asked for. */
export const SWITCHING_DECISIONS = [
  'production-steady',
  'production-irregular',
  'reduced-desired',
  'reduced-not-desired',
  'resume',
  'start',
] as const;
export type AskedSwitching = (typeof SWITCHING_DECISIONS)[number];

export interface DecideSwitching {
  readonly item: string;
  /** Left out: made here. */
  readonly supplier?: string | undefined;
  /** Left out: every class of the plan that the decision can be taken for. */
  readonly class?: 'major' | 'minor' | undefined;
  readonly decision: AskedSwitching;
  /** For `start` alone. */
  readonly severity?: Severity | undefined;
  readonly reason: string;
}

export interface SwitchingDecisionState {
  readonly itemKnown: boolean;
  /** Whether the party named is one that supplies. */
  readonly supplier: 'known' | 'unknown' | 'no-supplier';
  readonly plan: Revised<InspectionPlan> | undefined;
  /** Where each class of the plan stands. */
  readonly switching: SwitchingByClass;
}

/**
 * What quality states about production, wishes or permits, and what it does to the severity of each class concerned.
 * @throws Refusal when there is nothing to switch, or the decision can be taken for no class as things stand
 * @see docs/rules/inspection.md IN-38, IN-39
 */
export function decideSwitching(command: DecideSwitching, state: SwitchingDecisionState, signature: Signature): SwitchingDecided {
  const no = new Reasons();
  const { item, supplier, reason } = command;
  if (!state.itemKnown) no.unknown('item-unknown', `no item ${item}`, { pointer: '/item' });
  if (state.supplier === 'unknown') no.unknown('supplier-unknown', `no party ${supplier}`, { pointer: '/supplier' });
  if (state.supplier === 'no-supplier')
    no.conflict('not-a-supplier', `${supplier} is a customer, not a supplier`, { pointer: '/supplier' });
  const decision = decisionAsked(no, command);
  if (state.itemKnown) checkPlan(no, command, state.plan);
  no.throwIfAny();
  const switched = switchedBy(no, command, decision!, state);
  no.throwIfAny();
  return { kind: 'SwitchingDecided', v: 1, item, supplier: supplier ?? null, decision: decision!, switched, reason, signature };
}

function decisionAsked(no: Reasons, { decision, severity }: DecideSwitching): SwitchingDecision | null {
  if (decision === 'start') {
    if (severity !== undefined) return { about: 'start', severity };
    no.malformed('severity-missing', 'under which severity does inspection start?', { pointer: '/severity' });
    return null;
  }
  if (severity !== undefined) {
    no.malformed('severity-not-asked', 'only a start names the severity: the rules give it otherwise', { pointer: '/severity' });
  }
  if (decision === 'resume') return { about: 'resumption' };
  if (decision === 'production-steady' || decision === 'production-irregular') {
    return { about: 'production', steady: decision === 'production-steady' };
  }
  return { about: 'reduced', desirable: decision === 'reduced-desired' };
}

function checkPlan(no: Reasons, { item, class: of }: DecideSwitching, plan: InspectionPlan | undefined): void {
  if (!plan) no.conflict('no-inspection-plan', `${item} has no inspection plan`, { item });
  else if (!plan.sampling) no.conflict('no-sampling-in-plan', `the plan of ${item} takes no sample: nothing is switched`, { item });
  else if (of !== undefined && !plan.sampling.classes.some((one) => one.class === of)) {
    no.conflict('class-not-in-plan', `the plan of ${item} has no AQL for ${of} nonconformities`, { pointer: '/class', item });
  }
}

/** Each class that the decision can be taken for; a reason for each where there is none. */
function switchedBy(no: Reasons, { class: of }: DecideSwitching, decision: SwitchingDecision, state: SwitchingDecisionState): Switched[] {
  const sampling = state.plan!.sampling!;
  const asked = sampling.classes.filter((one) => of === undefined || one.class === of);
  const faults = new Map(asked.map((one) => [one.class, decisionFault(state.switching.get(one.class)!, decision)]));
  const concerned = asked.filter((one) => faults.get(one.class) === null);
  if (concerned.length === 0) {
    for (const [concerns, fault] of faults) no.conflict('switching-decision-impossible', `${concerns}: ${fault}`, { class: concerns });
  }
  return concerned.map(({ class: concerns, aql }) => {
    const before = state.switching.get(concerns)!;
    const { state: after, reasons } = afterDecision(before, decision);
    // A statement that changes nothing yet is remembered, and is the reason for the state that remembers it.
    return { class: concerns, plan: planKey(sampling, aql), before, after, because: reasons.length > 0 ? reasons : [stated(decision)] };
  });
}

const stated = (decision: SwitchingDecision): SwitchingReason =>
  why(decision.about === 'production' ? '9.3.3 b' : '9.3.3 c', 'stated', decisionWords(decision));

/** A decision in words, as `production is stated as steady`. */
export function decisionWords(decision: SwitchingDecision): string {
  if (decision.about === 'production') return `production is stated as ${decision.steady ? 'steady' : 'irregular'}`;
  if (decision.about === 'reduced') return `reduced inspection is ${decision.desirable ? 'considered' : 'not considered'} desirable`;
  if (decision.about === 'resumption') return 'inspection is resumed';
  return `inspection starts under ${decision.severity} inspection`;
}
