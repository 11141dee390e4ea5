/**
 * How a value half way between two steps is rounded: to the even step, or away from zero. ISO 80000-1:2009 annex B
 * names both and prefers the even one for a series of measurements (from memory).
 */
type RoundingRule = 'half-even' | 'half-up';

/** How a result is rounded: once, at the end, on the exact value. */
export interface Rounding {
  /** Decimals kept: 0 to 6. */
  readonly decimals: number;
  readonly rule: RoundingRule;
}

const MOST_DECIMALS = 6;
const LARGEST = BigInt(Number.MAX_SAFE_INTEGER);

function nearestWhole(numerator: bigint, denominator: bigint, rule: RoundingRule): bigint {
  const negative = numerator < 0n !== denominator < 0n;
  const size = numerator < 0n ? -numerator : numerator;
  const divisor = denominator < 0n ? -denominator : denominator;
  const down = size / divisor;
  const twiceRest = (size % divisor) * 2n;
  const tieUp = rule === 'half-up' || down % 2n === 1n;
  const whole = twiceRest > divisor || (twiceRest === divisor && tieUp) ? down + 1n : down;
  return negative ? -whole : whole;
}

/**
 * numerator / denominator, an exact number of millionths, rounded once to the decimals asked for.
 * @returns whole millionths
 * @throws RangeError when the decimals are not 0 to 6, the denominator is 0, or the result is too large to keep exactly
 */
export function roundMicro(numerator: bigint, denominator: bigint, { decimals, rule }: Rounding): number {
  if (!Number.isInteger(decimals) || decimals < 0 || decimals > MOST_DECIMALS) throw new RangeError('decimals are 0 to 6');
  if (denominator === 0n) throw new RangeError('nothing can be divided by nothing');
  const step = 10n ** BigInt(MOST_DECIMALS - decimals);
  const micro = nearestWhole(numerator, denominator * step, rule) * step;
  if (micro > LARGEST || micro < -LARGEST) throw new RangeError('the result is larger than can be kept exactly');
  return Number(micro);
}

/**
 * A number that came out of a formula in floating point, rounded once to the decimals asked for. What the number holds
 * is taken exactly, so nothing is rounded on the way.
 * @param value in base units, not in millionths
 * @returns whole millionths
 * @throws RangeError when the value is not finite, or as `roundMicro`
 */
export function roundReal(value: number, rounding: Rounding): number {
  if (!Number.isFinite(value)) throw new RangeError(`${value} is not a number that can be rounded`);
  let whole = value;
  let halvings = 0n;
  // Doubling is exact, so this finds the two whole numbers whose ratio the value is.
  while (!Number.isInteger(whole)) {
    whole *= 2;
    halvings += 1n;
  }
  return roundMicro(BigInt(whole) * 1_000_000n, 2n ** halvings, rounding);
}

/** Six decimals, half to even: how a figure beside the result is kept. */
export const TO_THE_MILLIONTH: Rounding = { decimals: MOST_DECIMALS, rule: 'half-even' };

/**
 * The square root of numerator / denominator, which count square millionths of millionths, to the millionth.
 * @returns whole millionths, rounded half up
 * @throws RangeError when the ratio is negative or its root too large to keep exactly
 */
export function rootMicro(numerator: bigint, denominator: bigint): number {
  if (denominator <= 0n || numerator < 0n) throw new RangeError('no root of a negative number');
  // The root rounded half up is the largest r with (2r − 1)² ≤ 4 · numerator / denominator.
  const twice = rootDown((4n * numerator) / denominator);
  const root = (twice + 1n) / 2n;
  if (root > LARGEST) throw new RangeError('the result is larger than can be kept exactly');
  return Number(root);
}

function rootDown(square: bigint): bigint {
  if (square < 2n) return square;
  let guess = 1n << BigInt(Math.ceil(square.toString(2).length / 2));
  for (;;) {
    const next = (guess + square / guess) / 2n;
    if (next >= guess) return guess;
    guess = next;
  }
}
