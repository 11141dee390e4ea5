import { SCORE_FOR_REDUCED, type ScoredLot } from './switching-score.js';
import type { Severity } from './tables.js';

/** What applies to the next lot; under `discontinued` none is taken to acceptance inspection. */
export type SwitchingSeverity = Severity | 'discontinued';

/** Where switching stands: plain data, the same after a round trip through JSON. */
export interface SwitchingState {
  readonly severity: SwitchingSeverity;
  /** Original lots that counted since the very start; at 0 the authority may still direct another severity (9.1). */
  readonly lotsCounted: number;
  /** Switching score (9.3.3.2); 0 outside normal inspection. */
  readonly score: number;
  /** Whether each of the last lots of this normal period was accepted, oldest first, five at most (9.3.1, C1); empty elsewhere. */
  readonly recent: readonly boolean[];
  /** Lots accepted one after the other in this tightened period (9.3.2); 0 elsewhere. */
  readonly acceptedInARow: number;
  /** Lots not accepted in this tightened period (9.4); 0 elsewhere, and 5 while discontinued. */
  readonly notAccepted: number;
  /** Production is stated to run at a steady rate (9.3.3 b). */
  readonly steady: boolean;
  /** The responsible authority considers reduced inspection desirable (9.3.3 c). */
  readonly reducedDesirable: boolean;
}

/** The verdict on one lot for one class of nonconformity. */
export type LotOutcome = ScoredLot & {
  /** The severity of the plan the lot was judged by. A lot drawn before a switch and judged after it does not count (C7). */
  readonly severity: Severity;
  /** A lot presented again after it was not accepted; it counts for no rule. */
  readonly resubmitted?: boolean;
};

/** What people may decide. */
export type SwitchingDecision =
  | { readonly about: 'production'; readonly steady: boolean }
  | { readonly about: 'reduced'; readonly desirable: boolean }
  | { readonly about: 'resumption' }
  | { readonly about: 'start'; readonly severity: Severity };

/** One sentence on why something changed, counted, or did not yet. */
export interface SwitchingReason {
  /** The clause of ISO 2859-1:1999 or the convention (C1 to C9) it follows. */
  readonly rule: string;
  readonly code: string;
  readonly words: string;
}

/** The state after a lot or a decision, and why. */
export interface Switched {
  readonly state: SwitchingState;
  readonly from: SwitchingSeverity;
  readonly to: SwitchingSeverity;
  /** The score this lot brought normal inspection to, before a switch sets it back; null when no lot counted under normal inspection. */
  readonly scoreReached: number | null;
  readonly reasons: readonly SwitchingReason[];
}

/** One condition of 9.3.3 and whether it holds. */
export interface ReducedCondition extends SwitchingReason {
  readonly met: boolean;
}

/** One sentence and the rule it follows. */
export const reason = (rule: string, code: string, words: string): SwitchingReason => ({ rule, code, words });

/** Every period starts with nothing counted (C1, C2, C5). What was said of production and of the wish for reduced inspection stands. */
export const enter = (state: SwitchingState, severity: Severity): SwitchingState => ({
  ...state,
  severity,
  score: 0,
  recent: [],
  acceptedInARow: 0,
  notAccepted: 0,
  // Who wished for smaller samples is asked again after trouble that called for tightened inspection (C8).
  reducedDesirable: severity !== 'tightened' && state.reducedDesirable,
});

/** Normal inspection with nothing counted and nothing stated (9.1). */
export function startOfSwitching(): SwitchingState {
  return {
    severity: 'normal',
    lotsCounted: 0,
    score: 0,
    recent: [],
    acceptedInARow: 0,
    notAccepted: 0,
    steady: false,
    reducedDesirable: false,
  };
}

/** The conditions for reduced inspection (9.3.3), each with whether it holds, and whether all of them do. */
export function canGoReduced(state: SwitchingState): { readonly can: boolean; readonly conditions: readonly ReducedCondition[] } {
  const { severity, score, steady, reducedDesirable } = state;
  const condition = (rule: string, code: string, met: boolean, yes: string, no: string): ReducedCondition => ({
    ...reason(rule, code, met ? yes : no),
    met,
  });
  const conditions = [
    condition('9.3.3', 'on-normal', severity === 'normal', 'inspection is normal', `inspection is ${severity}, not normal`),
    condition('9.3.3 a', 'score', score >= SCORE_FOR_REDUCED, `score ${score}`, `score ${score} of ${SCORE_FOR_REDUCED}`),
    condition('9.3.3 b', 'steady', steady, 'production is stated as steady', 'production is not stated as steady'),
    condition(
      '9.3.3 c',
      'desirable',
      reducedDesirable,
      'reduced inspection is considered desirable',
      'reduced inspection is not considered desirable',
    ),
  ];
  return { can: conditions.every(({ met }) => met), conditions };
}
