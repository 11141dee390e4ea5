import type { Method, NetContentMethod } from '../../../../shared/measuring/method.js';
import { formatQuantity, parseQuantity } from '../../../../shared/quantity.js';
import { type Aql, aqlOf } from '../../../../shared/sampling/aql.js';
import type { PlanType } from '../../../../shared/sampling/tables.js';
import { givenQuantity } from '../../platform/http/given.js';
import type { Item, Revised } from './catalogue.facts.js';
import { labelContentMicro, unitOfMethod } from './characteristic.decide.js';
import type { CharacteristicDto, ComputeDto } from './characteristic.dto.js';
import type { InspectionPlanDto, InspectionPlanView, SamplingDto } from './inspection-plan.dto.js';
import { type Characteristic, type InspectionPlan, PLAN_OCCASIONS, type Sampling } from './inspection-plan.facts.js';

const shown = (quantity: number | undefined): string | undefined => (quantity === undefined ? undefined : formatQuantity(quantity));

/** Decimals of a result where a plan says nothing. */
const USUAL_DECIMALS = 3;

/**
 * A plan as it arrives, with what is usual where it says nothing.
 * @param item the item it is for: its content is the nominal quantity of a net content check that names none
 */
export const readInspectionPlan = (dto: InspectionPlanDto, item?: Item): InspectionPlan => ({
  code: dto.code,
  name: dto.name,
  sampling: dto.sampling && readSampling(dto.sampling),
  characteristics: (dto.characteristics ?? []).map((one) => readCharacteristic(one, item)),
  occasions: dto.occasions ?? PLAN_OCCASIONS,
  note: dto.note,
});

/** An AQL written in another way (`1`) is kept in the standard's; one that is none of the 26 is refused by the decision. */
const readSampling = ({ level, type, basis, classes }: SamplingDto): Sampling => ({
  level,
  type: type as PlanType,
  basis,
  classes: classes.map((one) => ({ class: one.class, aql: aqlOf(one.aql) ?? (one.aql as Aql) })),
});

function readCharacteristic(dto: CharacteristicDto, item: Item | undefined): Characteristic {
  const { code, name, class: of, procedure } = dto;
  if (dto.kind === 'attribute') return { code, name, kind: 'attribute', class: of, defect: dto.defect, procedure };
  const compute = readMethod(dto.compute ?? { kind: 'single' }, item);
  return {
    code,
    name,
    kind: 'measured',
    per: dto.per ?? 'lot',
    class: of,
    unit: dto.unit ?? unitOfMethod(compute) ?? '',
    lowerMicro: givenQuantity(dto.lower),
    upperMicro: givenQuantity(dto.upper),
    targetMicro: givenQuantity(dto.target),
    replicates: dto.replicates ?? 1,
    compute,
    rounding: { decimals: dto.rounding?.decimals ?? USUAL_DECIMALS, rule: dto.rounding?.rule ?? 'half-even' },
    procedure,
    instrumentKind: dto.instrumentKind,
    instrumentRequired: dto.instrumentRequired ?? dto.instrumentKind !== undefined,
    required: dto.required ?? true,
    items: dto.items,
  };
}

function readMethod(dto: ComputeDto, item: Item | undefined): Method {
  switch (dto.kind) {
    case 'density':
      return { kind: 'density', massUnit: dto.massUnit ?? 'g', volumeUnit: dto.volumeUnit ?? 'mL' };
    case 'colour-difference': {
      const { l, a, b } = dto.standard!;
      return { kind: 'colour-difference', standard: { lMicro: parseQuantity(l), aMicro: parseQuantity(a), bMicro: parseQuantity(b) } };
    }
    case 'net-content': {
      const unit = dto.unit ?? 'g';
      return {
        kind: 'net-content',
        nominalMicro: givenQuantity(dto.nominal) ?? (item && labelContentMicro(item, unit)) ?? 0,
        unit,
        weighed: dto.weighed ?? 'net',
        densityMicro: givenQuantity(dto.density),
        rules: readRules(dto),
      };
    }
    default:
      return { kind: dto.kind };
  }
}

function readRules({ rules, allowedShort, destructive }: ComputeDto): NetContentMethod['rules'] {
  const usual = destructive === undefined ? 'packer' : 'reference';
  return (rules ?? usual) === 'packer' ? { set: 'packer', allowedShort } : { set: 'reference', destructive: destructive ?? false };
}

/** A plan as it is shown: the form in which it arrives. */
export const showInspectionPlan = (plan: Revised<InspectionPlan>): InspectionPlanView => ({
  code: plan.code,
  revision: plan.revision,
  name: plan.name,
  sampling: plan.sampling === undefined ? null : { ...plan.sampling, classes: [...plan.sampling.classes] },
  characteristics: plan.characteristics.map(showCharacteristic),
  occasions: [...plan.occasions],
  note: plan.note ?? null,
});

function showCharacteristic(one: Characteristic): CharacteristicDto {
  if (one.kind === 'attribute') return { ...one };
  const { lowerMicro, upperMicro, targetMicro, compute, rounding, ...rest } = one;
  return {
    ...rest,
    lower: shown(lowerMicro),
    upper: shown(upperMicro),
    target: shown(targetMicro),
    compute: showMethod(compute),
    rounding: { ...rounding },
  };
}

function showMethod(method: Method): ComputeDto {
  if (method.kind === 'density') return { ...method };
  if (method.kind === 'colour-difference') {
    const { lMicro, aMicro, bMicro } = method.standard;
    return { kind: method.kind, standard: { l: formatQuantity(lMicro), a: formatQuantity(aMicro), b: formatQuantity(bMicro) } };
  }
  if (method.kind !== 'net-content') return { kind: method.kind };
  const { kind, nominalMicro, unit, weighed, densityMicro, rules } = method;
  const { set, ...more } = rules;
  return { kind, nominal: formatQuantity(nominalMicro), unit, weighed, density: shown(densityMicro), rules: set, ...more };
}
