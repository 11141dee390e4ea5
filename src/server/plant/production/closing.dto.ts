import { Type } from 'class-transformer';
import { ArrayMaxSize, ArrayMinSize, IsArray, IsInt, IsOptional, Max, Min, ValidateNested } from 'class-validator';
import { MAX_PIECE } from '../../../../shared/spans.js';
import { CommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsInstant, IsPieces, IsPlainText, IsQuantity } from '../../platform/http/fields.js';
import { ChangeoverDto, ChargeDto, ReturnDto } from './run.dto.js';

const MOST_SERIALS = 20_000;

/** Net weights found at the scale, in kg. */
export class NetWeightsDto {
  @IsInt()
  @Min(1)
  @Max(MAX_PIECE)
  count: number;

  @IsQuantity()
  mean: string;

  /** Standard deviation. */
  @IsQuantity()
  sd: string;

  @IsQuantity()
  min: string;

  @IsQuantity()
  max: string;
}

/** Serial-numbered components and the pieces they went into, one by one and in the same order. */
export class FittedDto {
  @IsCode()
  item: string;

  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(MOST_SERIALS)
  @IsCode({ each: true })
  serials: string[];

  @IsPieces()
  intoPieces: string;
}

export class CloseRunDto extends CommandDto {
  /** Left out: now. */
  @IsOptional()
  @IsInstant()
  finishedAt?: string;

  /** Code of the lot made; left out: the next one. */
  @IsOptional()
  @IsCode()
  lot?: string;

  /** What came out of a bulk item, in its unit. */
  @IsOptional()
  @IsQuantity()
  quantity?: string;

  /** How many pieces came out of a numbered item, rejected ones included. */
  @IsOptional()
  @IsInt()
  @Min(1)
  @Max(MAX_PIECE)
  pieces?: number;

  /** Where it is; left out: in the run's vessel. */
  @IsOptional()
  @IsCode()
  location?: string;

  /** Serials of pieces 1 to N; left out: made by the item's pattern. */
  @IsOptional()
  @IsArray()
  @ArrayMaxSize(MOST_SERIALS)
  @IsCode({ each: true })
  serials?: string[];

  /** Pieces rejected at the scale: scrapped at once. */
  @IsOptional()
  @IsPieces()
  rejected?: string;

  @IsOptional()
  @IsPlainText(2000)
  rejectReason?: string;

  @IsOptional()
  @ValidateNested()
  @Type(() => NetWeightsDto)
  netWeights?: NetWeightsDto;

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => ChangeoverDto)
  changeovers?: ChangeoverDto[];

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => FittedDto)
  fitted?: FittedDto[];

  @IsOptional()
  @IsPlainText(2000)
  deviationReason?: string;

  @IsOptional()
  @IsPlainText(2000)
  note?: string;
}

export class CorrectRunDto extends CommandDto {
  /** Ledger entry that is put right. */
  @IsInt()
  @Min(1)
  corrects: number;

  @IsPlainText(2000)
  reason: string;

  /** Charges recorded in error, or in part: they go back to stock. */
  @IsOptional()
  @IsArray()
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => ReturnDto)
  returns?: ReturnDto[];

  /** Charges that were made and not recorded. */
  @IsOptional()
  @IsArray()
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => ChargeDto)
  charges?: ChargeDto[];

  /** All changeovers of the run as they are known now; left out: unchanged. */
  @IsOptional()
  @IsArray()
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => ChangeoverDto)
  changeovers?: ChangeoverDto[];
}
