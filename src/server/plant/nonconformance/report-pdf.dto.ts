import { Transform } from 'class-transformer';
import { IsInt, IsOptional, Min } from 'class-validator';

export class ReportPdfQueryDto {
  /** Ledger entry as known at which the report is told; left out: the last about it. */
  @IsOptional()
  @Transform(({ value }: { value: unknown }) => (typeof value === 'string' && /^\d{1,15}$/u.test(value) ? Number(value) : value))
  @IsInt()
  @Min(1)
  asKnownAt?: number;
}
