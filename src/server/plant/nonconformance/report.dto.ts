import { Type } from 'class-transformer';
import { ArrayMaxSize, IsArray, IsBoolean, IsIn, IsInt, IsOptional, IsString, Max, MaxLength, Min, ValidateNested } from 'class-validator';
import { CommandDto, SignedCommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsInstant, IsPieces, IsPlainText, IsQuantity } from '../../platform/http/fields.js';
import { SEVERITY_CLASSES, type SeverityClass } from '../catalogue/inspection-plan.facts.js';
import { RELATIONS, type Relation, SOURCES, type Source } from './nonconformance.facts.js';
import { REPORT_STATES, type ReportState } from './states.facts.js';

export class AffectedPartDto {
  @IsCode()
  lot: string;

  /** Pieces of a numbered lot, as "5-17,40"; left out: all of them. */
  @IsOptional()
  @IsPieces()
  pieces?: string;

  /** A quantity of a bulk lot; left out: all that is here or with customers. */
  @IsOptional()
  @IsQuantity()
  quantity?: string;
}

export class SourceDto {
  @IsIn(SOURCES)
  kind: Source;

  /** The delivery, inspection, run, instrument or return it was found at; left out where there is none. */
  @IsOptional()
  @IsCode()
  code?: string;
}

export class FoundDefectDto {
  @IsCode()
  defect: string;

  @IsOptional()
  @IsInt()
  @Min(1)
  @Max(10_000_000)
  count?: number;
}

/** What a trace that a report is raised from starts at; as for `/api/trace`. */
export class TracedFromDto {
  @IsOptional()
  @IsCode()
  lot?: string;

  @IsOptional()
  @IsPieces()
  pieces?: string;

  @IsOptional()
  @IsCode()
  supplierLot?: string;

  @IsOptional()
  @IsCode()
  run?: string;

  @IsOptional()
  @IsCode()
  vessel?: string;

  @IsOptional()
  @IsInstant()
  at?: string;
}

export class RaiseReportDto extends CommandDto {
  /** Raised from an inspection, all that is left out here is taken from it. */
  @IsOptional()
  @IsCode()
  fromInspection?: string;

  /** Raised from a trace, everything it reaches forward is affected, beside the parts named. */
  @IsOptional()
  @ValidateNested()
  @Type(() => TracedFromDto)
  fromTrace?: TracedFromDto;

  @IsOptional()
  @ValidateNested()
  @Type(() => SourceDto)
  source?: SourceDto;

  /** The requirement that is not met. */
  @IsOptional()
  @IsPlainText(2000)
  requirement?: string;

  /** What was found, in words. */
  @IsOptional()
  @IsPlainText(4000)
  found?: string;

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(100)
  @ValidateNested({ each: true })
  @Type(() => FoundDefectDto)
  defects?: FoundDefectDto[];

  /** Measured values as they were read. */
  @IsOptional()
  @IsArray()
  @ArrayMaxSize(100)
  @IsString({ each: true })
  @MaxLength(500, { each: true })
  measured?: string[];

  /** SHA-256 of stored photographs and files. */
  @IsOptional()
  @IsArray()
  @ArrayMaxSize(50)
  @IsCode({ each: true })
  files?: string[];

  @IsOptional()
  @IsIn(SEVERITY_CLASSES)
  severity?: SeverityClass;

  /** Left out: who raises it. */
  @IsOptional()
  @IsCode()
  foundBy?: string;

  /** Left out: now. */
  @IsOptional()
  @IsInstant()
  foundAt?: string;

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => AffectedPartDto)
  parts?: AffectedPartDto[];
}

export class JudgePartDto extends AffectedPartDto {
  @IsOptional()
  @IsCode()
  commandId?: string;

  @IsIn(RELATIONS)
  relation: Relation;

  /** In, or out. */
  @IsBoolean()
  affected: boolean;

  @IsPlainText(2000)
  reason: string;
}

export class ContainReportDto extends SignedCommandDto {
  /** Who owns the holds; left out: the signer. */
  @IsOptional()
  @IsCode()
  owner?: string;
}

export class AnsweredDto {
  @IsBoolean()
  needed: boolean;

  @IsPlainText(2000)
  reason: string;
}

export class ReviewReportDto extends SignedCommandDto {
  /** Left out: as it was raised. */
  @IsOptional()
  @IsIn(SEVERITY_CLASSES)
  severity?: SeverityClass;

  /** Whether the cause is investigated. */
  @ValidateNested()
  @Type(() => AnsweredDto)
  investigate: AnsweredDto;

  /** Whether the party responsible is told. */
  @ValidateNested()
  @Type(() => AnsweredDto)
  inform: AnsweredDto;
}

export class DecideReportDto extends SignedCommandDto {}

export class TellConsigneeDto extends CommandDto {
  @IsCode()
  customer: string;

  /** How, as `telephone` or `e-mail`. */
  @IsCode()
  channel: string;

  @IsPlainText(4000)
  what: string;

  /** Left out: now. */
  @IsOptional()
  @IsInstant()
  toldAt?: string;
}

export class ConsigneeAnswerDto extends CommandDto {
  @IsCode()
  customer: string;

  @IsPlainText(4000)
  answer: string;

  /** Left out: now. */
  @IsOptional()
  @IsInstant()
  answeredAt?: string;
}

export class ReportQueryDto {
  @IsOptional()
  @IsIn(REPORT_STATES)
  state?: ReportState;

  /** Every report that affects this lot. */
  @IsOptional()
  @IsCode()
  lot?: string;

  @IsOptional()
  @IsIn(SEVERITY_CLASSES)
  severity?: SeverityClass;
}
