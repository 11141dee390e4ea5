import type { Method } from '../../../../shared/measuring/method.js';
import { formatQuantity, parseQuantity } from '../../../../shared/quantity.js';
import { type Aql, aqlOf } from '../../../../shared/sampling/aql.js';
import type { PlanType } from '../../../../shared/sampling/tables.js';
import type { Revised } from './catalogue.facts.js';
import type { CharacteristicDto, ComputeDto, InspectionPlanDto, InspectionPlanView, SamplingDto } from './inspection-plan.dto.js';
import { type Characteristic, type InspectionPlan, PLAN_OCCASIONS, type Sampling } from './inspection-plan.facts.js';

const micro = (text: string | undefined): number | undefined => (text === undefined ? undefined : parseQuantity(text));
const shown = (quantity: number | undefined): string | undefined => (quantity === undefined ? undefined : formatQuantity(quantity));

/** Decimals of a result where a plan says nothing. */
const USUAL_DECIMALS = 3;

/** A plan as it arrives, with what is usual where it says nothing. */
export const readInspectionPlan = (dto: InspectionPlanDto): InspectionPlan => ({
  code: dto.code,
  name: dto.name,
  sampling: dto.sampling && readSampling(dto.sampling),
  characteristics: (dto.characteristics ?? []).map(readCharacteristic),
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

function readCharacteristic(dto: CharacteristicDto): Characteristic {
  const { code, name, class: of, procedure } = dto;
  if (dto.kind === 'attribute') return { code, name, kind: 'attribute', class: of, defect: dto.defect, procedure };
  return {
    code,
    name,
    kind: 'measured',
    per: dto.per ?? 'lot',
    class: of,
    unit: dto.unit ?? '',
    lowerMicro: micro(dto.lower),
    upperMicro: micro(dto.upper),
    targetMicro: micro(dto.target),
    replicates: dto.replicates ?? 1,
    compute: readMethod(dto.compute ?? { kind: 'single' }),
    rounding: { decimals: dto.rounding?.decimals ?? USUAL_DECIMALS, rule: dto.rounding?.rule ?? 'half-even' },
    procedure,
    instrumentKind: dto.instrumentKind,
    instrumentRequired: dto.instrumentRequired ?? dto.instrumentKind !== undefined,
    required: dto.required ?? true,
    items: dto.items,
  };
}

function readMethod(dto: ComputeDto): Method {
  switch (dto.kind) {
    case 'density':
      return { kind: 'density', massUnit: dto.massUnit ?? 'g', volumeUnit: dto.volumeUnit ?? 'mL' };
    case 'colour-difference': {
      const { l, a, b } = dto.standard ?? { l: '0', a: '0', b: '0' };
      return { kind: 'colour-difference', standard: { lMicro: parseQuantity(l), aMicro: parseQuantity(a), bMicro: parseQuantity(b) } };
    }
    case 'net-content':
      return {
        kind: 'net-content',
        nominalMicro: micro(dto.nominal) ?? 0,
        unit: dto.unit ?? 'g',
        weighed: dto.weighed ?? 'net',
        densityMicro: micro(dto.density),
        rules:
          dto.rules === 'reference'
            ? { set: 'reference', destructive: dto.destructive ?? false }
            : { set: 'packer', allowedShort: dto.allowedShort },
      };
    default:
      return { kind: dto.kind };
  }
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
