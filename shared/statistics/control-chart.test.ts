import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import published from '../../fixtures/standards/control-charts.json' with { type: 'json' };
import { countChart, fractionChart } from './attributes-chart.js';
import { ChartFault, type ControlChart } from './control-chart.js';
import { individualsChart, meanRangeChart } from './variables-chart.js';

const micro = (value: number) => Math.round(value * 1e6);
const { examples } = published;
const panel = (chart: ControlChart, at = 0) => chart.panels[at] ?? expect.fail('no such panel');
const first = (chart: ControlChart, at = 0) => panel(chart, at).points[0] ?? expect.fail('no point');
const about = (chart: ControlChart) => chart.cautions.map((caution) => caution.about);
/** Compares to the digits printed. */
const expectPrinted = (ours: number, figure: number) => expect(Number(ours.toFixed(`${figure}`.split('.')[1]?.length ?? 0))).toBe(figure);

describe('individuals: flow rate (NIST/SEMATECH 6.3.2.2)', () => {
  const { data, published: figures } = examples.individuals_flowrate;
  const chart = individualsChart(data.map(micro));

  test('centre, mean moving range and limits', () => {
    expectPrinted(panel(chart).centre, figures.mean);
    expectPrinted(panel(chart, 1).centre, figures.MRbar);
    expectPrinted(first(chart).upper, figures.UCL);
    expectPrinted(first(chart).lower, figures.LCL);
  });

  test('no signals, nine moving ranges from the second value on, and the cautions of ten values', () => {
    expect(chart.inControl).toBe(true);
    expect(panel(chart, 1).points.map(({ at }) => at)).toEqual([2, 3, 4, 5, 6, 7, 8, 9, 10]);
    expect(about(chart)).toEqual(['few-points', 'shape']);
  });
});

describe('c: wafer defects (NIST/SEMATECH 6.3.3.1)', () => {
  const { data, published: figures, signals } = examples.c_chart_wafer_defects;
  const chart = countChart(data);

  test('centre and limits', () => {
    expectPrinted(panel(chart).centre, figures.cbar);
    expectPrinted(first(chart).upper, figures.UCL);
    expectPrinted(first(chart).lower, figures.LCL);
  });

  test('only the published point is beyond; sample 3 lies on the limit', () => {
    expect(panel(chart).signals.filter(({ rule }) => rule === 1)).toEqual([
      { rule: 1, at: signals[0]?.sample, from: 24, side: 'above', words: 'point 24 is above the upper limit' },
    ]);
    expect(panel(chart).points[2]).toMatchObject({ value: 28, upper: 28, z: 3, signals: [] });
    expect(about(chart)).toContain('baseline-not-in-control');
  });
});

describe('p: thirty samples of 50 (NIST/SEMATECH 6.3.3.2)', () => {
  const { n, nonconforming, published: figures, signals } = examples.p_chart_50_per_sample;
  const chart = fractionChart(nonconforming.map((count) => ({ items: n, nonconforming: count })));

  test('centre and limits', () => {
    expectPrinted(panel(chart).centre, figures.pbar);
    expectPrinted(first(chart).upper, figures.UCL);
    expectPrinted(first(chart).lower, figures.LCL);
  });

  test('the published points are beyond, and no other', () => {
    const beyond = panel(chart).points.filter((point) => point.signals.includes(1));
    expect(beyond.map(({ at, value }) => ({ sample: at, fraction: value }))).toEqual(
      signals.map(({ sample, fraction }) => ({ sample, fraction })),
    );
  });
});

describe('X̄ and R: piston rings (Montgomery)', () => {
  const { samples, trial_samples: trial, published: figures, recomputed } = examples.xbar_R_piston_rings;
  const chart = meanRangeChart(
    samples.map((sample) => sample.map(micro)),
    { baseline: trial },
  );

  test('centre and limits from the first 25', () => {
    expectPrinted(panel(chart).centre, figures.grand_mean);
    expectPrinted(panel(chart, 1).centre, figures.Rbar);
    expectPrinted(first(chart).upper, figures.UCL_xbar);
    expectPrinted(first(chart).lower, figures.LCL_xbar);
    // D4 for 5 is printed as 2.114 and as 2.115.
    expect(Math.abs(first(chart, 1).upper - recomputed['UCL_R_D4_2.114'])).toBeLessThan(0.001 * figures.Rbar);
    expectPrinted(first(chart, 1).lower, recomputed.LCL_R);
  });

  test('of all 40 the published ones are beyond', () => {
    const beyond = panel(chart)
      .points.filter((point) => point.signals.includes(1))
      .map(({ at }) => at);
    expect(beyond).toEqual(figures.beyond_limits_of_all_40);
    expect(panel(chart).points.filter((point) => point.baseline)).toHaveLength(trial);
  });

  test('every rule hit and its distance', () => {
    const hits = panel(chart).points.filter((point) => point.signals.length > 0);
    const expected = examples.xbar_R_piston_rings.western_electric_on_all_40_samples_computed_here;
    expect(hits.map(({ at, signals }) => ({ sample: at, rules: signals }))).toEqual(
      expected.map(({ sample, rules }) => ({ sample, rules: rules.map((rule) => Number(rule[0])) })),
    );
    // The figures were made with d2 unrounded.
    hits.forEach(({ z }, i) => expect(Math.abs((z ?? 0) - (expected[i]?.z ?? 0))).toBeLessThan(0.001));
    expect(chart.inControl).toBe(false);
    expect(about(chart)).toEqual([]);
  });

  test('the words name the points of the pattern', () => {
    expect(panel(chart).signals.find(({ at, rule }) => at === 38 && rule === 2)?.words).toBe(
      'points 37 to 38: two of three successive points beyond 2 sigma on the same side, above the centre line',
    );
  });

  test('a change on record before sample 37 leaves only what comes after it', () => {
    const changed = meanRangeChart(
      samples.map((sample) => sample.map(micro)),
      { baseline: trial, changedAt: [37] },
    );
    expect(panel(changed).signals.filter(({ from, at }) => from < 37 && at >= 37)).toEqual([]);
    expect(panel(changed).points[36]?.signals).toEqual([1]);
  });
});

describe('points of their own size', () => {
  test('every p point has its own limits, wider for a smaller sample', () => {
    const chart = fractionChart([
      { items: 400, nonconforming: 40 },
      { items: 100, nonconforming: 10 },
    ]);
    const [large, small] = panel(chart).points;
    // p̄ = 0.1: σ is 0.015 for 400 and 0.03 for 100.
    expect([large?.lower, large?.upper, small?.lower, small?.upper].map((limit) => limit?.toFixed(6))).toEqual([
      '0.055000',
      '0.145000',
      '0.010000',
      '0.190000',
    ]);
    expect(small?.zones.map(({ upper }) => upper.toFixed(6))).toEqual(['0.130000', '0.160000']);
  });

  test('limits stay on the scale, and the reader is told', () => {
    const low = fractionChart([
      { items: 10, nonconforming: 0 },
      { items: 10, nonconforming: 1 },
    ]);
    expect(first(low).lower).toBe(0);
    expect(about(low)).toEqual(['few-points', 'lower-limit-at-zero', 'few-expected']);
    expect(first(fractionChart([{ items: 10, nonconforming: 10 }])).upper).toBe(1);
    expect(about(countChart([2, 3]))).toEqual(['few-points', 'lower-limit-at-zero', 'few-expected', 'equal-opportunity']);
  });
});

describe('little or nothing to go by', () => {
  test('values that do not differ have limits on the centre line, and a later one that does is beyond them', () => {
    const chart = individualsChart([...Array.from({ length: 25 }, () => 5_100_000), 5_100_001], { baseline: 25 });
    expect(first(chart)).toMatchObject({ value: 5.1, lower: 5.1, upper: 5.1, z: null, signals: [] });
    expect(panel(chart).points[25]?.signals).toEqual([1]);
    expect(about(chart)).toContain('no-spread');
  });

  test('one subgroup makes a chart that warns', () => {
    expect(about(meanRangeChart([[1, 2]]))).toEqual(['few-points']);
    expect(about(meanRangeChart([Array.from({ length: 12 }, (_, i) => i)]))).toEqual(['few-points', 'wide-subgroups']);
  });

  test.each([
    ['no subgroup', () => meanRangeChart([])],
    ['subgroups of unlike size', () => meanRangeChart([[1, 2], [1]])],
    ['subgroups of one', () => meanRangeChart([[1], [2]])],
    ['subgroups of 26', () => meanRangeChart([Array.from({ length: 26 }, () => 1)])],
    ['a reading that is not whole millionths', () => meanRangeChart([[1, 0.5]])],
    ['one value', () => individualsChart([1])],
    ['a value that is not whole millionths', () => individualsChart([1, Number.NaN])],
    ['a baseline longer than the values', () => individualsChart([1, 2], { baseline: 3 })],
    ['a baseline of one value', () => individualsChart([1, 2, 3], { baseline: 1 })],
    ['a change at no point', () => individualsChart([1, 2], { changedAt: [3] })],
    ['a sample of nothing', () => fractionChart([{ items: 0, nonconforming: 0 }])],
    ['more nonconforming than items', () => fractionChart([{ items: 2, nonconforming: 3 }])],
    ['a half nonconformity', () => countChart([1.5])],
    ['no count', () => countChart([])],
  ])('refused: %s', (_case, ask) => expect(ask).toThrow(ChartFault));
});

const reading = fc.integer({ min: -1e9, max: 1e9 });

test('a chart is plain data, its points as many as were given, its centre between the least and the largest', () => {
  fc.assert(
    fc.property(fc.array(fc.array(reading, { minLength: 4, maxLength: 4 }), { minLength: 1, maxLength: 30 }), (subgroups) => {
      const chart = meanRangeChart(subgroups);
      expect(JSON.parse(JSON.stringify(chart))).toEqual(chart);
      const means = panel(chart);
      expect(means.points.map(({ at }) => at)).toEqual(subgroups.map((_, i) => i + 1));
      const values = means.points.map(({ value }) => value);
      expect(means.centre).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9);
      expect(means.centre).toBeLessThanOrEqual(Math.max(...values) + 1e-9);
      for (const { value, upper, signals } of panel(chart, 1).points) expect(signals.includes(1)).toBe(value > upper + 1e-9 * upper);
    }),
  );
});

test('the order of the readings within a subgroup, and a shift of all readings, change no signal', () => {
  fc.assert(
    fc.property(
      fc.array(fc.array(reading, { minLength: 3, maxLength: 3 }), { minLength: 2, maxLength: 20 }),
      reading,
      (subgroups, shift) => {
        const signals = (groups: readonly (readonly number[])[]) => meanRangeChart(groups).panels.map((one) => one.signals);
        const plain = signals(subgroups);
        expect(signals(subgroups.map((group) => group.toReversed()))).toEqual(plain);
        expect(signals(subgroups.map((group) => group.map((value) => value + shift)))).toEqual(plain);
      },
    ),
  );
});
