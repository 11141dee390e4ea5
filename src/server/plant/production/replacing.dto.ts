import { Type } from 'class-transformer';
import { IsInt, IsOptional, Max, Min, ValidateNested } from 'class-validator';
import { MAX_PIECE } from '../../../../shared/spans.js';
import { CommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsInstant, IsPlainText, IsQuantity } from '../../platform/http/fields.js';
import { ReplacementView } from './run-view.dto.js';

/** A piece by its serial or by its lot and number, or a quantity of a bulk lot. */
export class PartDto {
  /** Item whose serial is given. */
  @IsOptional()
  @IsCode()
  item?: string;

  @IsOptional()
  @IsCode()
  serial?: string;

  @IsOptional()
  @IsCode()
  lot?: string;

  @IsOptional()
  @IsInt()
  @Min(1)
  @Max(MAX_PIECE)
  piece?: number;

  /** Of a bulk lot; left out: one. */
  @IsOptional()
  @IsQuantity()
  quantity?: string;
}

export class ReplacePartDto extends CommandDto {
  /** The unit, by its serial or by lot and piece. */
  @ValidateNested()
  @Type(() => PartDto)
  unit: PartDto;

  /** The part that comes out. */
  @ValidateNested()
  @Type(() => PartDto)
  removed: PartDto;

  /** The part that goes in. */
  @ValidateNested()
  @Type(() => PartDto)
  fitted: PartDto;

  /** Left out: now. */
  @IsOptional()
  @IsInstant()
  at?: string;

  @IsPlainText(2000)
  reason: string;

  /** Where the old part goes, of a numbered one: it stands there in quarantine. Left out: scrapped. */
  @IsOptional()
  @IsCode()
  location?: string;
}

/** A part of a unit: exactly one piece, or any of some, or some of a bulk lot. */
export class BuiltPartView {
  item: string;
  name: string;
  lot: string;
  supplier: string | null;
  supplierLot: string | null;
  /** The one piece, where it is known. */
  piece: number | null;
  serial: string | null;
  /** Pieces any of which may be in the unit. */
  anyOf: string | null;
  run: string;
  kind: string;
  at: string;
  seq: number;
  /** How much of it the unit may hold still, where a replacement took out less than the unit had; null where none or all was taken out. */
  mayStillHold: string | null;
  /** Set when it, or some of it, was taken out again: until when, and by which entry. */
  replacedAt: string | null;
  replacedSeq: number | null;
}

export class BuildRecordView {
  item: string;
  name: string;
  serial: string;
  lot: string;
  piece: number;
  run: string;
  builtAt: string;
  builtBy: string[];
  label: string | null;
  status: string;
  /** Where it is now. */
  place: string;
  /** What was built in. */
  asBuilt: BuiltPartView[];
  /** What is in it now, as far as the record tells. */
  asIs: BuiltPartView[];
  replaced: ReplacementView[];
}
