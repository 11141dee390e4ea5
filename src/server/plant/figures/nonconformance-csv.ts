import { formatMinor } from '../../../../shared/currency.js';
import { csvTable } from '../../platform/csv.js';
import type { AgeingView, CostFiguresView, OverdueView, ParetoView, RightFirstTimeRowView } from './nonconformance.dto.js';

/** Each figure as CSV, one row each. */
export const paretoCsv = ({ by, rows }: ParetoView): string =>
  csvTable(
    [by, 'reports', 'found', 'share', 'cumulative_share'],
    rows.map((row) => [row.code, row.reports, row.found, row.share, row.cumulativeShare]),
  );

export const ageingCsv = ({ reports }: AgeingView): string =>
  csvTable(
    ['report', 'state', 'severity', 'requirement', 'raised_at', 'days_open', 'days_in_state'],
    reports.map((row) => [row.report, row.state, row.severity, row.requirement, row.raisedAt, row.daysOpen, row.daysInState]),
  );

export const costsCsv = ({ rows, currency, minorDigits }: CostFiguresView): string =>
  csvTable(
    ['disposition', 'kind', 'reports', 'minor_units', 'amount', 'currency'],
    rows.map((row) => [row.dispositionKind, row.kind, row.reports, row.minor, formatMinor(row.minor, minorDigits), currency]),
  );

export const rightFirstTimeCsv = (rows: readonly RightFirstTimeRowView[]): string =>
  csvTable(
    ['item', 'week', 'lots', 'lots_accepted', 'lot_rate', 'pieces', 'pieces_accepted', 'piece_rate'],
    rows.map((row) => [row.item, row.week, row.lots, row.lotsAccepted, row.lotRate, row.pieces, row.piecesAccepted, row.pieceRate]),
  );

export const overdueCsv = (rows: readonly OverdueView[]): string =>
  csvTable(
    ['report', 'state', 'severity', 'what', 'action', 'kind', 'subject', 'owner', 'due_on', 'days_overdue'],
    rows.map((row) => [
      row.report,
      row.state,
      row.severity,
      row.what,
      row.action,
      row.kind,
      row.subject,
      row.owner,
      row.dueOn,
      row.daysOverdue,
    ]),
  );
