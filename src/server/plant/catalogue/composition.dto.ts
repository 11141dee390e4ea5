import { Type } from 'class-transformer';
import { ArrayMaxSize, ArrayMinSize, IsArray, IsIn, IsInt, IsOptional, Max, Min, ValidateNested } from 'class-validator';
import { IsCode, IsQuantity } from '../../platform/http/fields.js';
import { ReviseDto, RevisionView } from './catalogue.dto.js';

export class RecipeStepDto {
  /** Item to charge. */
  @IsCode()
  item: string;

  /** How much for one batch, in the item's unit. */
  @IsQuantity()
  target: string;

  /** Allowed difference from the target in hundredths of a percent: 250 is 2.5 %. */
  @IsInt()
  @Min(0)
  @Max(10_000)
  toleranceBp: number;

  /** Shortest mixing time before the next charge, in whole minutes. */
  @IsInt()
  @Min(0)
  @Max(100_000)
  mixMinutes: number;
}

export class RecipeDto extends ReviseDto {
  /** The mixture it makes. */
  @IsCode()
  item: string;

  /** Size of one batch, in the mixture's unit. */
  @IsQuantity()
  batch: string;

  /** In the order they are charged. */
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(200)
  @ValidateNested({ each: true })
  @Type(() => RecipeStepDto)
  steps: RecipeStepDto[];

  /** Smallest yield that needs no explanation, in hundredths of a percent of theory; left out: 9500. */
  @IsOptional()
  @IsInt()
  @Min(0)
  @Max(10_000)
  yieldLowBp?: number;

  /** Largest yield that needs no explanation; left out: 10500. */
  @IsOptional()
  @IsInt()
  @Min(10_000)
  @Max(20_000)
  yieldHighBp?: number;
}

export class BomLineDto {
  @IsCode()
  item: string;

  /** How much goes into one piece, in the item's unit. */
  @IsQuantity()
  perPiece: string;

  /** Fitted by lot with changeovers, or serial into serial. */
  @IsIn(['lot', 'serial'])
  trackedBy: 'lot' | 'serial';
}

export class BomDto extends ReviseDto {
  /** What one piece of is described. */
  @IsCode()
  item: string;

  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => BomLineDto)
  lines: BomLineDto[];
}

export class RecipeStepView {
  item: string;
  target: string;
  toleranceBp: number;
  mixMinutes: number;
}

export class RecipeView {
  code: string;
  revision: number;
  name: string;
  item: string;
  batch: string;
  steps: RecipeStepView[];
  yieldLowBp: number;
  yieldHighBp: number;
}

export class BomLineView {
  item: string;
  perPiece: string;
  trackedBy: string;
}

export class BomView {
  code: string;
  revision: number;
  name: string;
  item: string;
  lines: BomLineView[];
}

export class RecipeRevisionView extends RevisionView {
  record: RecipeView;
}

export class BomRevisionView extends RevisionView {
  record: BomView;
}
