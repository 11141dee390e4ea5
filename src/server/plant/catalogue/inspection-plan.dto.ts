import { Type } from 'class-transformer';
import { ArrayMaxSize, ArrayMinSize, IsArray, IsIn, IsOptional, IsString, MaxLength, ValidateNested } from 'class-validator';
import { LEVELS, type Level } from '../../../../shared/sampling/code-letter.js';
import { IsPlainText } from '../../platform/http/fields.js';
import { ReviseDto, RevisionView } from './catalogue.dto.js';
import { CharacteristicDto } from './characteristic.dto.js';
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

export class ClassDto {
  /** Critical has no limit: one found is enough. */
  @IsIn(['major', 'minor'], { message: 'class: must be major or minor; critical has no AQL, one found is enough' })
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
