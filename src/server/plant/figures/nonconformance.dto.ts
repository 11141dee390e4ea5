import { IsIn, IsOptional } from 'class-validator';
import { IsCode, IsInstant } from '../../platform/http/fields.js';
import type { SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { DispositionKind } from '../nonconformance/disposition.facts.js';
import type { ActionKind, CostKind } from '../nonconformance/learning.facts.js';
import type { ReportState } from '../nonconformance/states.facts.js';

export const PARETO_BY = ['defect', 'item', 'supplier', 'line', 'cause'] as const;
export type ParetoBy = (typeof PARETO_BY)[number];

export class PeriodQueryDto {
  /** From this instant on. */
  @IsOptional()
  @IsInstant()
  from?: string;

  /** And before this one. */
  @IsOptional()
  @IsInstant()
  to?: string;
}

export class ParetoQueryDto extends PeriodQueryDto {
  /** What reports are counted by; left out: defects. */
  @IsOptional()
  @IsIn(PARETO_BY)
  by?: ParetoBy;
}

export class RightFirstTimeQueryDto extends PeriodQueryDto {
  @IsOptional()
  @IsCode()
  item?: string;
}

export class ParetoRowView {
  code: string;
  /** Reports that have it. */
  reports: number;
  /** By defect: how many were found in all; else null. */
  found: number | null;
  /** Of all rows, by reports. */
  share: number;
  /** With every row above it. */
  cumulativeShare: number;
}

export class ParetoView {
  by: ParetoBy;
  /** Reports raised in the time asked for, without those withdrawn. */
  reports: number;
  /** Those of them that have none of what is counted. */
  without: number;
  /** Most first. A report with two defects is in two rows. */
  rows: ParetoRowView[];
}

export class AgeBucketView {
  state: ReportState;
  /** Days since the report was raised. */
  upTo7: number;
  from8To30: number;
  from31To90: number;
  over90: number;
  reports: number;
}

export class AgedReportView {
  report: string;
  state: ReportState;
  severity: SeverityClass;
  requirement: string;
  raisedAt: string;
  daysOpen: number;
  daysInState: number;
}

export class AgeingView {
  /** The day it is told for. */
  on: string;
  /** In the order of the states. */
  states: AgeBucketView[];
  /** Oldest first. */
  reports: AgedReportView[];
}

export class CostRowView {
  /** Null: of reports as a whole. */
  dispositionKind: DispositionKind | null;
  kind: CostKind;
  minor: number;
  /** Reports that have such a cost. */
  reports: number;
}

export class CostFiguresView {
  /** ISO 4217. */
  currency: string;
  /** Decimals of its minor unit. */
  minorDigits: number;
  /** Most first. */
  rows: CostRowView[];
  totalMinor: number;
}

export class RightFirstTimeRowView {
  item: string;
  /** ISO 8601, as 2026-W09: the week of the decision. */
  week: string;
  lots: number;
  lotsAccepted: number;
  lotRate: number;
  /** Of numbered lots. */
  pieces: number;
  piecesAccepted: number;
  pieceRate: number | null;
}

export class OverdueView {
  report: string;
  state: ReportState;
  severity: SeverityClass;
  what: 'action' | 'effectiveness-check';
  action: number | null;
  kind: ActionKind | null;
  /** The action, or the criterion of the check. */
  subject: string;
  /** Of an action; a check is for quality. */
  owner: string | null;
  dueOn: string;
  daysOverdue: number;
}
