import type { View } from '../wire/client.js';
import type { Told } from './changes.js';
import { METHODS } from './method-draft.js';
import { OCCASIONS } from './plan-draft.js';

type Plan = View<'InspectionPlanView'>;
type Characteristic = Plan['characteristics'][number];
type Compute = View<'ComputeDto'>;

/** How a result is worked out. */
export function methodInWords(compute: Compute | undefined, replicates = 1): string {
  const of = compute ?? { kind: 'single' as const };
  const readings = `${replicates} reading${replicates === 1 ? '' : 's'}`;
  if (of.kind === 'mean' || of.kind === 'range') return `${of.kind} of ${readings}`;
  if (of.kind === 'density') return `density from ${of.massUnit} and ${of.volumeUnit}${replicates === 1 ? '' : `, ${readings}`}`;
  if (of.kind === 'colour-difference') return `colour difference from L* ${of.standard?.l}, a* ${of.standard?.a}, b* ${of.standard?.b}`;
  if (of.kind === 'net-content') return contentInWords(of, replicates);
  return METHODS.find(({ value }) => value === of.kind)?.says ?? of.kind;
}

function contentInWords(of: Compute, replicates: number): string {
  const label = `net content against ${of.nominal} ${of.unit}`;
  const weighed = of.weighed === 'gross-and-tare' ? ', gross and tare weighed' : '';
  if (of.rules === 'reference') return `${label}, reference test${of.destructive ? ' that destroys' : ''}${weighed}`;
  return `${label}, packer’s rules, ${replicates} packages${weighed}`;
}

/** The limits of a measured characteristic: `150 to 210 mPa·s, target 180`. */
export function limitsInWords({ lower, upper, target, unit }: Characteristic): string {
  if (lower === undefined && upper === undefined) return '';
  const between = lower === undefined ? `at most ${upper}` : upper === undefined ? `at least ${lower}` : `${lower} to ${upper}`;
  return `${between} ${unit ?? ''}${target === undefined ? '' : `, target ${target}`}`;
}

/** With what it is measured, and whether a result must say so. */
export const instrumentInWords = ({ instrumentKind, instrumentRequired }: Characteristic): string =>
  instrumentKind ?? (instrumentRequired ? 'any, named with the result' : '');

/** What a characteristic is looked at on. */
export function onWhat({ kind, per, items, required }: Characteristic): string {
  if (kind === 'attribute') return 'each item of the sample';
  const on = per === 'item' ? (items === undefined ? 'each item of the sample' : `${items} items of the sample`) : 'the lot';
  return required === false ? `${on}, if wanted` : on;
}

function characteristicInWords(one: Characteristic): string {
  const judged = `${one.class}, on ${onWhat(one)}`;
  if (one.kind === 'attribute') return `${one.name}: ${judged}${one.defect === undefined ? '' : `, defect ${one.defect}`}`;
  const rounding = one.rounding === undefined ? '' : `, ${one.rounding.decimals} decimals ${one.rounding.rule}`;
  const parts = [
    judged,
    limitsInWords(one),
    methodInWords(one.compute, one.replicates) + rounding,
    instrumentInWords(one),
    one.procedure ?? '',
  ];
  return `${one.name}: ${parts.filter(Boolean).join('; ')}`;
}

const occasionsInWords = (occasions: readonly string[]): string =>
  OCCASIONS.filter(({ value }) => occasions.includes(value))
    .map(({ says }) => says)
    .join('; ');

/** What an inspection plan says. */
export function planTold({ sampling, characteristics, occasions, note }: Plan): Told[] {
  return [
    { label: 'Opens an inspection when', text: occasionsInWords(occasions) },
    {
      label: 'Sample',
      text:
        sampling === null
          ? 'none: only the lot as a whole is tested'
          : `level ${sampling.level}, ${sampling.type} plan, counting ${sampling.basis}`,
    },
    ...(sampling?.classes ?? []).map((one) => ({ label: `AQL ${one.class}`, text: one.aql })),
    { label: 'Remark', text: note ?? '' },
    ...characteristics.map((one) => ({ label: `Characteristic ${one.code}`, text: characteristicInWords(one), listed: true })),
  ];
}
