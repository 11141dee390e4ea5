import { pointsFor, SCORE_FOR_REDUCED } from './switching-score.js';
import {
  canGoReduced,
  enter,
  type LotOutcome,
  reason,
  type Switched,
  type SwitchingDecision,
  type SwitchingReason,
  type SwitchingState,
} from './switching-state.js';
import type { Severity } from './tables.js';

/*
 * The switching rules of ISO 2859-1:1999, clause 9, as a machine: state in, state out, every step explained. One state is kept per item,
 * supplier, plan and class of nonconformity. The conventions C1 to C9, where the standard is silent, are in docs/switching.md.
 */

// What a state is lives beside its rules; whoever runs the machine finds both here.
export { canGoReduced, startOfSwitching } from './switching-state.js';
export type {
  LotOutcome,
  ReducedCondition,
  Switched,
  SwitchingDecision,
  SwitchingReason,
  SwitchingSeverity,
  SwitchingState,
} from './switching-state.js';

/** A decision that cannot be taken as things stand; `message` says why. */
export class SwitchingFault extends Error {
  override readonly name = 'SwitchingFault';
}

const WINDOW = 5;
const REFUSALS_FOR_TIGHTENED = 2;
const ACCEPTED_FOR_NORMAL = 5;
const REFUSALS_FOR_DISCONTINUATION = 5;

/** 9.3.3: normal to reduced when all conditions hold; says what is missing once the score is there (C3). */
function towardsReduced(state: SwitchingState): { readonly state: SwitchingState; readonly reasons: readonly SwitchingReason[] } {
  if (state.severity !== 'normal' || state.score < SCORE_FOR_REDUCED) return { state, reasons: [] };
  const { can, conditions } = canGoReduced(state);
  if (can) {
    const words = conditions.slice(1).map((condition) => condition.words);
    return { state: enter(state, 'reduced'), reasons: [reason('9.3.3', 'reduced', words.join(', '))] };
  }
  const missing = conditions.filter(({ met }) => !met).map((condition) => condition.words);
  return { state, reasons: [reason('9.3.3', 'reduced-not-yet', `score ${state.score}, but ${missing.join(' and ')}`)] };
}

type Step = Pick<Switched, 'state' | 'scoreReached' | 'reasons'>;

/** 9.3.1, 9.3.3 and the score: what is not accepted is held against the 2 of 5 before anything is said of reduced (C6). */
function afterNormalLot(state: SwitchingState, lot: LotOutcome): Step {
  const { points, words } = pointsFor(lot);
  const score = points === null ? 0 : state.score + points;
  const recent = [...state.recent, lot.accepted].slice(-WINDOW);
  const refusals = recent.filter((accepted) => !accepted).length;
  const counted = { ...state, score, recent };
  const scored = reason('9.3.3.2', points === null ? 'score-reset' : 'score-up', `${words}: score ${score}`);
  if (refusals >= REFUSALS_FOR_TIGHTENED) {
    const why = reason('9.3.1', 'tightened', `${refusals} of the last ${recent.length} lots not accepted`);
    return { state: enter(counted, 'tightened'), scoreReached: score, reasons: [scored, why] };
  }
  if (!lot.accepted) {
    const why = reason(
      '9.3.1',
      'tightened-not-yet',
      `1 of the last ${recent.length} lots not accepted; a second within ${WINDOW} means tightened`,
    );
    return { state: counted, scoreReached: score, reasons: [scored, why] };
  }
  const next = towardsReduced(counted);
  return { state: next.state, scoreReached: score, reasons: [scored, ...next.reasons] };
}

/** 9.3.2 and 9.4. */
function afterTightenedLot(state: SwitchingState, lot: LotOutcome): Step {
  const acceptedInARow = lot.accepted ? state.acceptedInARow + 1 : 0;
  const notAccepted = state.notAccepted + (lot.accepted ? 0 : 1);
  const counted = { ...state, acceptedInARow, notAccepted };
  if (notAccepted >= REFUSALS_FOR_DISCONTINUATION) {
    const why = reason('9.4', 'discontinued', `${notAccepted} lots not accepted under tightened inspection`);
    return { state: { ...counted, severity: 'discontinued' }, scoreReached: null, reasons: [why] };
  }
  if (acceptedInARow >= ACCEPTED_FOR_NORMAL) {
    const why = reason('9.3.2', 'normal', `${acceptedInARow} lots in a row accepted under tightened inspection`);
    return { state: enter(counted, 'normal'), scoreReached: null, reasons: [why] };
  }
  const why = lot.accepted
    ? reason('9.3.2', 'normal-not-yet', `${acceptedInARow} of ${ACCEPTED_FOR_NORMAL} lots in a row accepted`)
    : reason(
        '9.4',
        'discontinued-not-yet',
        `${notAccepted} of ${REFUSALS_FOR_DISCONTINUATION} lots not accepted that discontinue inspection`,
      );
  return { state: counted, scoreReached: null, reasons: [why] };
}

/** 9.3.4 a: one lot not accepted ends reduced inspection. */
function afterReducedLot(state: SwitchingState, lot: LotOutcome): Step {
  if (lot.accepted)
    return { state, scoreReached: null, reasons: [reason('9.2', 'reduced-goes-on', 'accepted: reduced inspection goes on')] };
  return {
    state: enter(state, 'normal'),
    scoreReached: null,
    reasons: [reason('9.3.4 a', 'normal', 'a lot not accepted under reduced inspection')],
  };
}

/** Why a lot counts for no rule while inspection is of this severity, or null when it counts. */
function passedOver(inForce: Severity, lot: LotOutcome): SwitchingReason | null {
  if (lot.resubmitted === true) return reason('9.3', 'lot-resubmitted', 'a resubmitted lot counts for no rule');
  if (lot.severity === inForce) return null;
  // A lot not accepted ends reduced inspection, whichever plan judged it: only the laxer reading could let it pass.
  if (inForce === 'reduced' && !lot.accepted) return null;
  return reason('C7', 'lot-of-other-severity', `judged by the ${lot.severity} plan while inspection is ${inForce}: it does not count`);
}

const AFTER_LOT = { normal: afterNormalLot, tightened: afterTightenedLot, reduced: afterReducedLot } as const;

/**
 * What the verdict on a lot does to the severity for the next one.
 * @throws TypeError when the lot does not say what the score of its plan asks
 */
export function afterLot(state: SwitchingState, lot: LotOutcome): Switched {
  const { severity } = state;
  const unmoved = (why: SwitchingReason): Switched => ({ state, from: severity, to: severity, scoreReached: null, reasons: [why] });
  if (severity === 'discontinued') return unmoved(reason('9.4', 'lot-while-discontinued', 'inspection is discontinued: no lot counts'));
  const why = passedOver(severity, lot);
  if (why !== null) return unmoved(why);
  const step = AFTER_LOT[severity]({ ...state, lotsCounted: state.lotsCounted + 1 }, lot);
  return { ...step, from: severity, to: step.state.severity };
}

type Decided = Pick<Switched, 'state' | 'reasons'>;

/** 9.3.3 b and 9.3.4 b. */
function afterStatement(state: SwitchingState, steady: boolean): Decided {
  const stated = { ...state, steady };
  if (!steady && state.severity === 'reduced') {
    return { state: enter(stated, 'normal'), reasons: [reason('9.3.4 b', 'normal', 'production irregular or delayed')] };
  }
  return towardsReduced(stated);
}

/** 9.3.3 c, and 9.3.4 c when the wish is withdrawn while inspection is reduced. */
function afterWish(state: SwitchingState, reducedDesirable: boolean): Decided {
  const stated = { ...state, reducedDesirable };
  if (!reducedDesirable && state.severity === 'reduced') {
    return {
      state: enter(stated, 'normal'),
      reasons: [reason('9.3.4 c', 'normal', 'reduced inspection is no longer considered desirable')],
    };
  }
  return towardsReduced(stated);
}

/** 9.4: resumption is on tightened inspection, as if 9.3.1 had just been invoked. */
const afterResumption = (state: SwitchingState): Decided => ({
  state: enter(state, 'tightened'),
  reasons: [reason('9.4', 'resumed', 'the supplier has acted: resumed under tightened inspection')],
});

/** 9.1: the responsible authority may direct a start other than normal. */
const afterDirection = (state: SwitchingState, severity: Severity): Decided => ({
  state: enter(state, severity),
  reasons: [reason('9.1', 'directed', `the responsible authority directs the start under ${severity} inspection`)],
});

/** Why a decision cannot be taken as things stand, or null when it can. */
export function decisionFault({ severity, lotsCounted }: SwitchingState, { about }: SwitchingDecision): string | null {
  if (about === 'resumption' && severity !== 'discontinued') return `inspection is ${severity}; only discontinued inspection is resumed`;
  if (about === 'start' && lotsCounted > 0) return `lots judged so far: ${lotsCounted}; another start is directed before the first`;
  return null;
}

function decided(state: SwitchingState, decision: SwitchingDecision): Decided {
  if (decision.about === 'production') return afterStatement(state, decision.steady);
  if (decision.about === 'reduced') return afterWish(state, decision.desirable);
  if (decision.about === 'resumption') return afterResumption(state);
  return afterDirection(state, decision.severity);
}

/**
 * What a decision does to the severity for the next lot. Statements may be made at any time and are remembered.
 * @throws SwitchingFault when inspection is resumed that was not discontinued, or a start is directed after the first lot;
 * {@link decisionFault} tells beforehand
 */
export function afterDecision(state: SwitchingState, decision: SwitchingDecision): Switched {
  const fault = decisionFault(state, decision);
  if (fault !== null) throw new SwitchingFault(fault);
  const next = decided(state, decision);
  return { ...next, from: state.severity, to: next.state.severity, scoreReached: null };
}
