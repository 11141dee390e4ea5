/** One bar: what is counted and how much of it there is. */
export interface ParetoBar {
  readonly code: string;
  readonly value: number;
}

export interface ParetoPoint extends ParetoBar {
  /** With every bar before it, of all; from 0 to 1. */
  readonly cumulative: number;
  /** Among the first that together come to four fifths. */
  readonly vital: boolean;
  /** How many small ones are summed in it; 0 for one that stands for itself. */
  readonly of: number;
}

const FOUR_FIFTHS = 0.8;

/**
 * Bars from the largest to the smallest, equal ones as they came, with their cumulative shares. More than `most` are summed at the end, so that the picture stays
 * legible and the sum stays whole. Values below nothing (what of a cost came back) are left out; the table has them.
 */
export function paretoPoints(bars: readonly ParetoBar[], most: number): ParetoPoint[] {
  const sorted = bars.filter(({ value }) => value > 0).toSorted((a, b) => b.value - a.value);
  const total = sorted.reduce((sum, { value }) => sum + value, 0);
  const shown = sorted.length > most ? sorted.slice(0, most - 1) : sorted;
  const rest = sorted.slice(shown.length);
  const all = [
    ...shown.map((bar) => ({ ...bar, of: 0 })),
    ...(rest.length === 0
      ? []
      : [{ code: `${rest.length} others`, value: rest.reduce((sum, { value }) => sum + value, 0), of: rest.length }]),
  ];
  let before = 0;
  return all.map((bar) => {
    const vital = before / total < FOUR_FIFTHS && bar.of === 0;
    before += bar.value;
    return { ...bar, cumulative: before / total, vital };
  });
}
