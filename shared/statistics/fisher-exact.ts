import { type Counts, hypergeometric } from './counts.js';

/** What was exposed to something and what failed, counted: the four cells of a 2×2 table. Whole numbers, not negative. */
export interface TwoByTwo {
  readonly exposedFailed: number;
  readonly exposedSound: number;
  readonly unexposedFailed: number;
  readonly unexposedSound: number;
}

/** A probability and its natural logarithm, which still tells apart what a double can only call 0. */
interface SmallProbability {
  readonly p: number;
  readonly logP: number;
}

/** Terms this much smaller than the sum they join no longer change it, however many of them follow. */
const NEGLIGIBLE = 1e-22;
/** A product is taken down into a logarithm before it loses digits. */
const SMALL = 1e-200;

/**
 * The number of failed among the exposed when failing has nothing to do with exposure and all margins are as they are.
 * @throws RangeError when a cell is not a whole number of at least 0, or all are 0
 */
export function exposedFailures({ exposedFailed: a, exposedSound: b, unexposedFailed: c, unexposedSound: d }: TwoByTwo): Counts {
  for (const cell of [a, b, c, d]) if (!Number.isSafeInteger(cell) || cell < 0) throw new RangeError(`${cell} is not a count`);
  if (a + b + c + d === 0) throw new RangeError('the table is empty');
  return hypergeometric(a + b + c + d, a + b, a + c);
}

/**
 * Fisher's exact test, one-sided: how probable so many failed among the exposed, or more, are if exposure makes no difference
 * (R. A. Fisher, The Design of Experiments, 1935, chapter II; A. Agresti, A Survey of Exact Inference for Contingency Tables, Statistical
 * Science 7, 1992, 131-153). Relative error below 1e-11 for populations up to 1e6; p is 0 below 5e-324 and `logP` is still right.
 * @throws RangeError when a cell is not a whole number of at least 0, or all are 0
 */
export function fisherGreater(table: TwoByTwo): SmallProbability {
  const logP = logAtLeast(exposedFailures(table), table.exposedFailed);
  return { p: Math.exp(logP), logP };
}

/**
 * The natural logarithm of P(at least `from`), from 0 down without end. No factorials: terms are walked from the mode, whose own height
 * cancels, and far from it the product of the steps is kept as a logarithm.
 */
export function logAtLeast(counts: Counts, from: number): number {
  const { first, last, mode } = counts;
  if (from <= first) return 0;
  if (from > last) return -Infinity;
  const above = sumAbove(counts, mode);
  if (from <= mode) {
    let [asked, below] = [0, 0];
    for (let k = mode, term = 1; k > first; k--) {
      term /= counts.ratio(k - 1);
      if (k - 1 >= from) asked += term;
      else below += term;
      if (term < (1 + above + asked + below) * NEGLIGIBLE) break;
    }
    // The part asked for holds the mode, so the rest is what is small beside it.
    return -Math.log1p(below / (1 + above + asked));
  }
  const all = 1 + above + sumBelow(counts, mode);
  return logProduct(counts, mode, from) + Math.log1p(sumAbove(counts, from)) - Math.log(all);
}

/** P(k + 1) + P(k + 2) + …, in units of P(k). */
function sumAbove(counts: Counts, from: number): number {
  let sum = 0;
  for (let k = from, term = 1; k < counts.last; k++) {
    term *= counts.ratio(k);
    sum += term;
    if (term < sum * NEGLIGIBLE) break;
  }
  return sum;
}

/** P(k - 1) + P(k - 2) + …, in units of P(k). */
function sumBelow(counts: Counts, from: number): number {
  let sum = 0;
  for (let k = from, term = 1; k > counts.first; k--) {
    term /= counts.ratio(k - 1);
    sum += term;
    if (term < sum * NEGLIGIBLE) break;
  }
  return sum;
}

/** The logarithm of P(to) / P(from), for `to` above `from`. */
function logProduct(counts: Counts, from: number, to: number): number {
  let [product, taken] = [1, 0];
  for (let k = from; k < to; k++) {
    product *= counts.ratio(k);
    if (product < SMALL) {
      taken += Math.log(product);
      product = 1;
    }
  }
  return taken + Math.log(product);
}
