import { Transform } from 'class-transformer';
import { IsInt, Max, Min } from 'class-validator';
import { PlanNumbersView, SampleView } from './inspection-view.dto.js';

export class PlanPreviewQueryDto {
  /** Items (or containers) in the lot. */
  @Transform(({ value }: { value: unknown }) => (typeof value === 'string' && /^\d{1,16}$/.test(value) ? Number(value) : value))
  @IsInt()
  @Min(1)
  @Max(Number.MAX_SAFE_INTEGER)
  lotSize: number;
}

/** How one class would be judged. */
export class ClassPreviewView {
  class: 'major' | 'minor';
  aql: string;
  plan: PlanNumbersView;
  /** How the plan was come to: arrows followed, the larger sample of another class. */
  because: string[];
  /** What of the plan no readable source confirms. */
  unverified: string | null;
}

/** What the plan of an item takes from a lot of a size. */
export class PlanPreviewView {
  item: string;
  planRevision: number;
  lotSize: number;
  /** Supplier and history are left aside: the severity at the start of inspection (clause 9.1). */
  severity: 'normal';
  /** Null: only the lot as a whole is tested. */
  sample: SampleView | null;
  /** Critical needs no plan: one found is enough. */
  classes: ClassPreviewView[];
}
