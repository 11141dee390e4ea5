import { Type } from 'class-transformer';
import { IsBoolean, IsIn, IsInt, IsOptional, Max, Min, ValidateNested } from 'class-validator';
import { METHOD_KINDS } from '../../../../shared/measuring/method.js';
import { IsCode, IsPlainText, IsQuantity } from '../../platform/http/fields.js';
import { type FieldsOfKind, HasFieldsOfKind } from '../../platform/http/fields-of-kind.js';
import { SEVERITY_CLASSES, type SeverityClass } from './inspection-plan.facts.js';

export class LabDto {
  @IsQuantity()
  l: string;

  @IsQuantity()
  a: string;

  @IsQuantity()
  b: string;
}

const METHOD_FIELDS: FieldsOfKind = {
  density: { may: ['massUnit', 'volumeUnit'] },
  'colour-difference': { needs: ['standard'] },
  'net-content': { may: ['nominal', 'unit', 'weighed', 'density', 'rules', 'allowedShort', 'destructive'] },
};

/** How readings become a value. Each kind uses the fields that belong to it. */
export class ComputeDto {
  @IsIn(METHOD_KINDS)
  @HasFieldsOfKind(METHOD_FIELDS)
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

  /** Net content: the quantity on the label; left out: the content of the item. */
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

  /** Net content: the packer's own rules, or the reference test; left out: packer, unless it is said whether it destroys. */
  @IsOptional()
  @IsIn(['packer', 'reference'])
  @HasFieldsOfKind({ packer: { may: ['allowedShort'] }, reference: { may: ['destructive'] } })
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

const MEASURED_FIELDS = ['per', 'unit', 'lower', 'upper', 'target', 'replicates', 'compute', 'rounding', 'required', 'items'];

const CHARACTERISTIC_FIELDS: FieldsOfKind = {
  attribute: { may: ['defect'] },
  measured: { may: [...MEASURED_FIELDS, 'instrumentKind', 'instrumentRequired'] },
};

export class CharacteristicDto {
  @IsCode()
  code: string;

  @IsPlainText(200)
  name: string;

  @IsIn(['attribute', 'measured'])
  @HasFieldsOfKind(CHARACTERISTIC_FIELDS)
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

  /** As printed beside the figure; left out: the one the method gives. */
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
