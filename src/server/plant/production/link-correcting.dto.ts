import { Type } from 'class-transformer';
import { ArrayMaxSize, IsArray, IsIn, IsInt, IsOptional, Min, ValidateNested } from 'class-validator';
import { CommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsInstant, IsPieces, IsPlainText, IsQuantity } from '../../platform/http/fields.js';
import { RUN_KINDS, type RunKind } from './run.facts.js';

/** A recorded link, by its entry and its number within it. */
export class LinkNumberDto {
  @IsInt()
  @Min(1)
  seq: number;

  @IsInt()
  @Min(1)
  ord: number;
}

export class LateLinkDto {
  @IsCode()
  from: string;

  /** Of a numbered lot; left out: all its pieces. */
  @IsOptional()
  @IsPieces()
  fromPieces?: string;

  @IsCode()
  to: string;

  @IsOptional()
  @IsPieces()
  toPieces?: string;

  /** Of a bulk lot, in its unit. */
  @IsOptional()
  @IsQuantity()
  quantity?: string;

  @IsOptional()
  @IsIn(['all', 'each'])
  map?: 'all' | 'each';

  /** When it went in. */
  @IsInstant()
  at: string;
}

export class CorrectLinksDto extends CommandDto {
  /** Code of the making step the links belong to. */
  @IsCode()
  run: string;

  @IsIn(RUN_KINDS)
  kind: RunKind;

  @IsPlainText(2000)
  reason: string;

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => LinkNumberDto)
  voids?: LinkNumberDto[];

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => LateLinkDto)
  links?: LateLinkDto[];

  /** Where what was taken in error stands. */
  @IsOptional()
  @IsCode()
  location?: string;
}

/** A link as it was recorded. */
export class RecordedLinkView {
  seq: number;
  ord: number;
  run: string;
  kind: string;
  at: string;
  from: string;
  fromPieces: string | null;
  to: string;
  toPieces: string | null;
  quantity: string;
  mass: string;
  map: string;
  /** Entry that voided it; null while it stands. */
  voidSeq: number | null;
}

export class RunLinksView {
  run: string;
  links: RecordedLinkView[];
}
