/**
 * The distribution of a count, known by how its probabilities compare: where they begin and end, where they are highest, and how each
 * relates to the next. That is enough, and it needs no factorial that could overflow and no logarithm that would cost digits.
 */
export interface Counts {
  /** The smallest count that can happen. */
  readonly first: number;
  /** The largest count that can happen; Infinity when there is none. */
  readonly last: number;
  /** A most likely count. */
  readonly mode: number;
  /** P(k + 1) / P(k); falls as k grows, which makes the tails end. */
  ratio(k: number): number;
}

/** Terms this much smaller than the sum they join no longer change it, not even a hundred thousand of them. */
const NEGLIGIBLE = 1e-22;

/** Below this a double loses digits, and its rounding can hold a shrinking term at the same size for ever. Such a probability is called 0. */
const VANISHED = 1e-300;

/**
 * The probability of a count from `from` to `to`, both included: a number in [0, 1].
 *
 * Every term is taken relative to the term at the mode, which is set to 1 and is the largest, so nothing overflows. The terms asked for
 * are divided by the sum of all terms, so the height of the mode is never needed, and a small tail is summed from its own small terms
 * instead of being the difference of two large numbers. Relative error below 1e-12 for thousands of terms, at any size of result.
 */
export function massBetween(counts: Counts, from: number, to: number): number {
  const { first, last, mode } = counts;
  if (to < first || from > last || from > to) return 0;
  if (from <= first && to >= last) return 1;
  let all = 1;
  let asked = mode >= from && mode <= to ? 1 : 0;
  const add = (k: number, term: number): boolean => {
    all += term;
    if (k >= from && k <= to) asked += term;
    return term > VANISHED;
  };
  // Away from the mode the terms only fall; a walk goes on while it may still reach what is asked for, or while a term still counts.
  for (let k = mode, term = 1; k < last; k++) {
    term *= counts.ratio(k);
    if (!add(k + 1, term)) break;
    if (term < all * NEGLIGIBLE && (k + 1 > to || (k + 1 >= from && term < asked * NEGLIGIBLE))) break;
  }
  for (let k = mode, term = 1; k > first; k--) {
    term /= counts.ratio(k - 1);
    if (!add(k - 1, term)) break;
    if (term < all * NEGLIGIBLE && (k - 1 < from || (k - 1 <= to && term < asked * NEGLIGIBLE))) break;
  }
  return asked / all;
}

/**
 * Nonconforming items in a sample of `n` from a process that makes the fraction `p` of them.
 * @param n whole number of items
 * @param p fraction in [0, 1]
 */
export function binomial(n: number, p: number): Counts {
  const q = 1 - p;
  return {
    first: p === 1 ? n : 0,
    last: p === 0 ? 0 : n,
    mode: Math.min(n, Math.floor((n + 1) * p)),
    ratio: (k) => ((n - k) * p) / ((k + 1) * q),
  };
}

/**
 * Nonconformities in a sample in which `mean` are expected.
 * @param mean at least 0
 */
export function poisson(mean: number): Counts {
  return { first: 0, last: mean === 0 ? 0 : Infinity, mode: Math.floor(mean), ratio: (k) => mean / (k + 1) };
}

/**
 * Nonconforming items in a sample drawn without putting back from a lot of which `nonconforming` items are.
 * @param lot whole number of items in the lot, up to 1e9
 * @param nonconforming whole number of them, at most `lot`
 * @param sample whole number of items drawn, at most `lot`
 */
export function hypergeometric(lot: number, nonconforming: number, sample: number): Counts {
  const conformingLeft = lot - nonconforming - sample;
  const first = Math.max(0, -conformingLeft);
  const last = Math.min(nonconforming, sample);
  const likely = Math.floor(((sample + 1) * (nonconforming + 1)) / (lot + 2));
  return {
    first,
    last,
    // The quotient above is rounded for the largest lots; one beside the mode is as good a place to start from.
    mode: Math.min(last, Math.max(first, likely)),
    ratio: (k) => ((nonconforming - k) * (sample - k)) / ((k + 1) * (conformingLeft + k + 1)),
  };
}

/** P(at most `k` nonconforming) in a sample of `n` from a process with the fraction `p`. */
export const binomialCdf = (k: number, n: number, p: number): number => massBetween(binomial(n, p), 0, k);

/** P(at most `k`) when `mean` are expected. */
export const poissonCdf = (k: number, mean: number): number => massBetween(poisson(mean), 0, k);

/** P(at most `k` nonconforming) in a sample of `sample` from a lot of `lot` items, `nonconforming` of which are. */
export const hypergeometricCdf = (k: number, lot: number, nonconforming: number, sample: number): number =>
  massBetween(hypergeometric(lot, nonconforming, sample), 0, k);
