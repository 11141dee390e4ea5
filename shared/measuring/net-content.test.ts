import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import published from '../../fixtures/standards/net-content.json' with { type: 'json' };
import { computeResult } from './compute-result.js';
import type { NetContentMethod, Row } from './method.js';
import { packerPlan, referencePlan } from './net-content-plans.js';
import { methodFaults } from './method-faults.js';
import { tolerableDeficiency } from './tolerable-deficiency.js';

const rounding = { decimals: 2, rule: 'half-even' } as const;
const micro = (value: number) => Math.round(value * 1e6);
const net = (values: readonly number[]): Row[] => values.map((value) => ({ net: micro(value) }));
const named = (computed: { figures: readonly { name: string; value: string }[] }) =>
  Object.fromEntries(computed.figures.map(({ name, value }) => [name, value]));
const packer = (over: Partial<NetContentMethod> = {}): NetContentMethod => ({
  kind: 'net-content',
  nominalMicro: micro(250),
  unit: 'mL',
  weighed: 'net',
  rules: { set: 'packer' },
  ...over,
});
const reference = (destructive: boolean, over: Partial<NetContentMethod> = {}) =>
  packer({ rules: { set: 'reference', destructive }, ...over });

describe('tolerable deficiency', () => {
  test.each(published.tolerableDeficiency.examples)('of $Qn is $T', ({ Qn, T }) => {
    expect(tolerableDeficiency(micro(Qn))).toBe(micro(T));
  });

  test.each(published.tolerableDeficiency.bands)('over $over to $to: $percent % or $absolute', ({ over, to, percent, absolute }) => {
    for (const Qn of [over + 0.001, (over + to) / 2, to]) {
      const exact = absolute ?? (Qn * (percent ?? 0)) / 100;
      expect(tolerableDeficiency(micro(Qn))).toBe(micro(Math.ceil(exact * 10 - 1e-9) / 10));
    }
  });

  test('never falls as packages grow, and is a whole number of tenths', () => {
    const quantity = fc.integer({ min: 5_000_000, max: 50_000_000_000 });
    fc.assert(
      fc.property(quantity, quantity, (one, other) => {
        const [less, more] = [Math.min(one, other), Math.max(one, other)];
        expect(tolerableDeficiency(less)).toBeLessThanOrEqual(tolerableDeficiency(more));
        expect(tolerableDeficiency(less) % 100_000).toBe(0);
      }),
    );
  });

  test.each([4.999999, 50_000.000001, Number.NaN])('refused: %s', (Qn) => {
    expect(() => tolerableDeficiency(Number.isNaN(Qn) ? Qn : micro(Qn))).toThrow('5 to 50 000');
  });
});

/** t(0.995, ν) found from the distribution function for whole ν (Abramowitz and Stegun 26.7.3 and 26.7.4). */
function t995(degrees: number): number {
  const inside = (t: number) => {
    const angle = Math.atan(t / Math.sqrt(degrees));
    const odd = degrees % 2 === 1;
    let term = odd ? Math.cos(angle) : 1;
    let terms = degrees === 1 ? 0 : term;
    for (let k = odd ? 3 : 2; k <= degrees - 2; k += 2) {
      term *= (Math.cos(angle) ** 2 * (k - 1)) / k;
      terms += term;
    }
    return odd ? (2 / Math.PI) * (angle + Math.sin(angle) * terms) : Math.sin(angle) * terms;
  };
  let [low, high] = [0, 100];
  for (let i = 0; i < 100; i += 1) {
    const middle = (low + high) / 2;
    if (inside(middle) < 0.99) low = middle;
    else high = middle;
  }
  return low;
}

describe('the plans of the reference test', () => {
  test.each(published.referenceIndividual.singleNondestructive)('batch $batch: $sample, $accept', ({ batch, sample, accept }) => {
    for (const size of batch) {
      expect(referencePlan(size ?? 1_000_000, false)).toMatchObject({ sample, allowedShort: accept });
    }
  });

  test.each(published.referenceMean.plans)('k for a mean of $n is $k', ({ batch, n, k }) => {
    const sizes = batch ?? [100, 5_000];
    for (const size of sizes) {
      expect(referencePlan(size ?? 9_999, batch === undefined)).toMatchObject({ meanSample: n, kThousandths: k * 1000 });
    }
    expect(t995(n - 1) / Math.sqrt(n)).toBeCloseTo(k, 3);
  });

  test('destructive: 20, one may be short', () => {
    const { sample, accept, batch_at_least: least } = published.referenceIndividual.destructive;
    expect(referencePlan(least, true)).toMatchObject({ sample, allowedShort: accept });
    expect(() => referencePlan(least - 1, true)).toThrow('100 packages');
  });

  test('under 100 all are measured and the mean itself must reach the nominal quantity', () => {
    expect(referencePlan(99, false)).toEqual({ sample: 99, allowedShort: 4, meanSample: 99, kThousandths: 0 });
    expect(referencePlan(19, false).allowedShort).toBe(0);
  });

  test.each([0, -1, 1.5, Number.NaN])('refused: a batch of %s', (size) => expect(() => referencePlan(size, false)).toThrow('whole number'));

  test('the packer may have one in forty short unless the plan says otherwise', () => {
    expect([39, 40, 79, 80].map((n) => packerPlan(n).allowedShort)).toEqual([0, 1, 1, 2]);
    expect(packerPlan(80, 0).allowedShort).toBe(0);
  });
});

describe('the worked example', () => {
  const example = published.workedExample;
  const litre = reference(true, { nominalMicro: micro(example.Qn_ml) });
  const taking = { rounding, batchSize: 2_000 };

  test('accepted, with every figure', () => {
    const result = computeResult(litre, net(example.data_pass), taking);
    const figures = named(result);
    expect(result.valueMicro).toBe(micro(example.mean));
    expect(result.verdict?.accepted).toBe(true);
    expect(Number(figures['s'])).toBeCloseTo(example.s, 4);
    expect(Number(figures['t'])).toBe(example.T);
    expect(Number(figures['t1-limit'])).toBe(example.T1_limit);
    expect(Number(figures['t2-limit'])).toBe(example.T2_limit);
    expect(Number(figures['mean-limit'])).toBeCloseTo(example.mean_limit, 3);
    expect(figures['k']).toBe('0.64');
  });

  test('4 mL less: rejected by its mean alone', () => {
    const result = computeResult(litre, net(example.data_pass.map((value) => value - 4)), taking);
    expect(result.valueMicro).toBe(micro(example.fail_mean));
    expect(result.verdict?.accepted).toBe(false);
    expect(result.verdict?.reasons.filter(({ kept }) => !kept).map(({ rule }) => rule)).toEqual(['mean']);
  });
});

describe('the edges', () => {
  const verdict = (values: readonly number[], over: Partial<NetContentMethod> = {}) =>
    computeResult(packer(over), net(values), { rounding }).verdict?.reasons.flatMap(({ kept, rule }) => (kept ? [] : [rule]));

  test.each([
    ['the mean exactly nominal, one exactly T short', [259, 241], []],
    ['a millionth less on average', [259, 240.999998], ['mean', 'short-by-more-than-t']],
    ['exactly 2T short is short by more than T only', [268, 232], ['short-by-more-than-t']],
    ['a millionth more than 2T', [269, 231.999999], ['short-by-more-than-t', 'short-by-more-than-2t']],
  ])('%s', (_case, values, broken) => expect(verdict(values)).toEqual(broken));

  test('a plan that allows one short forgives one, not two, and never more than 2T', () => {
    const rules = { set: 'packer', allowedShort: 1 } as const;
    expect(verdict([260, 260, 240], { rules })).toEqual([]);
    expect(verdict([265, 265, 240, 240], { rules })).toEqual(['short-by-more-than-t']);
    expect(verdict([270, 270, 231], { rules })).toEqual(['short-by-more-than-2t']);
  });

  test('the mean of the reference test is that of the first packages taken', () => {
    const first = Array.from({ length: 30 }, (_, i) => 251 + (i % 2));
    const values = [...first, ...Array.from({ length: 20 }, () => 245)];
    const result = computeResult(reference(false), net(values), { rounding, batchSize: 400 });
    expect(result.valueMicro).toBe(micro(251.5));
    expect(result.verdict?.accepted).toBe(true);
    expect(named(result)).toMatchObject({ count: '50', 'mean-of': '30', least: '245', k: '0.503' });
  });
});

describe('what is weighed', () => {
  test('gross less tare', () => {
    const method = packer({ unit: 'g', weighed: 'gross-and-tare' });
    const result = computeResult(method, [{ gross: micro(301.25), tare: micro(50.25) }], { rounding });
    expect(result.valueMicro).toBe(micro(251));
    expect(result.inputs).toEqual([{ gross: '301.25', tare: '50.25' }]);
  });

  test('a volume by mass and density, compared without rounding', () => {
    // 231.25 g at 0.925 kg/L is 250 mL exactly; a millionth of a gram less is not.
    const method = packer({ densityMicro: 925_000 });
    expect(computeResult(method, net([231.25]), { rounding })).toMatchObject({
      valueMicro: micro(250),
      unit: 'mL',
      verdict: { accepted: true },
    });
    expect(computeResult(method, net([231.249999]), { rounding })).toMatchObject({ valueMicro: micro(250), verdict: { accepted: false } });
  });

  test('the same can in kilograms and in grams', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 200_000, max: 300_000 }), { minLength: 1, maxLength: 30 }), (milligrams) => {
        const grams = computeResult(
          packer({ unit: 'g' }),
          milligrams.map((mg) => ({ net: mg * 1_000 })),
          { rounding },
        );
        const kilograms = computeResult(
          packer({ unit: 'kg', nominalMicro: 250_000 }),
          milligrams.map((mg) => ({ net: mg })),
          { rounding: { decimals: 5, rule: 'half-even' } },
        );
        expect(kilograms.verdict).toEqual(grams.verdict);
        expect(kilograms.figures).toEqual(grams.figures);
        expect(Math.abs(kilograms.valueMicro * 1_000 - grams.valueMicro)).toBeLessThanOrEqual(10_000);
      }),
    );
  });

  test.each([
    ['gross less than tare', packer({ weighed: 'gross-and-tare' }), [{ gross: 1, tare: 2 }], '/0/gross'],
    ['a tare below nothing', packer({ weighed: 'gross-and-tare' }), [{ gross: 1, tare: -2 }], '/0/tare'],
    ['a content below nothing', packer(), [{ net: -1 }], '/0/net'],
    ['no package', packer(), [], ''],
    ['a density for a content in mass', packer({ unit: 'g', densityMicro: 1 }), [{ net: 1 }], '/density'],
    ['a density of nothing', packer({ densityMicro: 0 }), [{ net: 1 }], '/density'],
    ['half a package allowed short', packer({ rules: { set: 'packer', allowedShort: 0.5 } }), [{ net: 1 }], '/rules/allowedShort'],
    ['a nominal quantity outside the table', packer({ nominalMicro: 1 }), [{ net: 1 }], '/nominal'],
    ['a reference test of an unknown batch', reference(true), [{ net: 1 }], '/batchSize'],
  ] as const)('refused: %s', (_case, method, rows, at) => {
    expect(() => computeResult(method, rows, { rounding })).toThrow(expect.objectContaining({ at }));
  });

  test('the batch says how many packages the reference test takes, not the replicates of the characteristic', () => {
    const twenty = net(Array.from({ length: 20 }, () => 250));
    expect(computeResult(reference(true), twenty, { rounding, replicates: 1, batchSize: 100 }).verdict?.accepted).toBe(true);
    expect(() => computeResult(packer(), twenty, { rounding, replicates: 1 })).toThrow('1 reading is taken, not 20');
  });

  test('refused: another number of packages than the batch calls for', () => {
    const asked = () => computeResult(reference(false), net([250]), { rounding, batchSize: 1_200 });
    expect(asked).toThrow('a batch of 1200 calls for 80 packages; 1 were read');
  });
});

test('the exact comparison of the mean agrees with the plain formula away from the edge', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 2_300, max: 2_640 }), { minLength: 20, maxLength: 20 }), (tenths) => {
      const values = tenths.map((tenth) => tenth / 10);
      const mean = values.reduce((a, b) => a + b) / 20;
      const s = Math.sqrt(values.reduce((a, value) => a + (value - mean) ** 2, 0) / 19);
      const margin = mean - (250 - 0.64 * s);
      fc.pre(Math.abs(margin) > 1e-6);
      const { verdict } = computeResult(reference(true), net(values), { rounding, batchSize: 500 });
      expect(verdict?.reasons.find(({ rule }) => rule === 'mean')?.kept).toBe(margin > 0);
    }),
  );
});

test('a method is found faulty before anything is read by it, with every fault', () => {
  expect(methodFaults(packer())).toEqual([]);
  const faulty = packer({ unit: 'g', nominalMicro: 1, densityMicro: 1, rules: { set: 'packer', allowedShort: -1 } });
  expect(methodFaults(faulty).map(({ at }) => at)).toEqual(['/nominal', '/density', '/rules/allowedShort']);
  const standard = { lMicro: -1, aMicro: micro(400), bMicro: 0 };
  expect(methodFaults({ kind: 'colour-difference', standard }).map(({ at }) => at)).toEqual(['/standard/l', '/standard/a']);
});
