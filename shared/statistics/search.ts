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
