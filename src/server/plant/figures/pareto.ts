import type { MarkedReport } from '../nonconformance/report-marks.query.js';
import type { ParetoBy, ParetoView } from './nonconformance.dto.js';

/**
 * What reports have most of, with the share of each row and of all rows down to it. Shares are of the rows together, not of the reports:
 * a report with two defects is in two rows.
 * @see docs/rules/figures.md F-9
 */
export function paretoOf(reports: readonly MarkedReport[], by: ParetoBy): ParetoView {
  const counted = new Map<string, { reports: number; found: number }>();
  let without = 0;
  for (const report of reports) {
    const codes = report.marks.filter((mark) => mark.what === by).map((mark) => mark.code);
    if (codes.length === 0) without += 1;
    for (const code of codes) {
      const row = counted.get(code) ?? { reports: 0, found: 0 };
      counted.set(code, { reports: row.reports + 1, found: row.found + (by === 'defect' ? foundOf(report, code) : 0) });
    }
  }
  const sorted = [...counted].toSorted(([a, x], [b, y]) => y.reports - x.reports || y.found - x.found || (a < b ? -1 : 1));
  const total = sorted.reduce((sum, [, row]) => sum + row.reports, 0);
  let above = 0;
  const rows = sorted.map(([code, row]) => {
    above += row.reports;
    const found = by === 'defect' ? row.found : null;
    return { code, reports: row.reports, found, share: rounded(row.reports / total), cumulativeShare: rounded(above / total) };
  });
  return { by, reports: reports.length, without, rows };
}

const foundOf = ({ defects }: MarkedReport, code: string): number =>
  defects.filter((one) => one.defect === code).reduce((sum, one) => sum + one.count, 0);

const rounded = (share: number): number => Math.round(share * 10_000) / 10_000;
