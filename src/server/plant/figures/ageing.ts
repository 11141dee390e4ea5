import { daysBetween } from '../../../../shared/time.js';
import { REPORT_STATES, type ReportState } from '../nonconformance/states.facts.js';
import type { AgeBucketView, AgedReportView, AgeingView } from './nonconformance.dto.js';

/** A report as ageing counts it. */
export type OpenReport = Omit<AgedReportView, 'daysOpen' | 'daysInState'> & { readonly stateAt: string };

const ENDED: ReadonlySet<ReportState> = new Set(['closed', 'withdrawn']);

/**
 * Open reports by state and by days since they were raised; the oldest first.
 * @param on the day it is told for
 * @see docs/rules/figures.md F-10
 */
export function ageingOf(open: readonly OpenReport[], on: string): AgeingView {
  const reports = open
    .map(({ stateAt, ...report }) => ({
      ...report,
      daysOpen: daysBetween(report.raisedAt.slice(0, 10), on),
      daysInState: daysBetween(stateAt.slice(0, 10), on),
    }))
    .toSorted((a, b) => (`${a.raisedAt}${a.report}` < `${b.raisedAt}${b.report}` ? -1 : 1));
  const states = REPORT_STATES.filter((state) => !ENDED.has(state)).map((state) =>
    bucketOf(
      state,
      reports.filter((report) => report.state === state),
    ),
  );
  return { on, states, reports };
}

function bucketOf(state: ReportState, reports: readonly AgedReportView[]): AgeBucketView {
  const between = (least: number, most: number): number => reports.filter(({ daysOpen }) => daysOpen >= least && daysOpen <= most).length;
  return {
    state,
    upTo7: between(0, 7),
    from8To30: between(8, 30),
    from31To90: between(31, 90),
    over90: between(91, Infinity),
    reports: reports.length,
  };
}
