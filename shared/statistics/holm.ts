/**
 * p-values adjusted for having tested all of them: the smallest counts times how many there are, the next times one fewer, and so on, none
 * below the one before it and none above 1. Whoever rejects what is adjusted to at most α is wrong anywhere with a probability of at most
 * α, however the tests hang together (S. Holm, A Simple Sequentially Rejective Multiple Test Procedure, Scandinavian Journal of Statistics
 * 6, 1979, 65-70).
 * @param p probabilities in [0, 1], in any order
 * @returns the adjusted ones in the same order
 * @throws RangeError when one is no probability
 */
export function holmAdjusted(p: readonly number[]): number[] {
  for (const one of p) if (!(one >= 0 && one <= 1)) throw new RangeError(`${one} is not a probability`);
  const adjusted = p.map(() => 1);
  let greatest = 0;
  for (const [rank, at] of [...p.keys()].toSorted((a, b) => p[a]! - p[b]!).entries()) {
    greatest = Math.max(greatest, Math.min(1, (p.length - rank) * p[at]!));
    adjusted[at] = greatest;
  }
  return adjusted;
}
