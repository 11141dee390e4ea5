import { MICRO } from '../quantity.js';
import { commonCautions } from './chart-cautions.js';
import { baselineOf, ChartFault, panelOf, type Caution, type ChartOptions, type ControlChart } from './control-chart.js';
import { controlFactors, LARGEST_SUBGROUP, SMALLEST_SUBGROUP } from './control-chart-constants.js';

const LARGEST_FOR_RANGE = 10;

/**
 * X̄ and R chart of subgroups of one size. Limits: mean ± A2·R̄; D3·R̄ to D4·R̄.
 * @param subgroupsMicro readings in millionths, in the order taken
 * @throws ChartFault when there is no subgroup, or they are not all of one size from 2 to 25
 */
export function meanRangeChart(subgroupsMicro: readonly (readonly number[])[], options: ChartOptions = {}): ControlChart {
  const baseline = baselineOf(subgroupsMicro.length, options, 1);
  const n = sizeOf(subgroupsMicro);
  const counted = subgroupsMicro.slice(0, baseline);
  const centre = toUnits(total(counted.flat()), baseline * n);
  const ranges = subgroupsMicro.map(rangeMicro);
  const meanRange = toUnits(total(ranges.slice(0, baseline)), baseline);
  const { A2, d2, d3 } = controlFactors(n);
  const shared = { baseline, changedAt: options.changedAt ?? [] };
  const means = panelOf({
    ...shared,
    statistic: 'mean',
    centre,
    points: subgroupsMicro.map((group, i) => ({ at: i + 1, value: toUnits(total(group), n), sigma: (A2 * meanRange) / 3 })),
  });
  const spread = panelOf({
    ...shared,
    statistic: 'range',
    centre: meanRange,
    points: ranges.map((micro, i) => ({ at: i + 1, value: micro / MICRO, sigma: (d3 / d2) * meanRange })),
    floor: 0,
  });
  const panels = [means, spread];
  return {
    kind: 'mean-range',
    panels,
    baseline,
    inControl: isInControl(panels),
    cautions: [...commonCautions(panels, baseline, 'subgroup'), ...wide(n)],
  };
}

/**
 * Individuals and moving-range chart. Limits: mean ± E2·MR̄ and 0 to D4·MR̄, both factors for two.
 * @param readingsMicro readings in millionths, in the order taken
 * @throws ChartFault when there are fewer than two readings
 */
export function individualsChart(readingsMicro: readonly number[], options: ChartOptions = {}): ControlChart {
  const baseline = baselineOf(readingsMicro.length, options, 2);
  expectKept(readingsMicro);
  const moving = readingsMicro.slice(1).map((micro, i) => rangeMicro([micro, readingsMicro[i] ?? micro]));
  const meanRange = toUnits(total(moving.slice(0, baseline - 1)), baseline - 1);
  const { E2, d2, d3 } = controlFactors(2);
  const shared = { baseline, changedAt: options.changedAt ?? [] };
  const individuals = panelOf({
    ...shared,
    statistic: 'individual',
    centre: toUnits(total(readingsMicro.slice(0, baseline)), baseline),
    points: readingsMicro.map((micro, i) => ({ at: i + 1, value: micro / MICRO, sigma: (E2 * meanRange) / 3 })),
  });
  const ranges = panelOf({
    ...shared,
    statistic: 'moving-range',
    centre: meanRange,
    points: moving.map((micro, i) => ({ at: i + 2, value: micro / MICRO, sigma: (d3 / d2) * meanRange })),
    floor: 0,
  });
  const panels = [individuals, ranges];
  const shape: Caution = {
    about: 'shape',
    words: 'single values are not averaged: when they are not near to normal, the limits give false alarms',
  };
  return {
    kind: 'individuals',
    panels,
    baseline,
    inControl: isInControl(panels),
    cautions: [...commonCautions(panels, baseline, 'value'), shape],
  };
}

const isInControl = (panels: ControlChart['panels']): boolean => panels.every(({ signals }) => signals.length === 0);

// Whole millionths are added exactly and divided once, so that equal subgroups have equal means.
const total = (micro: readonly number[]): bigint => micro.reduce((sum, one) => sum + BigInt(one), 0n);
const toUnits = (micro: bigint, divisor: number): number => Number(micro) / (divisor * MICRO);

const rangeMicro = (group: readonly number[]): number => Math.max(...group) - Math.min(...group);

/**
 * The size that all subgroups share.
 * @throws ChartFault when they do not, or factors for it are not tabled
 */
export function sizeOf(subgroups: readonly (readonly number[])[]): number {
  const n = subgroups[0]?.length ?? 0;
  const other = subgroups.findIndex((group) => group.length !== n);
  if (other >= 0)
    throw new ChartFault(`subgroup 1 has ${n} readings and subgroup ${other + 1} has ${subgroups[other]?.length}; all have one size`);
  if (n < SMALLEST_SUBGROUP || n > LARGEST_SUBGROUP) throw new ChartFault(`a subgroup has 2 to 25 readings, not ${n}`);
  for (const group of subgroups) expectKept(group);
  return n;
}

/** @throws ChartFault when a reading is not a whole number of millionths */
export function expectKept(readingsMicro: readonly number[]): void {
  const strange = readingsMicro.find((micro) => !Number.isSafeInteger(micro));
  if (strange !== undefined) throw new ChartFault(`${strange} is not a whole number of millionths`);
}

function wide(n: number): Caution[] {
  if (n <= LARGEST_FOR_RANGE) return [];
  return [{ about: 'wide-subgroups', words: `the range wastes much of what subgroups of ${n} tell; it serves up to ${LARGEST_FOR_RANGE}` }];
}
