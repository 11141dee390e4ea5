import { IsOptional } from 'class-validator';
import { IsCode, IsInstant } from '../../platform/http/fields.js';

export class FiguresQueryDto {
  @IsOptional()
  @IsCode()
  supplier?: string;

  @IsOptional()
  @IsCode()
  item?: string;

  /** Lots that came in (or were made) from this instant on. */
  @IsOptional()
  @IsInstant()
  from?: string;

  /** And before this one. */
  @IsOptional()
  @IsInstant()
  to?: string;
}

export class PerMillionView {
  estimate: number;
  /** Exact interval by Clopper and Pearson. */
  lower: number;
  upper: number;
  confidence: number;
}

export class SeverityNowView {
  class: string;
  plan: string;
  severity: string;
}

/** What is known of an item from a supplier; without a supplier, of what is made here. */
export class SupplierItemView {
  supplier: string | null;
  item: string;
  lots: number;
  accepted: number;
  notAccepted: number;
  skipped: number;
  /** Inspections that wait or are under way. */
  open: number;
  /** Items looked at in inspections that were carried to the end. */
  itemsInspected: number;
  itemsNonconforming: number;
  nonconformingPerMillion: PerMillionView | null;
  severity: SeverityNowView[];
  /** Lots of which anything was released. */
  released: number;
  /** From dock (or the closing of the run) to first release. */
  medianHoursToRelease: number | null;
  longestHoursToRelease: number | null;
}
