import { Type } from 'class-transformer';
import {
  ArrayMaxSize,
  ArrayMinSize,
  IsArray,
  IsBoolean,
  IsIn,
  IsInt,
  IsOptional,
  IsString,
  Max,
  MaxLength,
  Min,
  ValidateNested,
} from 'class-validator';
import { LEVELS, type Level } from '../../../../shared/sampling/code-letter.js';
import { IsCode, IsPlainText, IsQuantity } from '../../platform/http/fields.js';
import { ReviseDto, RevisionView } from './catalogue.dto.js';
import { PLAN_OCCASIONS, type PlanOccasion, SEVERITY_CLASSES, type SeverityClass } from './inspection-plan.facts.js';

export class DefectDto extends ReviseDto {
  /** How much it matters: critical can hurt somebody, major fails its purpose, minor hardly matters. */
  @IsIn(SEVERITY_CLASSES)
  severity: SeverityClass;

  @IsOptional()
  @IsPlainText(2000)
  note?: string;
}

export class DefectView {
  code: string;
  revision: number;
  name: string;
  severity: SeverityClass;
  note: string | null;
}

export class DefectRevisionView extends RevisionView {
  record: DefectView;
}

export class LabDto {
  @IsQuantity()
  l: string;

  @IsQuantity()
  a: string;

  @IsQuantity()
  b: string;
}

/** How readings become a value. Each kind uses the fields that belong to it. */
export class ComputeDto {
  @IsIn(['single', 'mean', 'range', 'density', 'colour-difference', 'net-content'])
  kind: 'single' | 'mean' | 'range' | 'density' | 'colour-difference' | 'net-content';

  /** Density: left out: g. */
  @IsOptional()
  @IsIn(['kg', 'g'])
  massUnit?: 'kg' | 'g';

  /** Density: left out: mL. */
  @IsOptional()
  @IsIn(['L', 'mL'])
  volumeUnit?: 'L' | 'mL';

  /** Colour difference: L*, a* and b* of the standard. */
  @IsOptional()
  @ValidateNested()
  @Type(() => LabDto)
  standard?: LabDto;

  /** Net content: the quantity on the label. */
  @IsOptional()
  @IsQuantity()
  nominal?: string;

  /** Net content: the unit of the label; left out: g. */
  @IsOptional()
  @IsIn(['g', 'kg', 'mL', 'L'])
  unit?: 'g' | 'kg' | 'mL' | 'L';

  /** Net content: what is entered for each package; left out: net. */
  @IsOptional()
  @IsIn(['net', 'gross-and-tare'])
  weighed?: 'net' | 'gross-and-tare';

  /** Net content by volume, weighed: kg/L. */
  @IsOptional()
  @IsQuantity()
  density?: string;

  /** Net content: the packer's own rules, or the reference test; left out: packer. */
  @IsOptional()
  @IsIn(['packer', 'reference'])
  rules?: 'packer' | 'reference';

  /** Packer's rules: how many of the sample may be short by more than the tolerable deficiency. */
  @IsOptional()
  @IsInt()
  @Min(0)
  @Max(1000)
  allowedShort?: number;

  /** Reference test: whether it destroys the packages. */
  @IsOptional()
  @IsBoolean()
  destructive?: boolean;
}

export class RoundingDto {
  @IsInt()
  @Min(0)
  @Max(6)
  decimals: number;

  /** Left out: half-even. */
  @IsOptional()
  @IsIn(['half-even', 'half-up'])
  rule?: 'half-even' | 'half-up';
}

export class CharacteristicDto {
  @IsCode()
  code: string;

  @IsPlainText(200)
  name: string;

  @IsIn(['attribute', 'measured'])
  kind: 'attribute' | 'measured';

  @IsIn(SEVERITY_CLASSES)
  class: SeverityClass;

  /** Attribute: the defect that is found when it is not met. */
  @IsOptional()
  @IsCode()
  defect?: string;

  /** The written procedure that is followed. */
  @IsOptional()
  @IsPlainText(200)
  procedure?: string;

  /** Measured: on the lot as a whole (left out), or on each item of the sample. */
  @IsOptional()
  @IsIn(['lot', 'item'])
  per?: 'lot' | 'item';

  @IsOptional()
  @IsPlainText(32)
  unit?: string;

  @IsOptional()
  @IsQuantity()
  lower?: string;

  @IsOptional()
  @IsQuantity()
  upper?: string;

  @IsOptional()
  @IsQuantity()
  target?: string;

  /** Readings that make one result; left out: 1. */
  @IsOptional()
  @IsInt()
  @Min(1)
  @Max(1000)
  replicates?: number;

  /** Left out: the single reading. */
  @IsOptional()
  @ValidateNested()
  @Type(() => ComputeDto)
  compute?: ComputeDto;

  /** Left out: 3 decimals, half to even. */
  @IsOptional()
  @ValidateNested()
  @Type(() => RoundingDto)
  rounding?: RoundingDto;

  /** Kind of instrument it is measured with, as the register names it. */
  @IsOptional()
  @IsPlainText(100)
  instrumentKind?: string;

  /** Whether a result names its instrument; left out: it does where a kind is given. */
  @IsOptional()
  @IsBoolean()
  instrumentRequired?: boolean;

  /** Left out: it is. */
  @IsOptional()
  @IsBoolean()
  required?: boolean;

  /** Measured on each item: how many of the sample; left out: all of them. */
  @IsOptional()
  @IsInt()
  @Min(1)
  @Max(100_000)
  items?: number;
}

export class ClassDto {
  /** Critical has no limit: one found is enough. */
  @IsIn(['major', 'minor'])
  class: 'major' | 'minor';

  /** One of the 26 of ISO 2859-1, as "1.0". */
  @IsString()
  @MaxLength(16)
  aql: string;
}

export class SamplingDto {
  @IsIn(LEVELS)
  level: Level;

  @IsString()
  @MaxLength(16)
  type: string;

  @IsIn(['items', 'nonconformities'])
  basis: 'items' | 'nonconformities';

  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(2)
  @ValidateNested({ each: true })
  @Type(() => ClassDto)
  classes: ClassDto[];
}

export class InspectionPlanDto extends ReviseDto {
  /** Left out: only the lot as a whole is tested. */
  @IsOptional()
  @ValidateNested()
  @Type(() => SamplingDto)
  sampling?: SamplingDto;

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(100)
  @ValidateNested({ each: true })
  @Type(() => CharacteristicDto)
  characteristics?: CharacteristicDto[];

  /** When it opens an inspection by itself; left out: always. */
  @IsOptional()
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(3)
  @IsIn(PLAN_OCCASIONS, { each: true })
  occasions?: PlanOccasion[];

  @IsOptional()
  @IsPlainText(2000)
  note?: string;
}

/** A characteristic as it stands; fields that its kind does not have are left out. */
export class PlanCharacteristicView extends CharacteristicDto {}

export class InspectionPlanView {
  /** The item it is the plan of. */
  code: string;
  revision: number;
  name: string;
  sampling: SamplingDto | null;
  characteristics: PlanCharacteristicView[];
  occasions: PlanOccasion[];
  note: string | null;
}

export class InspectionPlanRevisionView extends RevisionView {
  record: InspectionPlanView;
}
