import { describe, expect, test } from 'vitest';
import charts from '../../fixtures/standards/control-charts.json' with { type: 'json' };
import published from '../../fixtures/standards/process-capability.json' with { type: 'json' };
import { capabilityIndices, capabilityInterval, capabilityStudy, type CapabilityStudy } from './capability.js';
import { ChartFault } from './control-chart.js';

const micro = (value: number) => Math.round(value * 1e6);
const about = (study: CapabilityStudy) => study.cautions.map((caution) => caution.about);

test.each(published.indices)('$name', ({ USL, LSL, mean, s, sigma_within: within, Cp, Cpk, Cpu, Cpl }) => {
  const indices = capabilityIndices(mean, s ?? within ?? Number.NaN, { lower: LSL, upper: USL });
  // The figures of the rings were made from a sigma of more digits than it is printed with.
  expect(indices.width).toBeCloseTo(Cp, 3);
  expect(indices.worst).toBeCloseTo(Cpk, 3);
  if (Cpu !== undefined) expect(indices.upper).toBeCloseTo(Cpu, 4);
  if (Cpl !== undefined) expect(indices.lower).toBeCloseTo(Cpl, 4);
});

test('the published interval', () => {
  const { Cpk, n, lower, upper } = published.interval;
  const interval = capabilityInterval(Cpk, n, n - 1);
  expect(Number(interval.lower.toFixed(2))).toBe(lower);
  expect(Number(interval.upper.toFixed(2))).toBe(upper);
});

describe('piston rings', () => {
  const { samples, trial_samples: trial } = charts.examples.xbar_R_piston_rings;
  const subgroups = samples.map((sample) => sample.map(micro));
  const specification = { lowerMicro: micro(73.95), upperMicro: micro(74.05) };

  test('Cp 1.70 and Cpk 1.66 from the first 25, in control, with nothing to warn of but the shape', () => {
    const study = capabilityStudy(subgroups.slice(0, trial), specification);
    expect(study.within?.width?.toFixed(2)).toBe('1.70');
    expect(study.within?.worst.toFixed(2)).toBe('1.66');
    expect(study).toMatchObject({ values: 125, subgroups: 25, outside: 0, inControl: true });
    expect(about(study)).toEqual(['shape']);
    // By hand: the sum of squares about the mean of the 125 values.
    const values = samples.slice(0, trial).flat();
    const mean = values.reduce((a, b) => a + b) / 125;
    const s = Math.sqrt(values.reduce((a, value) => a + (value - mean) ** 2, 0) / 124);
    expect(study.overall?.sigma).toBeCloseTo(s, 9);
    expect(study.overall?.worst).toBeCloseTo((74.05 - mean) / (3 * s), 6);
  });

  test('all 40 signal, and the indices say that they describe no stable process', () => {
    const study = capabilityStudy(subgroups, specification);
    expect(study.inControl).toBe(false);
    expect(about(study)).toContain('not-in-control');
    expect(study.overall?.worst ?? 0).toBeLessThan(study.within?.worst ?? 0);
  });
});

describe('one side, single values, little to go by', () => {
  const values = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1].map((value) => [micro(value)]);

  test('a one-sided specification has no index of the width', () => {
    const study = capabilityStudy(values, { upperMicro: micro(56) });
    // MR̄ 1.8778 / 1.128 = 1.6647; (56 − 50.81) / (3 · 1.6647) = 1.0392.
    expect(study.within).toMatchObject({ width: null, lower: null });
    expect(study.within?.upper?.toFixed(4)).toBe('1.0392');
    expect(study.within?.worst).toBe(study.within?.upper);
    expect(about(study)).toEqual(['shape', 'few-values']);
    const lower = capabilityStudy(values, { lowerMicro: micro(50) });
    expect(lower.within).toMatchObject({ width: null, upper: null });
    expect(lower.outside).toBe(4);
  });

  test('a mean outside the specification makes the index negative', () => {
    expect(capabilityStudy(values, { upperMicro: micro(50) }).within?.worst).toBeLessThan(0);
  });

  test('values that do not differ have no index', () => {
    const study = capabilityStudy(
      Array.from({ length: 30 }, () => [100_000]),
      { upperMicro: 200_000 },
    );
    expect(study).toMatchObject({ within: null, overall: null });
    expect(about(study)).toEqual(['shape', 'few-values', 'no-spread']);
  });

  test.each([
    ['no limit', [[1, 2]], {}],
    ['limits the wrong way round', [[1, 2]], { lowerMicro: 2, upperMicro: 1 }],
    ['one value', [[1]], { upperMicro: 2 }],
    ['nothing', [], { upperMicro: 2 }],
    ['subgroups of unlike size', [[1, 2], [1]], { upperMicro: 2 }],
    ['a reading that is not whole millionths', [[1], [Number.NaN]], { upperMicro: 2 }],
  ])('refused: %s', (_case, subgroups, limits) => expect(() => capabilityStudy(subgroups, limits)).toThrow(ChartFault));

  test('an index needs a spread and a side', () => {
    expect(() => capabilityIndices(0, 0, { upper: 1 })).toThrow(RangeError);
    expect(() => capabilityIndices(0, 1, {})).toThrow(RangeError);
  });
});

/** Normal values from a seed, the same on every machine (Box and Muller over a 32-bit xorshift). */
function normalValues(seed: number): () => number {
  let state = seed;
  const even = () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return ((state >>> 0) + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even());
}

test.each([
  ['25 subgroups of 5', 25, 5],
  ['25 subgroups of 2', 25, 2],
  ['100 single values', 100, 1],
])('%s: of 2 000 studies, the intervals hold the true index about 95 times in 100', (_case, count, size) => {
  const normal = normalValues(20_260_101);
  const truth = 4 / 3; // mean 0, sigma 1, limits ±4
  const held = { within: 0, overall: 0 };
  for (let i = 0; i < 2_000; i += 1) {
    const subgroups = Array.from({ length: count }, () => Array.from({ length: size }, () => Math.round(normal() * 1e6)));
    const study = capabilityStudy(subgroups, { lowerMicro: -4_000_000, upperMicro: 4_000_000 });
    for (const which of ['within', 'overall'] as const) {
      const interval = study[which]?.interval;
      if (interval && interval.lower <= truth && truth <= interval.upper) held[which] += 1;
    }
  }
  for (const share of [held.within / 2_000, held.overall / 2_000]) {
    expect(share).toBeGreaterThan(0.93);
    expect(share).toBeLessThan(0.975);
  }
});
