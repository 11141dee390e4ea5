import { Type } from 'class-transformer';
import { ArrayMaxSize, IsArray, IsIn, IsInt, IsObject, IsOptional, Max, Min, ValidateNested } from 'class-validator';
import { CommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsInstant, IsPlainText } from '../../platform/http/fields.js';
import { SEVERITY_CLASSES, type SeverityClass } from '../catalogue/inspection-plan.facts.js';

const LARGEST_SAMPLE = 100_000;

export class BeginInspectionDto extends CommandDto {
  /** Items or containers the lot consists of, where the record does not know it: a bulk lot whose containers nobody counted. */
  @IsOptional()
  @IsInt()
  @Min(1)
  @Max(Number.MAX_SAFE_INTEGER)
  lotSize?: number;
}

export class FoundDto {
  /** Code of the plant's list of defects. */
  @IsOptional()
  @IsCode()
  defect?: string;

  /** An attribute of the plan that is not met. */
  @IsOptional()
  @IsCode()
  characteristic?: string;

  @IsOptional()
  @IsInt()
  @Min(1)
  @Max(10_000)
  count?: number;

  /** Judged worse than the defect's own class. */
  @IsOptional()
  @IsIn(SEVERITY_CLASSES)
  class?: SeverityClass;
}

export class MeasurementDto {
  /** Code of a measured characteristic of the plan. */
  @IsCode()
  characteristic: string;

  /** What was read, a line a reading: decimal texts by column, as `{"value": "12.5"}` or `{"mass": "25.1", "volume": "30"}`. */
  @IsArray()
  @ArrayMaxSize(1000)
  @IsObject({ each: true })
  readings: Record<string, string>[];

  /** The instrument it was measured with. */
  @IsOptional()
  @IsCode()
  instrument?: string;
}

export class InspectedItemDto {
  @IsOptional()
  @IsInt()
  @Min(1)
  piece?: number;

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(100)
  @ValidateNested({ each: true })
  @Type(() => FoundDto)
  found?: FoundDto[];

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(100)
  @ValidateNested({ each: true })
  @Type(() => MeasurementDto)
  measured?: MeasurementDto[];

  /** SHA-256 of stored photographs and files. */
  @IsOptional()
  @IsArray()
  @ArrayMaxSize(20)
  @IsCode({ each: true })
  files?: string[];

  @IsOptional()
  @IsPlainText(2000)
  note?: string;
}

export class TallyDto extends CommandDto {
  /** Left out: the first sample. */
  @IsOptional()
  @IsIn([1, 2])
  sample?: 1 | 2;

  /** Items found conforming that are not written down one by one. */
  @IsOptional()
  @IsInt()
  @Min(0)
  @Max(LARGEST_SAMPLE)
  conforming?: number;

  /** Items written down one by one: nonconforming, or measured. */
  @IsOptional()
  @IsArray()
  @ArrayMaxSize(1000)
  @ValidateNested({ each: true })
  @Type(() => InspectedItemDto)
  items?: InspectedItemDto[];
}

export class TakeTallyBackDto extends CommandDto {
  @IsPlainText(2000)
  reason: string;
}

export class RecordResultDto extends CommandDto {
  @IsCode()
  characteristic: string;

  /** What was read, a line a reading: decimal texts by column. */
  @IsArray()
  @ArrayMaxSize(1000)
  @IsObject({ each: true })
  readings: Record<string, string>[];

  @IsOptional()
  @IsCode()
  instrument?: string;

  /** Left out: now. */
  @IsOptional()
  @IsInstant()
  measuredAt?: string;

  /** Number of the result it follows; with a reason. */
  @IsOptional()
  @IsInt()
  @Min(1)
  retestOf?: number;

  @IsOptional()
  @IsPlainText(2000)
  reason?: string;

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(20)
  @IsCode({ each: true })
  files?: string[];
}

export class DecideInspectionDto extends CommandDto {
  /** Why the lot is not accepted although the plan would accept it. */
  @IsOptional()
  @IsPlainText(2000)
  stricter?: string;
}

export class InspectionQueryDto {
  @IsOptional()
  @IsIn(['waiting', 'begun', 'decided', 'skipped', 'called-off'])
  state?: 'waiting' | 'begun' | 'decided' | 'skipped' | 'called-off';

  @IsOptional()
  @IsCode()
  lot?: string;

  @IsOptional()
  @IsCode()
  item?: string;
}
