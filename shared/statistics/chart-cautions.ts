import type { Caution, ChartPanel } from './control-chart.js';

const ENOUGH = 20;

/**
 * What every chart warns of. That limits should rest on 20 to 25 points is usual teaching (Montgomery, Introduction to
 * Statistical Quality Control; from memory).
 * @param noun what a point is: 'subgroup', 'value', 'sample'
 */
export function commonCautions(panels: readonly ChartPanel[], baseline: number, noun: string): Caution[] {
  const cautions: Caution[] = [];
  if (baseline < ENOUGH) {
    cautions.push({
      about: 'few-points',
      words: `the limits rest on ${baseline} ${noun}${baseline === 1 ? '' : 's'}; take ${ENOUGH} to 25 before relying on them`,
    });
  }
  const marked = [...new Set(panels.flatMap(({ signals }) => signals.filter(({ at }) => at <= baseline).map(({ at }) => at)))];
  if (marked.length > 0) {
    cautions.push({
      about: 'baseline-not-in-control',
      words: `the limits rest on points that signal (${marked.toSorted((a, b) => a - b).join(', ')}): find the cause, and set limits without what it explains`,
    });
  }
  if (panels.some(({ points }) => points.some(({ z, baseline: counted }) => counted && z === null))) {
    cautions.push({ about: 'no-spread', words: 'the values the limits rest on do not differ: the limits fall on the centre line' });
  }
  return cautions;
}

/** Where a lower limit would be below nothing it is drawn at nothing, and cannot be passed. */
export function floorCaution({ points, statistic }: ChartPanel): Caution[] {
  if (!points.some(({ lower }) => lower === 0)) return [];
  return [{ about: 'lower-limit-at-zero', words: `the lower limit of the ${statistic} is 0: no single point can show an improvement` }];
}
