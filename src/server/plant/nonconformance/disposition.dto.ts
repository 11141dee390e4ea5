import { Type } from 'class-transformer';
import { ArrayMaxSize, ArrayMinSize, IsArray, IsIn, IsInt, IsOptional, Max, MaxLength, Min, ValidateNested } from 'class-validator';
import { CommandDto, SignedCommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsDate, IsPieces, IsPlainText, IsQuantity } from '../../platform/http/fields.js';
import { ROLES, type Role } from '../people/people.facts.js';
import { type ConcessionTerms, type DispositionKind, DISPOSITIONS } from './disposition.facts.js';

export class ConcessionTermsDto {
  /** Whose it is to give. */
  @IsIn(['quality', 'customer', 'design-authority'])
  authority: ConcessionTerms['authority'];

  /** Who of them authorised it. */
  @IsPlainText(200)
  authorisedBy: string;

  /** Under which reference. */
  @IsPlainText(200)
  reference: string;

  /** Last day on which it covers anything. */
  @IsDate()
  until: string;
}

export class ProposeDispositionDto extends CommandDto {
  @IsIn(DISPOSITIONS)
  kind: DispositionKind;

  @IsCode()
  lot: string;

  /** Pieces of a numbered lot, as "5-17,40"; left out with the quantity: all of the lot that has no disposition yet. */
  @IsOptional()
  @IsPieces()
  pieces?: string;

  /** A quantity of a bulk lot. */
  @IsOptional()
  @IsQuantity()
  quantity?: string;

  /** Why: it is signed with the rest. */
  @IsPlainText(2000)
  reason: string;

  /** Rework and repair: any adverse effect of doing it. */
  @IsOptional()
  @IsPlainText(2000)
  adverseEffect?: string;

  /** Regrade: the item the pieces become. */
  @IsOptional()
  @IsCode()
  regradeTo?: string;

  /** Concession: by whose authority, and until when. */
  @IsOptional()
  @ValidateNested()
  @Type(() => ConcessionTermsDto)
  concession?: ConcessionTermsDto;
}

export class SignDispositionDto extends CommandDto {
  /** The signer's password, given again for this decision. Never stored. */
  @MaxLength(1024)
  password: string;

  /** The function the signer signs for: one of theirs. */
  @IsIn(ROLES)
  as: Role;
}

export class WithdrawDispositionDto extends CommandDto {
  @IsPlainText(2000)
  reason: string;
}

export class SortedPartDto {
  @IsOptional()
  @IsPieces()
  pieces?: string;

  @IsOptional()
  @IsQuantity()
  quantity?: string;
}

export class SortedDto {
  /** What was found to conform; left out: nothing. */
  @IsOptional()
  @ValidateNested()
  @Type(() => SortedPartDto)
  conforming?: SortedPartDto;

  /** What was not, and waits for another disposition; left out: nothing. */
  @IsOptional()
  @ValidateNested()
  @Type(() => SortedPartDto)
  nonconforming?: SortedPartDto;
}

export class CarryOutDispositionDto extends CommandDto {
  /** Rework, repair: the run it was done in. */
  @IsOptional()
  @IsCode()
  run?: string;

  /** Scrap, return: the document, as it stands on paper. */
  @IsOptional()
  @IsCode()
  document?: string;

  /** What was done. */
  @IsPlainText(4000)
  note: string;

  /** SHA-256 of stored photographs and files. */
  @IsOptional()
  @IsArray()
  @ArrayMaxSize(50)
  @IsCode({ each: true })
  files?: string[];

  /** Sort: what conforms and what does not. */
  @IsOptional()
  @ValidateNested()
  @Type(() => SortedDto)
  sorted?: SortedDto;
}

export class VerifyDispositionDto extends CommandDto {
  /** The inspection, opened after it was carried out, that accepted the pieces. */
  @IsCode()
  inspection: string;
}

export class CloseReportDto extends SignedCommandDto {}

export class KindRuleDto {
  @IsIn(DISPOSITIONS)
  disposition: DispositionKind;

  /** Functions that must be among the signers. */
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(10)
  @IsIn(ROLES, { each: true })
  functions: Role[];

  /** Signers in all, each for another function. */
  @IsInt()
  @Min(1)
  @Max(10)
  signers: number;
}

export class SetReviewRuleDto extends SignedCommandDto {
  /** The kinds of disposition that change; the others stay as they are. */
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(20)
  @ValidateNested({ each: true })
  @Type(() => KindRuleDto)
  rules: KindRuleDto[];
}
