/** Points at which the score alone no longer keeps a supplier from reduced inspection (ISO 2859-1:1999, 9.3.3). */
export const SCORE_FOR_REDUCED = 30;

/**
 * The acceptance number in Table 2-A with the AQL one step tighter, in the row of the letter in use after arrows (convention C4): the
 * sample stays the same, so a lot can be judged by both at once.
 */
const ONE_STEP_TIGHTER: Readonly<Record<number, number>> = { 2: 1, 3: 2, 5: 3, 7: 5, 10: 7, 14: 10, 21: 14, 30: 21, 44: 30 };

/** The acceptance number one AQL step tighter than `ac` of a normal single plan; null for 0 and 1, where no rule asks. */
export const acOneStepTighter = (ac: number): number | null => ONE_STEP_TIGHTER[ac] ?? null;

/**
 * Whether a lot in whose sample `found` were nonconforming would have been accepted with the AQL one step tighter.
 * False for acceptance numbers 0 and 1, where no rule asks.
 * @param ac acceptance number of the normal single plan in use
 */
export const wouldAcceptOneStepTighter = (ac: number, found: number): boolean => found <= (acOneStepTighter(ac) ?? -1);

/** What the score needs to know of a lot. */
export type ScoredLot =
  | {
      readonly accepted: boolean;
      readonly type: 'single';
      /** Acceptance number of the plan in use. */
      readonly ac: number;
      /** Needed when `ac` is 2 or more and the lot was judged by the normal plan; see {@link wouldAcceptOneStepTighter}. */
      readonly wouldAcceptOneStepTighter?: boolean;
    }
  | {
      readonly accepted: boolean;
      readonly type: 'double';
      /** Needed when the lot was judged by the normal plan: whether the first sample alone accepted it. */
      readonly acceptedOnFirstSample?: boolean;
    };

/** Points a lot earns, or null when the score goes back to 0, and why in words. */
export interface Points {
  readonly points: 2 | 3 | null;
  readonly words: string;
}

const reset = (words: string): Points => ({ points: null, words });

/**
 * What a lot on original normal inspection does to the switching score (9.3.3.2).
 * @throws TypeError when the lot does not say what its plan's rule asks
 */
export function pointsFor(lot: ScoredLot): Points {
  if (!lot.accepted) return reset('not accepted');
  if (lot.type === 'double') {
    if (lot.acceptedOnFirstSample === undefined)
      throw new TypeError('a lot under a double plan must say whether its first sample accepted it');
    return lot.acceptedOnFirstSample ? { points: 3, words: 'accepted on the first sample' } : reset('accepted only on the second sample');
  }
  if (lot.ac < 2) return { points: 2, words: `accepted with acceptance number ${lot.ac}` };
  if (lot.wouldAcceptOneStepTighter === undefined) {
    throw new TypeError('a lot under a plan with Ac 2 or more must say whether it would pass with the AQL one step tighter');
  }
  return lot.wouldAcceptOneStepTighter
    ? { points: 3, words: 'would also be accepted with the AQL one step tighter' }
    : reset('accepted, but would not be with the AQL one step tighter');
}
