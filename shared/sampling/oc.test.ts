import { readFileSync } from 'node:fs';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  choose,
  exactBinomial,
  exactHypergeometric,
  exactly,
  exactPoisson,
  type Fraction,
  plus,
  relativeError,
  times,
} from '../../test/exact.js';
import { binomialLaw, courseOf, lotLaw, type PlanNumbers, poissonLaw } from './oc-law.js';
import { OcFault, ocFault, operatingCharacteristic } from './oc.js';

interface Curve {
  readonly id: string;
  readonly plan: { readonly n: number; readonly ac: number };
  readonly distribution: 'binomial' | 'poisson';
  readonly points: readonly { readonly quality: number; readonly acceptance: number; readonly within: number }[];
}
const { curves } = JSON.parse(readFileSync('fixtures/standards/distributions.json', 'utf8')) as { readonly curves: readonly Curve[] };

const J = { n: 80, ac: 2 };
const DOUBLE_J = { n1: 50, ac1: 0, re1: 3, n2: 50, ac2: 3, re2: 4 };
type Double = typeof DOUBLE_J;

describe('published points of operating characteristics', () => {
  const points = curves.flatMap(({ id, plan, distribution, points: of }) => of.map((point) => ({ id, plan, distribution, ...point })));

  it('are all there', () => expect(points.length).toBeGreaterThanOrEqual(32));

  it.each(points)('$id at $quality: $acceptance', ({ plan, distribution, quality, acceptance, within }) => {
    const { producersRisk } = operatingCharacteristic(plan, { distribution, aql: quality * 100 });
    expect(Math.abs(producersRisk!.acceptance - acceptance)).toBeLessThanOrEqual(within + 1e-12);
  });
});

describe('acceptance against exact fractions', () => {
  /** The plan followed by hand: what the first sample shows, what the second shows after it. */
  function byHand(plan: Double, first: (from: number, to: number) => Fraction, second: (found: number, to: number) => Fraction): Fraction {
    let sum = first(0, plan.ac1);
    for (let found = plan.ac1 + 1; found < plan.re1; found++) sum = plus(sum, times(first(found, found), second(found, plan.ac2 - found)));
    return sum;
  }
  const reckoned = (plan: PlanNumbers, law: Parameters<typeof courseOf>[1]): number => {
    const { acceptedFirst, acceptedSecond } = courseOf(plan, law);
    return acceptedFirst + acceptedSecond;
  };
  const doublePlan: fc.Arbitrary<Double> = fc
    .tuple(fc.integer({ min: 2, max: 60 }), fc.integer({ min: 2, max: 60 }), fc.nat(4), fc.integer({ min: 2, max: 5 }), fc.nat(5))
    .map(([n1, n2, ac1, apart, more]) => ({ n1, ac1, re1: ac1 + apart, n2, ac2: ac1 + more, re2: ac1 + more + 1 }));

  it('double plans, nonconforming items of a process', () => {
    fc.assert(
      fc.property(doublePlan, fc.double({ min: 1e-4, max: 0.9, noNaN: true }), (plan, fraction) => {
        const p = exactly(fraction);
        const exact = byHand(
          plan,
          (from, to) => exactBinomial(plan.n1, p, from, to),
          (_found, to) => exactBinomial(plan.n2, p, 0, to),
        );
        expect(relativeError(reckoned(plan, binomialLaw(fraction)), exact)).toBeLessThan(1e-12);
      }),
      { numRuns: 60 },
    );
  });

  it('double plans, nonconformities', () => {
    fc.assert(
      fc.property(doublePlan, fc.integer({ min: 1, max: 64 }), (plan, rate) => {
        // A rate of whole 64ths keeps n times the rate exact in a double.
        const mean = (n: number): Fraction => exactly((n * rate) / 64);
        const exact = byHand(
          plan,
          (from, to) => exactPoisson(mean(plan.n1), from, to),
          (_found, to) => exactPoisson(mean(plan.n2), 0, to),
        );
        expect(relativeError(reckoned(plan, poissonLaw(rate / 64)), exact)).toBeLessThan(1e-12);
      }),
      { numRuns: 60 },
    );
  });

  it('double plans, one lot: the second sample is drawn from what the first left', () => {
    const cases = doublePlan.chain((plan) =>
      fc
        .integer({ min: plan.n1 + plan.n2, max: 400 })
        .chain((lot) => fc.tuple(fc.constant(plan), fc.constant(lot), fc.nat(Math.min(lot, 60)))),
    );
    fc.assert(
      fc.property(cases, ([plan, lot, nonconforming]) => {
        const exact = byHand(
          plan,
          (from, to) => exactHypergeometric(lot, nonconforming, plan.n1, from, to),
          // A first sample that cannot show so many leaves no second one to ask about.
          (found, to) =>
            found > nonconforming || lot - plan.n1 < nonconforming - found
              ? { above: 0n, below: 1n }
              : exactHypergeometric(lot - plan.n1, nonconforming - found, plan.n2, 0, to),
        );
        const got = reckoned(plan, lotLaw(lot, nonconforming));
        if (exact.above === 0n) expect(got).toBe(0);
        else expect(relativeError(got, exact)).toBeLessThan(1e-12);
      }),
      { numRuns: 100 },
    );
  });

  it('every second sample taken accounts for the average sample', () => {
    const { points } = operatingCharacteristic(DOUBLE_J, { distribution: 'binomial' });
    for (const { quality, averageSample } of points) {
      const second = exactBinomial(50, exactly(quality / 100), 1, 2);
      expect(relativeError(averageSample, plus({ above: 50n, below: 1n }, times({ above: 50n, below: 1n }, second)))).toBeLessThan(1e-13);
    }
  });
});

describe('the outgoing quality of a known lot', () => {
  /** All ways to draw the samples from a small lot, counted: nonconforming items left in it on average after screening refused lots. */
  function counted(lot: number, nonconforming: number, plan: Double): number {
    let left = 0;
    for (let one = 0; one <= Math.min(plan.n1, nonconforming); one++) {
      const ways = Number(choose(nonconforming, one) * choose(lot - nonconforming, plan.n1 - one)) / Number(choose(lot, plan.n1));
      if (one <= plan.ac1) left += ways * (nonconforming - one);
      else if (one < plan.re1) {
        for (let two = 0; two <= Math.min(plan.n2, plan.ac2 - one, nonconforming - one); two++) {
          const then = choose(nonconforming - one, two) * choose(lot - plan.n1 - nonconforming + one, plan.n2 - two);
          left += ((ways * Number(then)) / Number(choose(lot - plan.n1, plan.n2))) * (nonconforming - one - two);
        }
      }
    }
    return (100 * left) / lot;
  }

  it('is what counting the ways leaves in it, for a double plan', () => {
    const plan = { n1: 5, ac1: 0, re1: 2, n2: 5, ac2: 1, re2: 2 };
    const { points, aoql } = operatingCharacteristic(plan, { distribution: 'hypergeometric', lotSize: 30 });
    expect(points.length).toBeGreaterThan(15);
    for (const { quality, averageOutgoing } of points) {
      expect(averageOutgoing).toBeCloseTo(counted(30, Math.round(quality * 0.3), plan), 12);
    }
    const all = Array.from({ length: 31 }, (_, nonconforming) => counted(30, nonconforming, plan));
    expect(aoql.quality).toBeCloseTo(Math.max(...all), 12);
    expect(Math.round(aoql.atQuality * 0.3)).toBe(all.indexOf(Math.max(...all)));
  });

  it('is nothing where the sample is the lot', () => {
    const whole = operatingCharacteristic({ n: 8, ac: 0 }, { distribution: 'hypergeometric', lotSize: 8 });
    expect(whole.aoql.quality).toBe(0);
    expect(whole.points).toEqual([{ quality: 0, acceptance: 1, averageSample: 8, averageOutgoing: 0 }]);
    const both = operatingCharacteristic({ n1: 4, ac1: 0, re1: 2, n2: 4, ac2: 1, re2: 2 }, { distribution: 'hypergeometric', lotSize: 8 });
    for (const { averageOutgoing } of both.points) expect(averageOutgoing).not.toBeNaN();
    expect(both.aoql.quality).toBeGreaterThan(0);
  });
});

describe('named points', () => {
  it('Ac 0: all of them by their formulas', () => {
    const n = 20;
    const { qualityAt, producersRisk, aoql, largestAverageSample, unit } = operatingCharacteristic(
      { n, ac: 0 },
      { distribution: 'binomial', aql: 0.65 },
    );
    expect(unit).toBe('percent nonconforming');
    for (const { atLeast, quality, acceptance } of qualityAt) {
      expect(quality!).toBeCloseTo(100 * (1 - atLeast ** (1 / n)), 10);
      expect(acceptance!).toBeCloseTo(atLeast, 14);
    }
    expect(qualityAt.map(({ atLeast }) => atLeast)).toEqual([0.95, 0.5, 0.1]);
    expect(producersRisk!.risk).toBeCloseTo(1 - 0.9935 ** n, 13);
    // p (1 - p)^n is highest at p = 1/(n + 1).
    expect(aoql.atQuality).toBeCloseTo(100 / (n + 1), 5);
    expect(aoql.quality).toBeCloseTo((100 / (n + 1)) * (n / (n + 1)) ** n, 12);
    expect(largestAverageSample).toBeNull();
  });

  it('nonconformities per 100: the outgoing limit of Ac 0 is 100/(e n)', () => {
    const { aoql, unit, qualityAt } = operatingCharacteristic({ n: 2, ac: 0 }, { distribution: 'poisson' });
    expect(unit).toBe('nonconformities per 100 items');
    expect(aoql.quality).toBeCloseTo(100 / (2 * Math.E), 12);
    expect(aoql.atQuality).toBeCloseTo(50, 5);
    expect(qualityAt[2]!.quality!).toBeCloseTo(50 * Math.log(10), 10);
  });

  it('a lot size lowers the outgoing limit by the share that is in the sample', () => {
    const without = operatingCharacteristic(J, { distribution: 'poisson' });
    const within = operatingCharacteristic(J, { distribution: 'poisson', lotSize: 1000 });
    expect(within.aoql.quality).toBeCloseTo(without.aoql.quality * 0.92, 12);
    expect(without.aoql.formula).toContain('p·Pa(p)');
    expect(within.aoql.formula).toContain('(N − n)/N');
  });

  it('a double plan takes most where its first sample says least', () => {
    const { largestAverageSample, points } = operatingCharacteristic(DOUBLE_J, { distribution: 'poisson' });
    // 50 + 50 P(1 or 2 of mean m), highest where P(0) = P(2): m = √2.
    const m = Math.SQRT2;
    expect(largestAverageSample!.atQuality).toBeCloseTo(100 * (m / 50), 5);
    expect(largestAverageSample!.items).toBeCloseTo(50 + 50 * (m + m ** 2 / 2) * Math.exp(-m), 12);
    for (const { averageSample } of points) expect(averageSample).toBeLessThanOrEqual(largestAverageSample!.items);
  });

  it('a known lot has gaps between its qualities: the worst still accepted so often is named, and how often it is', () => {
    const { qualityAt, producersRisk } = operatingCharacteristic(J, { distribution: 'hypergeometric', lotSize: 1000, aql: 1.05 });
    const at = (nonconforming: number): number => courseOf(J, lotLaw(1000, nonconforming)).acceptedFirst;
    expect(producersRisk).toMatchObject({ aql: 1.05, quality: 1, acceptance: at(10) });
    for (const { atLeast, quality, acceptance } of qualityAt) {
      const nonconforming = Math.round(quality! * 10);
      expect(acceptance).toBe(at(nonconforming));
      expect(acceptance).toBeGreaterThanOrEqual(atLeast);
      expect(at(nonconforming + 1)).toBeLessThan(atLeast);
    }
  });

  it('a decimal AQL names the whole number of items it means', () => {
    const { producersRisk } = operatingCharacteristic({ n: 13, ac: 0 }, { distribution: 'hypergeometric', lotSize: 2000, aql: 0.15 });
    expect(producersRisk!.quality).toBe(0.15);
    // 0.57 times 10000, in doubles, is a little less than 5700.
    const other = operatingCharacteristic({ n: 13, ac: 0 }, { distribution: 'hypergeometric', lotSize: 10_000, aql: 0.57 });
    expect(other.producersRisk!.quality).toBe(0.57);
  });

  it('a plan that accepts even the worst names no quality', () => {
    const { qualityAt, points } = operatingCharacteristic({ n: 3, ac: 3 }, { distribution: 'binomial' });
    expect(qualityAt.map(({ quality }) => quality)).toEqual([null, null, null]);
    expect(points.at(-1)).toMatchObject({ quality: 100, acceptance: 1 });
  });
});

describe('the curve', () => {
  it.each(['binomial', 'poisson', 'hypergeometric'] as const)(
    '%s: begins at 1, only falls, and ends where little is accepted',
    (distribution) => {
      for (const plan of [J, DOUBLE_J]) {
        const { points } = operatingCharacteristic(plan, { distribution, lotSize: 5000, points: 61 });
        expect(points).toHaveLength(61);
        expect(points[0]).toMatchObject({ quality: 0, acceptance: 1, averageOutgoing: 0 });
        points.slice(1).forEach(({ quality, acceptance }, i) => {
          expect(quality).toBeGreaterThan(points[i]!.quality);
          expect(acceptance).toBeLessThan(points[i]!.acceptance);
        });
        expect(points.at(-1)!.acceptance).toBeCloseTo(0.001, 4);
      }
    },
  );

  it('the largest plan and the largest lot are no trouble', () => {
    const large = operatingCharacteristic({ n: 3150, ac: 1 }, { distribution: 'hypergeometric', lotSize: 1_000_000_000, aql: 0.025 });
    const process = operatingCharacteristic({ n: 3150, ac: 1 }, { distribution: 'binomial', aql: 0.025 });
    expect(large.producersRisk!.risk).toBeCloseTo(process.producersRisk!.risk, 5);
    expect(large.qualityAt[2]!.quality!).toBeCloseTo(process.qualityAt[2]!.quality!, 6);
  });

  it('the worst that may be asked for is answered in a moment', () => {
    const begun = performance.now();
    const worst = { n1: 5000, ac1: 2000, re1: 2020, n2: 5000, ac2: 4000, re2: 4001 };
    const { points } = operatingCharacteristic(worst, { distribution: 'hypergeometric', lotSize: 1_000_000_000, aql: 40, points: 501 });
    expect(points).toHaveLength(501);
    expect(operatingCharacteristic({ n: 1_000_000, ac: 500_000 }, { distribution: 'binomial', points: 501 }).points).toHaveLength(501);
    expect(performance.now() - begun).toBeLessThan(4000);
  });

  it('is plain data', () => {
    const answer = operatingCharacteristic(DOUBLE_J, { distribution: 'binomial', aql: 1, lotSize: 900 });
    expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
  });
});

describe('what makes no plan', () => {
  it.each([
    [{ n: 0, ac: 0 }, {}, 'at least 1 item'],
    [{ n: 2.5, ac: 0 }, {}, 'whole numbers'],
    [{ n: 5, ac: -1 }, {}, 'whole numbers'],
    [{ n: 2_000_000, ac: 0 }, {}, 'above 1000000'],
    [{ n: 2, ac: 1e15 }, { distribution: 'poisson' }, 'above 1000000'],
    [{ ...DOUBLE_J, n1: 9_999 }, {}, 'together at most 10000'],
    [{ ...DOUBLE_J, re1: 1 }, {}, 'between ac1 and re1'],
    [{ ...DOUBLE_J, re2: 5 }, {}, 're2 is ac2 + 1'],
    [{ ...DOUBLE_J, n2: 0 }, {}, 'at least 1 item'],
    [{ ...DOUBLE_J, re1: 30, ac2: 40, re2: 41 }, {}, 're1 is at most'],
    [J, { distribution: 'hypergeometric' }, 'needs the lot size'],
    [J, { lotSize: 79 }, '80 items cannot be taken from a lot of 79'],
    [DOUBLE_J, { lotSize: 99 }, '100 items cannot be taken'],
    [J, { lotSize: 2e9 }, 'a lot has 1 to'],
    [J, { aql: 0 }, 'an AQL is above 0'],
    [J, { aql: 150 }, 'at most 100'],
    [J, { points: 1 }, 'a curve has 2 to'],
  ] as const)('%j with %j', (plan, options, why) => {
    const asked = { distribution: 'binomial', ...options } as const;
    expect(ocFault(plan, asked)).toContain(why);
    expect(() => operatingCharacteristic(plan, asked)).toThrow(OcFault);
  });

  it('nonconformities may exceed one an item', () => {
    expect(ocFault({ n: 2, ac: 30 }, { distribution: 'poisson', aql: 1000 })).toBeNull();
    expect(operatingCharacteristic({ n: 2, ac: 30 }, { distribution: 'poisson', aql: 1000 }).producersRisk!.acceptance).toBeGreaterThan(
      0.98,
    );
  });
});
