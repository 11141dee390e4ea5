import { IsIn, IsInt, IsOptional, Max, Min } from 'class-validator';
import { AsNumber, IsCode, IsInstant } from '../../platform/http/fields.js';

export const CHART_KINDS = ['means', 'individuals', 'fraction', 'count'] as const;
export type ChartKind = (typeof CHART_KINDS)[number];

export class ChartQueryDto {
  @IsCode()
  item: string;

  /** `means`: mean and range of each result's readings; `individuals`: each result's value; `fraction`: nonconforming of each lot inspected; `count`: nonconformities of each lot inspected. */
  @IsIn(CHART_KINDS)
  chart: ChartKind;

  /** Measured characteristic, for `means` and `individuals`. */
  @IsOptional()
  @IsCode()
  characteristic?: string;

  @IsOptional()
  @IsCode()
  supplier?: string;

  /** Results and verdicts from this instant on. */
  @IsOptional()
  @IsInstant()
  from?: string;

  /** And before this one. */
  @IsOptional()
  @IsInstant()
  to?: string;

  /** Limits from the first so many points; left out: from all. */
  @IsOptional()
  @AsNumber()
  @IsInt()
  @Min(1)
  @Max(10_000)
  baseline?: number;
}

export class ChartZoneView {
  sigmas: number;
  lower: number;
  upper: number;
}

export class ChartPointView {
  at: number;
  value: number;
  lower: number;
  upper: number;
  zones: ChartZoneView[];
  z: number | null;
  baseline: boolean;
  signals: number[];
}

export class ChartSignalView {
  rule: number;
  at: number;
  from: number;
  side: 'above' | 'below';
  words: string;
}

export class ChartPanelView {
  statistic: string;
  centre: number;
  points: ChartPointView[];
  signals: ChartSignalView[];
}

export class ChartCautionView {
  about: string;
  words: string;
}

/** What a point of the chart stands for. */
export class ChartSourceView {
  at: number;
  inspection: string;
  lot: string;
  when: string;
}

export class CapabilityIntervalView {
  confidence: number;
  lower: number;
  upper: number;
}

export class CapabilityIndicesView {
  width: number | null;
  lower: number | null;
  upper: number | null;
  worst: number;
  sigma: number;
  interval: CapabilityIntervalView;
}

export class CapabilityView {
  values: number;
  subgroups: number;
  mean: number;
  /** Cp and Cpk: by the spread within subgroups. */
  within: CapabilityIndicesView | null;
  /** Pp and Ppk: by the standard deviation of all values. */
  overall: CapabilityIndicesView | null;
  outside: number;
  inControl: boolean;
  cautions: ChartCautionView[];
}

export class ChartView {
  item: string;
  characteristic: string | null;
  unit: string | null;
  kind: string;
  panels: ChartPanelView[];
  baseline: number;
  inControl: boolean;
  cautions: ChartCautionView[];
  sources: ChartSourceView[];
  /** Against the limits of the item's plan as it stands; null where it has none for this characteristic. */
  capability: CapabilityView | null;
  /** Results with another number of readings than most, left out of a chart of means. */
  leftOut: ChartSourceView[];
}
