import { Type } from 'class-transformer';
import { IsInt, IsOptional, Min } from 'class-validator';

export class RecallVersionDto {
  /** Version of the scope; left out: the latest. */
  @IsOptional()
  @Type(() => Number)
  @IsInt()
  @Min(1)
  version?: number;
}

export class RecallReportDto extends RecallVersionDto {
  /** Ledger entry as known at which the report tells how far the recall has come; left out: it tells of the scope alone. */
  @IsOptional()
  @Type(() => Number)
  @IsInt()
  @Min(1)
  asKnownAt?: number;
}
