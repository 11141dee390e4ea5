import { commonCautions, floorCaution } from './chart-cautions.js';
import { baselineOf, ChartFault, panelOf, type Caution, type ChartOptions, type ControlChart } from './control-chart.js';

/** Items looked at and how many of them did not conform. */
interface AttributeSample {
  readonly items: number;
  readonly nonconforming: number;
}

// Below this many expected the normal curve that the limits rest on fits badly (Montgomery; from memory).
const LEAST_EXPECTED = 5;

/**
 * p chart: the fraction nonconforming of samples that may differ in size. Limits p̄ ± 3√(p̄(1 − p̄)/n), each point its own.
 * @throws ChartFault when there is no sample, or one has no items or more nonconforming than items
 */
export function fractionChart(samples: readonly AttributeSample[], options: ChartOptions = {}): ControlChart {
  const baseline = baselineOf(samples.length, options, 1);
  samples.forEach(({ items, nonconforming }, i) => {
    if (!Number.isSafeInteger(items) || items < 1) throw new ChartFault(`sample ${i + 1} has no whole number of items`);
    if (!isCount(nonconforming) || nonconforming > items)
      throw new ChartFault(`sample ${i + 1}: ${nonconforming} of ${items} cannot be nonconforming`);
  });
  const counted = samples.slice(0, baseline);
  const centre = sum(counted.map((sample) => sample.nonconforming)) / sum(counted.map((sample) => sample.items));
  const sigmaFor = (items: number) => Math.sqrt((centre * (1 - centre)) / items);
  const panel = panelOf({
    statistic: 'fraction',
    centre,
    points: samples.map(({ items, nonconforming }, i) => ({ at: i + 1, value: nonconforming / items, sigma: sigmaFor(items) })),
    baseline,
    changedAt: options.changedAt ?? [],
    floor: 0,
    ceiling: 1,
  });
  const expected = samples.reduce((least, { items }) => Math.min(least, items), Infinity) * Math.min(centre, 1 - centre);
  return chartOf('fraction', panel, baseline, expected, []);
}

/**
 * c chart: nonconformities per sample, every sample giving the same opportunity for them. Limits c̄ ± 3√c̄.
 * @throws ChartFault when there is no sample, or a count is not a whole number
 */
export function countChart(counts: readonly number[], options: ChartOptions = {}): ControlChart {
  const baseline = baselineOf(counts.length, options, 1);
  const strange = counts.find((count) => !isCount(count));
  if (strange !== undefined) throw new ChartFault(`${strange} is not a count`);
  const centre = sum(counts.slice(0, baseline)) / baseline;
  const panel = panelOf({
    statistic: 'count',
    centre,
    points: counts.map((value, i) => ({ at: i + 1, value, sigma: Math.sqrt(centre) })),
    baseline,
    changedAt: options.changedAt ?? [],
    floor: 0,
  });
  return chartOf('count', panel, baseline, centre, [
    { about: 'equal-opportunity', words: 'counts compare only when every sample is as large as the next' },
  ]);
}

function chartOf(
  kind: 'fraction' | 'count',
  panel: ControlChart['panels'][number],
  baseline: number,
  expected: number,
  more: Caution[],
): ControlChart {
  const few: Caution = {
    about: 'few-expected',
    words: `fewer than ${LEAST_EXPECTED} are expected in a sample: the limits and zones are rough there; larger samples serve better`,
  };
  const cautions = [
    ...commonCautions([panel], baseline, 'sample'),
    ...floorCaution(panel),
    ...(expected < LEAST_EXPECTED ? [few] : []),
    ...more,
  ];
  return { kind, panels: [panel], baseline, inControl: panel.signals.length === 0, cautions };
}

const isCount = (value: number): boolean => Number.isSafeInteger(value) && value >= 0;
const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);
