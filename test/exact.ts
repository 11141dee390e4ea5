/* Probabilities as exact fractions of whole numbers, to hold what is reckoned in floating point against. Slow on purpose. */

/** A fraction of whole numbers, not reduced. */
export interface Fraction {
  readonly above: bigint;
  readonly below: bigint;
}

/** The number a double stands for, exactly: every double is a whole number over a power of two. */
export function exactly(x: number): Fraction {
  let below = 1n;
  let scaled = x;
  while (!Number.isInteger(scaled)) {
    scaled *= 2;
    below *= 2n;
  }
  return { above: BigInt(scaled), below };
}

const bits = (n: bigint): number => n.toString(16).length * 4;

/** The double nearest to a fraction, to a unit in the last place or two. */
export function toNumber({ above, below }: Fraction): number {
  if (above === 0n) return 0;
  const shift = 80 + bits(below) - bits(above);
  const scaled = shift >= 0 ? (above << BigInt(shift)) / below : above / (below << BigInt(-shift));
  // Two steps, because 2^shift itself may be too large for a double where the result is not.
  const half = Math.trunc(shift / 2);
  return Number(scaled) / 2 ** half / 2 ** (shift - half);
}

export const plus = (a: Fraction, b: Fraction): Fraction => ({ above: a.above * b.below + b.above * a.below, below: a.below * b.below });
export const times = (a: Fraction, b: Fraction): Fraction => ({ above: a.above * b.above, below: a.below * b.below });

export const oneMinus = ({ above, below }: Fraction): Fraction => ({ above: below - above, below });

/** How far a reckoned number is from the exact one, as a part of the exact one. */
export function relativeError(reckoned: number, exact: Fraction): number {
  const { above, below } = exactly(reckoned);
  if (exact.above === 0n) return reckoned === 0 ? 0 : Infinity;
  const difference = above * exact.below - exact.above * below;
  return toNumber({ above: difference < 0n ? -difference : difference, below: below * exact.above });
}

/** n over k. */
export function choose(n: number, k: number): bigint {
  if (k < 0 || k > n) return 0n;
  let ways = 1n;
  for (let i = 1; i <= Math.min(k, n - k); i++) ways = (ways * BigInt(n - Math.min(k, n - k) + i)) / BigInt(i);
  return ways;
}

/** Adds up terms from `first` on, each made from the one before by an exact division, over those from `from` to `to`. */
function sumOf(start: bigint, first: number, last: number, from: number, to: number, next: (term: bigint, k: number) => bigint): bigint {
  let sum = 0n;
  for (let k = first, term = start; k <= Math.min(last, to); k++) {
    if (k >= from) sum += term;
    if (k < last) term = next(term, k);
  }
  return sum;
}

/** P(from <= count <= to) for a sample of n from a process with the fraction p. */
export function exactBinomial(n: number, p: Fraction, from: number, to: number): Fraction {
  const q = p.below - p.above;
  const below = p.below ** BigInt(n);
  if (q === 0n) return { above: from <= n && n <= to ? below : 0n, below };
  const next = (term: bigint, k: number): bigint => (term * BigInt(n - k) * p.above) / (BigInt(k + 1) * q);
  return { above: sumOf(q ** BigInt(n), 0, n, from, to, next), below };
}

/** P(from <= count <= to) for a sample drawn from a lot. */
export function exactHypergeometric(lot: number, nonconforming: number, sample: number, from: number, to: number): Fraction {
  const good = lot - nonconforming;
  const first = Math.max(0, sample - good);
  const start = choose(nonconforming, first) * choose(good, sample - first);
  const next = (term: bigint, k: number): bigint =>
    (term * BigInt(nonconforming - k) * BigInt(sample - k)) / (BigInt(k + 1) * BigInt(good - sample + k + 1));
  return { above: sumOf(start, first, Math.min(nonconforming, sample), from, to, next), below: choose(lot, sample) };
}

/** P(from <= count <= to) where `mean` are expected: e^mean as a sum of whole 2^-1200, far more digits than are looked at. */
export function exactPoisson(mean: Fraction, from: number, to: number): Fraction {
  let term = 1n << 1200n;
  let [above, below] = [0n, 0n];
  for (let k = 0; term > 0n; k++) {
    below += term;
    if (k >= from && k <= to) above += term;
    term = (term * mean.above) / (mean.below * BigInt(k + 1));
  }
  return { above, below };
}
