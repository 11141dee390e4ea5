import { ArrayMaxSize, ArrayMinSize, ArrayUnique, IsArray, IsBoolean, IsIn, IsInt, IsOptional, Max, Min, NotEquals } from 'class-validator';
import { CommandDto, SignedCommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsDate, IsPlainText } from '../../platform/http/fields.js';
import { ACTION_KINDS, type ActionKind, CAUSE_CATEGORIES, type CauseCategory, COST_KINDS, type CostKind } from './learning.facts.js';

export class AnalyseCauseDto extends CommandDto {
  /** Each answers why the one before it was so. */
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(10)
  @IsPlainText(1000, { each: true })
  whys: string[];

  @IsArray()
  @ArrayMinSize(1)
  @ArrayUnique()
  @IsIn(CAUSE_CATEGORIES, { each: true })
  categories: CauseCategory[];

  @IsPlainText(4000)
  conclusion: string;
}

export class PlanActionDto extends CommandDto {
  /** Correction is of the pieces, corrective action on the cause, preventive action on what has not happened yet. */
  @IsIn(ACTION_KINDS)
  kind: ActionKind;

  @IsPlainText(2000)
  what: string;

  /** The person who answers for it. */
  @IsCode()
  owner: string;

  @IsDate()
  dueOn: string;
}

export class ActionDoneDto extends CommandDto {
  /** What shows that it was done. */
  @IsPlainText(4000)
  evidence: string;

  /** SHA-256 of stored photographs and files. */
  @IsOptional()
  @IsArray()
  @ArrayMaxSize(50)
  @IsCode({ each: true })
  files?: string[];
}

export class PlanEffectivenessDto extends CommandDto {
  /** What would show that the cause is gone. */
  @IsPlainText(2000)
  criterion: string;

  /** From this day on it can be found effective. */
  @IsDate()
  checkOn: string;
}

export class CheckEffectivenessDto extends SignedCommandDto {
  @IsBoolean()
  effective: boolean;

  /** Whether the action did any harm of its own, or none. */
  @IsPlainText(2000)
  harm: string;

  /** What was looked at, and what it showed. */
  @IsPlainText(4000)
  evidence: string;

  /** SHA-256 of stored photographs and files. */
  @IsOptional()
  @IsArray()
  @ArrayMaxSize(50)
  @IsCode({ each: true })
  files?: string[];
}

/** A thousand million of most currencies: more is a slip of the finger, and sums stay exact. */
const MOST_MINOR = 100_000_000_000;

export class RecordCostDto extends CommandDto {
  /** Left out: of the report as a whole. */
  @IsOptional()
  @IsInt()
  @Min(1)
  disposition?: number;

  @IsIn(COST_KINDS)
  kind: CostKind;

  /** Whole minor units of the plant's currency; below zero: what of a cost came back, with a note. */
  @IsInt()
  @Min(-MOST_MINOR)
  @Max(MOST_MINOR)
  @NotEquals(0)
  minor: number;

  @IsOptional()
  @IsPlainText(2000)
  note?: string;
}
