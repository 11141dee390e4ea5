import type { Counts } from './counts.js';
import { exposedFailures, logAtLeast, type TwoByTwo } from './fisher-exact.js';

/** How many times the odds of failing are when exposed. A limit that does not exist is 0 below and Infinity above. */
interface OddsRatio {
  /** ad/bc, as the table stands; NaN when both products are 0. */
  readonly sample: number;
  /** The conditional maximum likelihood estimate: 0 or Infinity at the ends, NaN when the margins allow one table only. */
  readonly estimate: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * The odds ratio given the margins, with its exact conditional interval: the ends are the odds ratios under which so many failed among the
 * exposed, or more (below), and so many or fewer (above), have the probability left out (J. Cornfield, A Statistical Problem Arising from
 * Retrospective Studies, 1956; A. Agresti, Statistical Science 7, 1992, 131-153). It agrees with `fisherGreater`: with 'lower' the interval
 * leaves out 1 exactly when p is at most 1 - confidence. It holds the true odds ratio with at least the confidence asked for.
 * @param confidence above 0 and below 1; 0.95 is usual
 * @param ends 'both': half of the risk on either side; 'lower': all of it below, and no end above
 * @throws RangeError when the table holds no counts or the confidence is none
 */
export function oddsRatio(table: TwoByTwo, confidence: number, ends: 'both' | 'lower' = 'both'): OddsRatio {
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`a confidence is above 0 and below 1, not ${confidence}`);
  const counts = exposedFailures(table);
  const { exposedFailed: found } = table;
  const { first, last } = counts;
  const sample = (table.exposedFailed * table.unexposedSound) / (table.exposedSound * table.unexposedFailed);
  const logSide = Math.log(ends === 'both' ? (1 - confidence) / 2 : 1 - confidence);
  const near = logOddsNear(table);
  const rising = (logOdds: number): number => logAtLeast(tilted(counts, logOdds), found);
  const falling = (logOdds: number): number => logAtMost(tilted(counts, logOdds), found);
  return {
    sample,
    estimate: estimateOf(counts, found, near),
    lower: found === first ? 0 : Math.exp(root((x) => rising(x) - logSide, near)),
    upper: found === last || ends === 'lower' ? Infinity : Math.exp(root((x) => logSide - falling(x), near)),
  };
}

function estimateOf(counts: Counts, found: number, near: number): number {
  const { first, last } = counts;
  if (first === last) return Number.NaN;
  if (found === first) return 0;
  if (found === last) return Infinity;
  return Math.exp(root((logOdds) => meanAbove(tilted(counts, logOdds), found), near));
}

/** A first guess, with half a piece added to every cell so that none is empty (Haldane 1955, Anscombe 1956). */
const logOddsNear = ({ exposedFailed, exposedSound, unexposedFailed, unexposedSound }: TwoByTwo): number =>
  Math.log(((exposedFailed + 0.5) * (unexposedSound + 0.5)) / ((exposedSound + 0.5) * (unexposedFailed + 0.5)));

/** Fisher's noncentral hypergeometric distribution: the same counts where exposure multiplies the odds of failing. */
function tilted(counts: Counts, logOdds: number): Counts {
  const odds = Math.exp(logOdds);
  const ratio = (k: number): number => counts.ratio(k) * odds;
  // Steps fall as counts grow, so the mode is where they pass 1.
  let [low, high] = [counts.first, counts.last];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (ratio(middle) >= 1) low = middle + 1;
    else high = middle;
  }
  return { first: counts.first, last: counts.last, mode: low, ratio };
}

/** The same distribution counted downwards, so that an upper tail is a lower one. */
const logAtMost = (counts: Counts, to: number): number =>
  logAtLeast({ first: -counts.last, last: -counts.first, mode: -counts.mode, ratio: (k) => 1 / counts.ratio(-k - 1) }, -to);

/** How far the mean lies above `found`. */
function meanAbove(counts: Counts, found: number): number {
  const { first, last, mode } = counts;
  let [all, sum] = [1, mode - found];
  const add = (k: number, term: number): boolean => {
    all += term;
    sum += term * (k - found);
    return term < all * 1e-22;
  };
  for (let k = mode, term = 1; k < last; k++) if (add(k + 1, (term *= counts.ratio(k)))) break;
  for (let k = mode, term = 1; k > first; k--) if (add(k - 1, (term /= counts.ratio(k - 1)))) break;
  return sum / all;
}

/** Where a rising function passes 0, by halving around a first guess. */
function root(rising: (x: number) => number, near: number): number {
  let [low, high] = [near - 1, near + 1];
  for (let step = 1; rising(low) > 0; step *= 2) low -= step;
  for (let step = 1; rising(high) < 0; step *= 2) high += step;
  for (;;) {
    const middle = (low + high) / 2;
    if (high - low <= 1e-15 * Math.max(1, Math.abs(middle))) return middle;
    if (middle === low || middle === high) return middle;
    if (rising(middle) < 0) low = middle;
    else high = middle;
  }
}
