import { ApiProperty, ApiExtraModels, getSchemaPath } from '@nestjs/swagger';
import { Allow, IsIn, IsInt, IsNumber, IsOptional, Max, Min } from 'class-validator';
import type { OcDistribution, OcPoint, OcRisk, OperatingCharacteristic } from '../../../../shared/sampling/oc.js';
import type { PlanFound, PlanStep } from '../../../../shared/sampling/plan.js';
import type { DoublePlan, SinglePlan } from '../../../../shared/sampling/tables.js';
import { AsNumber } from '../../platform/http/fields.js';

/** The members are checked together where the tables are, so that every fault is said at once. */
export class PlanQueryDto {
  /** Items in the lot: a whole number of one or more. */
  @Allow()
  @ApiProperty({ type: 'integer', minimum: 1 })
  lotSize: unknown;

  /** Inspection level. */
  @Allow()
  @ApiProperty({ enum: ['S-1', 'S-2', 'S-3', 'S-4', 'I', 'II', 'III'] })
  level: unknown;

  /** Acceptance quality limit, one of the 26 of the standard, however the number is written. */
  @Allow()
  @ApiProperty({ type: 'string', example: '1.0' })
  aql: unknown;

  /** Severity of inspection. */
  @Allow()
  @ApiProperty({ required: false, enum: ['normal', 'tightened', 'reduced'], default: 'normal' })
  severity?: unknown;

  /** One sample or two. Multiple plans are not offered: no source of their tables was found. */
  @Allow()
  @ApiProperty({ required: false, enum: ['single', 'double'], default: 'single' })
  type?: unknown;

  /** What the AQL counts: per cent nonconforming items, up to AQL 10 only, or nonconformities per 100 items. */
  @Allow()
  @ApiProperty({ required: false, enum: ['items', 'nonconformities'] })
  basis?: unknown;
}

export class SinglePlanView implements SinglePlan {
  /** Letter of the sample, after arrows. */
  @ApiProperty({ type: 'string' })
  letter: SinglePlan['letter'];
  /** Items to take. */
  n: number;
  /** Accept up to this many. */
  ac: number;
  /** Do not accept from this many on. */
  re: number;
}

export class DoublePlanView implements DoublePlan {
  /** Letter of the samples, after arrows. */
  @ApiProperty({ type: 'string' })
  letter: DoublePlan['letter'];
  /** Items to take first. */
  n1: number;
  /** Accept on the first sample up to this many. */
  ac1: number;
  /** Do not accept on the first sample from this many on; between the two, take the second. */
  re1: number;
  /** Items to take then. */
  n2: number;
  /** Accept up to this many in both samples. */
  ac2: number;
  /** Do not accept from this many on in both samples. */
  re2: number;
}

export class PlanStepView implements PlanStep {
  @ApiProperty({ type: 'string' })
  from: PlanStep['from'];
  /** Along an arrow, up or down; or to the single plan that stands for a double one. */
  @ApiProperty({ enum: ['up', 'down', 'single'] })
  direction: PlanStep['direction'];
  @ApiProperty({ type: 'string' })
  to: PlanStep['to'];
}

@ApiExtraModels(SinglePlanView, DoublePlanView)
export class PlanView implements PlanFound {
  /** Edition of the standard the plan is of. */
  @ApiProperty({ type: 'string', example: 'ISO 2859-1:1999' })
  edition: PlanFound['edition'];
  /** Letter looked up in Table 1, before arrows. */
  @ApiProperty({ type: 'string', example: 'J' })
  codeLetter: PlanFound['codeLetter'];
  @ApiProperty({ oneOf: [{ $ref: getSchemaPath(SinglePlanView) }, { $ref: getSchemaPath(DoublePlanView) }] })
  plan: SinglePlanView | DoublePlanView;
  /** The sample reaches the lot: every item is inspected. */
  inspectAll: boolean;
  /** Why every item is inspected; null when a sample is. */
  inspectAllBecause: string | null;
  /** How the plan was come to from the code letter: the arrows followed. */
  arrows: PlanStepView[];
  /** Why what is shown is not verified by a source that could be read; null when it is. */
  unverified: string | null;
}

const PLAN_NUMBER_MAX = 1_000_000;
const planNumber = (min: number) => (target: object, key: string) => {
  for (const decorate of [IsOptional(), AsNumber(), IsInt(), Min(min), Max(PLAN_NUMBER_MAX)]) decorate(target, key);
};

/** The numbers of a single plan (n, ac) or of a double one (n1, ac1, re1, n2, ac2, re2). */
export class OcQueryDto {
  @planNumber(1)
  n?: number;

  @planNumber(0)
  ac?: number;

  @planNumber(1)
  n1?: number;

  @planNumber(0)
  ac1?: number;

  @planNumber(1)
  re1?: number;

  @planNumber(1)
  n2?: number;

  @planNumber(0)
  ac2?: number;

  @planNumber(1)
  re2?: number;

  /** Acceptance quality limit, in per cent or per 100 items: asks for the producer's risk there. */
  @IsOptional()
  @AsNumber()
  @IsNumber()
  aql?: number;

  /** Items in the lot: needed for hypergeometric, and makes the average outgoing quality exact otherwise. */
  @IsOptional()
  @AsNumber()
  @IsInt()
  @Min(1)
  lotSize?: number;

  /** Nonconforming items of a process, nonconformities, or nonconforming items of one lot. Left out: poisson above AQL 10, else binomial. */
  @IsOptional()
  @IsIn(['binomial', 'poisson', 'hypergeometric'])
  distribution?: OcDistribution;
}

export class OcPointView implements OcPoint {
  /** Quality of what comes in, in the unit of the answer. */
  quality: number;
  /** Probability that a lot of this quality is accepted. */
  acceptance: number;
  /** Items taken on average. */
  averageSample: number;
  /** Average quality of what goes on. */
  averageOutgoing: number;
}

export class OcRiskView implements OcRisk {
  /** The probability of acceptance asked for. */
  atLeast: number;
  /** The worst quality still accepted with it; null where there is none. */
  quality: number | null;
  /** The probability at that quality. */
  acceptance: number | null;
}

export class ProducersRiskView {
  aql: number;
  /** The quality the risk is given at. */
  quality: number;
  acceptance: number;
  /** Probability that a lot of this quality is not accepted. */
  risk: number;
}

export class AoqlView {
  /** Worst average quality of what goes on, whatever comes in. */
  quality: number;
  /** Quality of what comes in there. */
  atQuality: number;
  /** How it was reckoned. */
  formula: string;
}

export class LargestAverageSampleView {
  items: number;
  atQuality: number;
}

export class OperatingCharacteristicView implements OperatingCharacteristic {
  @ApiProperty({ enum: ['binomial', 'poisson', 'hypergeometric'] })
  distribution: OcDistribution;
  lotSize: number | null;
  /** What all qualities are counted in. */
  @ApiProperty({ enum: ['percent nonconforming', 'nonconformities per 100 items'] })
  unit: OperatingCharacteristic['unit'];
  /** Points of the curves. */
  points: OcPointView[];
  /** Risk of a lot at the AQL; null when none was given. */
  producersRisk: ProducersRiskView | null;
  /** At 95, 50 and 10 per cent acceptance. */
  qualityAt: OcRiskView[];
  aoql: AoqlView;
  /** Of a double plan; null for a single one. */
  largestAverageSample: LargestAverageSampleView | null;
}
