import { Type } from 'class-transformer';
import { IsBoolean, IsIn, IsInt, IsOptional, Max, Min, ValidateNested } from 'class-validator';
import { SignedCommandDto } from '../../platform/http/command.dto.js';
import { IsDate, IsPlainText } from '../../platform/http/fields.js';
import { CLASSES, type Depth, DEPTHS, type Level, LEVELS, type RecallClass } from './progress.facts.js';

/** The six answers of a hazard evaluation (21 CFR 7.41(a)). */
export class HazardEvaluationDto {
  /** Illness or injuries that have happened, or that there are none. */
  @IsPlainText(4000)
  injuries: string;

  /** Conditions that make harm more likely. */
  @IsPlainText(4000)
  conditions: string;

  /** Who is exposed, the most vulnerable included. */
  @IsPlainText(4000)
  exposed: string;

  @IsPlainText(4000)
  seriousness: string;

  @IsPlainText(4000)
  likelihood: string;

  /** At once and in the long run. */
  @IsPlainText(4000)
  consequences: string;
}

export class PublicWarningDto {
  @IsBoolean()
  needed: boolean;

  @IsPlainText(2000)
  reason: string;
}

export class SetStrategyDto extends SignedCommandDto {
  @ValidateNested()
  @Type(() => HazardEvaluationDto)
  evaluation: HazardEvaluationDto;

  /** I: serious harm or death reasonably probable; II: temporary or reversible harm, or serious harm remote; III: harm not likely. */
  @IsIn(CLASSES)
  class: RecallClass;

  @IsPlainText(2000)
  classReason: string;

  /** How far down the chain goods are called back. */
  @IsIn(DEPTHS)
  depth: Depth;

  @ValidateNested()
  @Type(() => PublicWarningDto)
  publicWarning: PublicWarningDto;

  /** Effectiveness checks: A all consignees, B a number decided here, C 10 %, D 2 %, E none. */
  @IsIn(LEVELS)
  level: Level;

  /** Level B: more than 10 % of the consignees and less than all of them. */
  @IsOptional()
  @IsInt()
  @Min(1)
  @Max(10_000_000)
  sampleSize?: number;

  /** When it is expected to be complete. */
  @IsOptional()
  @IsDate()
  completionOn?: string;

  /** Days between status reports; left out: 14. */
  @IsOptional()
  @IsInt()
  @Min(1)
  @Max(365)
  reportEveryDays?: number;
}
