import type { Mark, MarkedReport } from './report-marks.query.js';

/** What makes a repeat. Two reports of one line are none by that, and two causes that nobody knows are not the same. */
const REPEATING: ReadonlySet<Mark['what']> = new Set(['item', 'supplier', 'defect', 'vessel', 'instrument', 'cause']);
const repeating = (mark: Mark): boolean => REPEATING.has(mark.what) && !(mark.what === 'cause' && mark.code === 'unknown');

export interface Repeat {
  readonly of: MarkedReport;
  readonly because: readonly Mark[];
}

/**
 * Other reports that have something in common with one: those with most first, then the later.
 * @see docs/rules/nonconformance.md NR-42
 */
export function repeatsOf(report: string, all: readonly MarkedReport[]): Repeat[] {
  const own = all.find((one) => one.report === report)?.marks.filter(repeating) ?? [];
  return all
    .filter((one) => one.report !== report)
    .map((of) => ({ of, because: own.filter((mark) => of.marks.some((other) => other.what === mark.what && other.code === mark.code)) }))
    .filter(({ because }) => because.length > 0)
    .toSorted(
      (a, b) => b.because.length - a.because.length || (`${b.of.raisedAt}${b.of.report}` < `${a.of.raisedAt}${a.of.report}` ? -1 : 1),
    );
}
