import { Type } from 'class-transformer';
import { ArrayMaxSize, ArrayMinSize, IsArray, IsBoolean, IsIn, IsInt, IsOptional, Max, Min, ValidateNested } from 'class-validator';
import { MAX_PIECE } from '../../../../shared/spans.js';
import { CommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsInstant, IsPieces, IsPlainText, IsQuantity } from '../../platform/http/fields.js';
import { RUN_KINDS, type RunKind } from './run.facts.js';

/** Most serials or units a run can name one by one. */
const MOST_SERIALS = 20_000;

export class ClearanceDto {
  /** True: the line or vessel was checked clear of the product, labels and material before. */
  @IsBoolean()
  confirmed: boolean;

  /** Who checked. */
  @IsCode()
  checkedBy: string;

  @IsOptional()
  @IsPlainText(500)
  note?: string;
}

export class RunLabelDto {
  /** Text of the label as it is printed. */
  @IsPlainText(4000)
  text: string;

  /** Code or revision of the label. */
  @IsOptional()
  @IsCode()
  code?: string;
}

export class StartRunDto extends CommandDto {
  /** Left out: the next number. */
  @IsOptional()
  @IsCode()
  run?: string;

  @IsIn(RUN_KINDS)
  kind: RunKind;

  /** Item to be made, or reworked. */
  @IsCode()
  item: string;

  @IsOptional()
  @IsCode()
  recipe?: string;

  @IsOptional()
  @IsCode()
  bom?: string;

  @IsOptional()
  @IsCode()
  vessel?: string;

  @IsOptional()
  @IsCode()
  line?: string;

  /** Who works on it; left out: the person who starts it. */
  @IsOptional()
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(50)
  @IsCode({ each: true })
  people?: string[];

  /** Left out: now. */
  @IsOptional()
  @IsInstant()
  startedAt?: string;

  /** Planned quantity in the item's unit: the recipe is scaled to it. */
  @IsOptional()
  @IsQuantity()
  planned?: string;

  @IsOptional()
  @ValidateNested()
  @Type(() => ClearanceDto)
  clearance?: ClearanceDto;

  @IsOptional()
  @ValidateNested()
  @Type(() => RunLabelDto)
  label?: RunLabelDto;

  /** True: charge at once what the vessel still holds of an earlier batch. */
  @IsOptional()
  @IsBoolean()
  takeHeel?: boolean;

  @IsOptional()
  @IsPlainText(2000)
  note?: string;
}

/** A part of one lot, or pieces by their serials. */
export class ChargeDto {
  /** Lot code; left out when serials are given. */
  @IsOptional()
  @IsCode()
  lot?: string;

  /** Pieces of a numbered lot, as "5-17,40". */
  @IsOptional()
  @IsPieces()
  pieces?: string;

  /** Decimal in `unit`, or in the lot's unit. */
  @IsOptional()
  @IsQuantity()
  quantity?: string;

  /** Unit the quantity is given in, where it is not the lot's: it is converted by the item's density. */
  @IsOptional()
  @IsIn(['kg', 'L', 'm', 'each'])
  unit?: 'kg' | 'L' | 'm' | 'each';

  /** Item whose serials are given. */
  @IsOptional()
  @IsCode()
  item?: string;

  /** Serials in the order of `intoPieces`. */
  @IsOptional()
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(MOST_SERIALS)
  @IsCode({ each: true })
  serials?: string[];

  /** Step of the recipe, counted from 1; left out: the first step of this item that wants some. */
  @IsOptional()
  @IsInt()
  @Min(1)
  @Max(1000)
  step?: number;

  /** When it went in; left out: now. May be in the past. */
  @IsOptional()
  @IsInstant()
  chargedAt?: string;

  /** Who charged it; left out: the person who records it. */
  @IsOptional()
  @IsCode()
  by?: string;

  /** Location or vessel it is taken from; left out: wherever it is. */
  @IsOptional()
  @IsCode()
  from?: string;

  /** A changeover: this lot is in use from this piece of the lot being made on. */
  @IsOptional()
  @IsInt()
  @Min(1)
  @Max(MAX_PIECE)
  fromPiece?: number;

  /** Pieces of the lot being made that it goes into, where that is known. */
  @IsOptional()
  @IsPieces()
  intoPieces?: string;

  /** How pieces map: any into any, or each into each in order. Serials always go each into each. */
  @IsOptional()
  @IsIn(['all', 'each'])
  map?: 'all' | 'each';

  /** Mass in kg of what blends, where the item does not say it. */
  @IsOptional()
  @IsQuantity()
  mass?: string;

  /** Why it is done although the recipe says otherwise: the deviation is then recorded with it. */
  @IsOptional()
  @IsPlainText(2000)
  deviationReason?: string;
}

export class ChargeRunDto extends CommandDto {
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => ChargeDto)
  charges: ChargeDto[];
}

export class ChargeHeelDto extends CommandDto {
  /** Left out: now. */
  @IsOptional()
  @IsInstant()
  chargedAt?: string;

  @IsOptional()
  @IsPlainText(2000)
  deviationReason?: string;
}

export class ReturnDto {
  /** Number of the charge within the run. */
  @IsInt()
  @Min(1)
  charge: number;

  @IsOptional()
  @IsPieces()
  pieces?: string;

  /** Left out, and no pieces: all that is left of the charge. */
  @IsOptional()
  @IsQuantity()
  quantity?: string;

  /** Left out: where it was taken from. */
  @IsOptional()
  @IsCode()
  location?: string;
}

export class ReturnChargesDto extends CommandDto {
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => ReturnDto)
  returns: ReturnDto[];

  @IsPlainText(2000)
  reason: string;
}

export class ChangeoverDto {
  /** The lot that comes into use. */
  @IsCode()
  lot: string;

  /** First piece of the lot being made that it is in. */
  @IsInt()
  @Min(1)
  @Max(MAX_PIECE)
  fromPiece: number;

  @IsOptional()
  @IsInstant()
  changedAt?: string;
}

export class RecordChangeoversDto extends CommandDto {
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => ChangeoverDto)
  changeovers: ChangeoverDto[];
}

export class ExplainYieldDto extends CommandDto {
  @IsIn(['yield', 'mass'])
  what: 'yield' | 'mass';

  @IsPlainText(4000)
  explanation: string;
}
