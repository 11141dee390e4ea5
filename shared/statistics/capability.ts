import { sampleVariance } from '../measuring/replicates.js';
import { MICRO } from '../quantity.js';
import { type Caution, ChartFault, type ControlChart } from './control-chart.js';
import { controlFactors } from './control-chart-constants.js';
import { expectKept, individualsChart, meanRangeChart } from './variables-chart.js';

/** The specification in millionths; at least one side. */
export interface Specification {
  readonly lowerMicro?: number | undefined;
  readonly upperMicro?: number | undefined;
}

/** What a spread leaves of a specification. One-sided: only that side, and no index of the width. */
interface CapabilityIndices {
  /** (upper − lower) / 6 sigma; null for a one-sided specification. */
  readonly width: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  /** The worse side. */
  readonly worst: number;
}

/** The indices with the interval in which the worse side's true value lies, 95 times in 100. */
export interface Capability extends CapabilityIndices {
  readonly sigma: number;
  readonly interval: { readonly confidence: 0.95; readonly lower: number; readonly upper: number };
}

/** A capability study as plain data. Numbers are in the unit of the readings. */
export interface CapabilityStudy {
  readonly values: number;
  readonly subgroups: number;
  readonly mean: number;
  /** Cp, Cpl, Cpu, Cpk: by the spread within subgroups; null when the values do not differ. */
  readonly within: Capability | null;
  /** Pp, Ppl, Ppu, Ppk: by the standard deviation of all values. */
  readonly overall: Capability | null;
  /** Readings outside the specification. */
  readonly outside: number;
  readonly inControl: boolean;
  readonly cautions: readonly Caution[];
}

/**
 * Cp, Cpl, Cpu and Cpk (or Pp … Ppk) from a mean and a standard deviation: NIST/SEMATECH 6.1.6.
 * @throws RangeError when sigma is not more than 0 or no side is given
 */
export function capabilityIndices(
  mean: number,
  sigma: number,
  { lower, upper }: { lower?: number | undefined; upper?: number | undefined },
): CapabilityIndices {
  if (!(sigma > 0)) throw new RangeError('an index needs a spread');
  if (lower === undefined && upper === undefined) throw new RangeError('an index needs a specification');
  const low = lower === undefined ? null : (mean - lower) / (3 * sigma);
  const high = upper === undefined ? null : (upper - mean) / (3 * sigma);
  const width = lower === undefined || upper === undefined ? null : (upper - lower) / (6 * sigma);
  return { width, lower: low, upper: high, worst: Math.min(low ?? Infinity, high ?? Infinity) };
}

// The 0.975 point of the standard normal distribution.
const Z_95 = 1.959964;

/**
 * The 95 % interval of Cpk or Ppk by the normal approximation of Bissell (1990; from memory, the same formula in
 * NIST/SEMATECH 6.1.6): index ± z·√(1/(9n) + index²/(2ν)).
 * @param values how many values the mean rests on
 * @param degrees degrees of freedom of the spread: n − 1 when it is the standard deviation of all values
 */
export function capabilityInterval(index: number, values: number, degrees: number): Capability['interval'] {
  const half = Z_95 * Math.sqrt(1 / (9 * values) + index ** 2 / (2 * degrees));
  return { confidence: 0.95, lower: index - half, upper: index + half };
}

const ENOUGH_SUBGROUPS = 25;
const ENOUGH_VALUES = 100;

/**
 * A capability study of readings against a specification.
 * @param subgroupsMicro subgroups of one size in the order taken, in millionths; subgroups of one for single values
 * @throws ChartFault when the readings make no chart, or the specification has no side or ends before it begins
 */
export function capabilityStudy(subgroupsMicro: readonly (readonly number[])[], specification: Specification): CapabilityStudy {
  const { lowerMicro, upperMicro } = specification;
  if (lowerMicro === undefined && upperMicro === undefined) throw new ChartFault('capability needs a limit to measure against');
  if (lowerMicro !== undefined && upperMicro !== undefined && lowerMicro >= upperMicro)
    throw new ChartFault('the lower limit lies under the upper');
  const readings = subgroupsMicro.flat();
  expectKept(readings);
  const singles = subgroupsMicro.length > 0 && subgroupsMicro.every((group) => group.length === 1);
  const chart = singles ? individualsChart(readings) : meanRangeChart(subgroupsMicro);
  const mean = chart.panels[0]?.centre ?? 0;
  const limits = { lower: inUnits(lowerMicro), upper: inUnits(upperMicro) };
  const measured = (sigma: number, degrees: number): Capability | null => {
    if (!(sigma > 0)) return null;
    const indices = capabilityIndices(mean, sigma, limits);
    return { ...indices, sigma, interval: capabilityInterval(indices.worst, readings.length, degrees) };
  };
  const spread = spreadWithin(chart, singles ? 2 : (subgroupsMicro[0]?.length ?? 0), subgroupsMicro.length);
  const outside = readings.filter((micro) => micro < (lowerMicro ?? -Infinity) || micro > (upperMicro ?? Infinity)).length;
  const found = { values: readings.length, subgroups: subgroupsMicro.length, mean, outside, inControl: chart.inControl };
  const within = measured(spread.sigma, spread.degrees);
  const overall = measured(overallSigma(readings), readings.length - 1);
  return { ...found, within, overall, cautions: cautionsFor(found, within, overall) };
}

const inUnits = (micro: number | undefined): number | undefined => (micro === undefined ? undefined : micro / MICRO);

/**
 * Sigma from the mean range, and the degrees of freedom that a mean of k ranges is worth: k·d2²/(2·d3²), the number for
 * which a standard deviation is as uncertain. Moving ranges overlap and are worth 0.605 of a value each (Cryer and Ryan
 * 1990; from memory, checked in the test by simulation).
 */
function spreadWithin(chart: ControlChart, n: number, subgroups: number): { sigma: number; degrees: number } {
  const { d2, d3 } = controlFactors(n);
  const sigma = (chart.panels[1]?.centre ?? 0) / d2;
  const degrees = chart.kind === 'individuals' ? 0.605 * (subgroups - 1) : (subgroups * d2 ** 2) / (2 * d3 ** 2);
  return { sigma, degrees };
}

// By way of the exact variance: values that do not differ have no spread at all, not a very small one.
function overallSigma(readingsMicro: readonly number[]): number {
  if (readingsMicro.length < 2) return 0;
  const { numerator, denominator } = sampleVariance(readingsMicro.map(BigInt));
  return Math.sqrt(Number(numerator) / Number(denominator)) / MICRO;
}

type Found = Pick<CapabilityStudy, 'values' | 'subgroups' | 'inControl'>;

function cautionsFor(found: Found, within: Capability | null, overall: Capability | null): Caution[] {
  const cautions: Caution[] = [
    { about: 'shape', words: 'the indices suppose values near to a normal distribution; look at the values first' },
  ];
  if (found.subgroups < ENOUGH_SUBGROUPS || found.values < ENOUGH_VALUES) {
    cautions.push({
      about: 'few-values',
      words: `${found.values} values in ${found.subgroups} subgroups are few; take ${ENOUGH_SUBGROUPS} subgroups and ${ENOUGH_VALUES} values, and read the interval, not the index`,
    });
  }
  if (!found.inControl)
    cautions.push({ about: 'not-in-control', words: 'the chart of these values signals: the indices describe no stable process' });
  if (within === null || overall === null)
    cautions.push({ about: 'no-spread', words: 'the values do not differ: no index can be worked out' });
  return cautions;
}
