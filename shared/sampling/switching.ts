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

/** Why a lot counts for no rule, or null when it counts. */
function passedOver(state: SwitchingState, lot: LotOutcome): SwitchingReason | null {
  if (lot.resubmitted === true) return reason('9.3', 'lot-resubmitted', 'a resubmitted lot counts for no rule');
  if (state.severity === 'discontinued') return reason('9.4', 'lot-while-discontinued', 'inspection is discontinued: no lot counts');
  if (lot.severity === state.severity) return null;
  // A lot not accepted ends reduced inspection, whichever plan judged it: only the laxer reading could let it pass.
  if (state.severity === 'reduced' && !lot.accepted) return null;
  return reason(
    'C7',
    'lot-of-other-severity',
    `judged by the ${lot.severity} plan while inspection is ${state.severity}: it does not count`,
  );
}

const AFTER_LOT = { normal: afterNormalLot, tightened: afterTightenedLot, reduced: afterReducedLot } as const;

/**
 * What the verdict on a lot does to the severity for the next one.
 * @throws TypeError when the lot does not say what the score of its plan asks
 */
export function afterLot(state: SwitchingState, lot: LotOutcome): Switched {
  const why = passedOver(state, lot);
  if (why !== null || state.severity === 'discontinued') {
    return { state, from: state.severity, to: state.severity, scoreReached: null, reasons: why === null ? [] : [why] };
  }
  const step = AFTER_LOT[state.severity]({ ...state, lotsCounted: state.lotsCounted + 1 }, lot);
  return { ...step, from: state.severity, to: step.state.severity };
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
function afterResumption(state: SwitchingState): Decided {
  if (state.severity !== 'discontinued')
    throw new SwitchingFault(`inspection is ${state.severity}; only discontinued inspection is resumed`);
  return {
    state: enter(state, 'tightened'),
    reasons: [reason('9.4', 'resumed', 'the supplier has acted: resumed under tightened inspection')],
  };
}

/** 9.1: the responsible authority may direct a start other than normal. */
function afterDirection(state: SwitchingState, severity: Severity): Decided {
  if (state.lotsCounted > 0)
    throw new SwitchingFault(`${state.lotsCounted} lots have been judged; another start is directed before the first`);
  return {
    state: enter(state, severity),
    reasons: [reason('9.1', 'directed', `the responsible authority directs the start under ${severity} inspection`)],
  };
}

function decided(state: SwitchingState, decision: SwitchingDecision): Decided {
  if (decision.about === 'production') return afterStatement(state, decision.steady);
  if (decision.about === 'reduced') return afterWish(state, decision.desirable);
  if (decision.about === 'resumption') return afterResumption(state);
  return afterDirection(state, decision.severity);
}

/**
 * What a decision does to the severity for the next lot. Statements may be made at any time and are remembered.
 * @throws SwitchingFault when inspection is resumed that was not discontinued, or a start is directed after the first lot
 */
export function afterDecision(state: SwitchingState, decision: SwitchingDecision): Switched {
  const next = decided(state, decision);
  return { ...next, from: state.severity, to: next.state.severity, scoreReached: null };
}
