/**
 * Where a falling function passes `target`: the largest x in [low, high] found with f(x) at least `target`, to the last digit a number has.
 * @param falling never rises from low to high
 * @returns null when even f(low) is below the target; `high` when f never falls below it
 */
export function lastAtLeast(falling: (x: number) => number, target: number, low: number, high: number): number | null {
  if (falling(low) < target) return null;
  if (falling(high) >= target) return high;
  let [yes, no] = [low, high];
  for (;;) {
    const middle = yes + (no - yes) / 2;
    if (middle === yes || middle === no) return yes;
    if (falling(middle) >= target) yes = middle;
    else no = middle;
  }
}

/** The same over whole numbers. */
export function lastWholeAtLeast(falling: (x: number) => number, target: number, low: number, high: number): number | null {
  if (falling(low) < target) return null;
  if (falling(high) >= target) return high;
  let [yes, no] = [low, high];
  while (no - yes > 1) {
    const middle = Math.floor(yes + (no - yes) / 2);
    if (falling(middle) >= target) yes = middle;
    else no = middle;
  }
  return yes;
}

/** A highest value and where it was found. */
export interface Peak {
  readonly at: number;
  readonly value: number;
}

const GRID = 200;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/**
 * The highest value of a function on [low, high]: a grid finds the hill, so that a second, lower hill does not mislead, and a golden
 * section climbs it. With `whole` only whole numbers are tried.
 */
export function peakOf(f: (x: number) => number, low: number, high: number, whole = false): Peak {
  const snap = (x: number): number => (whole ? Math.round(x) : x);
  let best: Peak = { at: snap(low), value: f(snap(low)) };
  const tryAt = (x: number): number => {
    const at = snap(x);
    const value = f(at);
    if (value > best.value) best = { at, value };
    return value;
  };
  const step = (high - low) / GRID;
  for (let i = 1; i <= GRID; i++) tryAt(low + i * step);
  let [left, right] = [Math.max(low, best.at - step), Math.min(high, best.at + step)];
  let [a, b] = [right - GOLDEN * (right - left), left + GOLDEN * (right - left)];
  let [atA, atB] = [tryAt(a), tryAt(b)];
  // Near a peak a function is flat: half the digits of x are all that its value can tell apart.
  for (let i = 0; i < 60; i++) {
    if (atA > atB) {
      [right, b, atB] = [b, a, atA];
      a = right - GOLDEN * (right - left);
      atA = tryAt(a);
    } else {
      [left, a, atA] = [a, b, atB];
      b = left + GOLDEN * (right - left);
      atB = tryAt(b);
    }
  }
  if (whole) for (let at = best.at - 2, end = best.at + 2; at <= end; at++) if (at >= low && at <= high) tryAt(at);
  return best;
}
