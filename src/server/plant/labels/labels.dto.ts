import { Transform } from 'class-transformer';
import { IsIn, IsInt, IsOptional, Max, Min } from 'class-validator';
import type { LabelPaper } from '../../documents/pdf/write-labels.js';

const PAPERS: readonly LabelPaper[] = ['roll', 'a4'];

/** How labels are to be printed. */
export class LabelQueryDto {
  /** `roll`: one label of 100 by 62 mm a page, for a label printer. `a4`: eight on a sheet, to cut apart. Left out: `roll`. */
  @IsOptional()
  @IsIn(PAPERS)
  sheet?: LabelPaper;

  /** How many of each label. Left out: one. */
  @IsOptional()
  @Transform(({ value }: { value: unknown }) => (typeof value === 'string' && /^\d{1,9}$/u.test(value) ? Number(value) : value))
  @IsInt()
  @Min(1)
  @Max(100)
  copies?: number;
}
