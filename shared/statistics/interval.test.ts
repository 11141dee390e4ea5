import { readFileSync } from 'node:fs';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exactBinomial, exactly, oneMinus, toNumber } from '../../test/exact.js';
import { binomialCdf } from './counts.js';
import { exactInterval } from './interval.js';

interface Row {
  readonly found: number;
  readonly items: number;
  readonly confidence: number;
  readonly lower: number;
  readonly upper: number;
  readonly within: number;
}
const { intervals } = JSON.parse(readFileSync('fixtures/standards/distributions.json', 'utf8')) as {
  readonly intervals: { readonly rows: readonly Row[] };
};

const expectNear = (reckoned: number, exact: number, relative: number): void =>
  expect(Math.abs(reckoned / exact - 1)).toBeLessThan(relative);

describe('exact interval for a proportion', () => {
  it.each(intervals.rows)(
    '$found of $items at $confidence: $lower to $upper, as published',
    ({ found, items, confidence, lower, upper, within }) => {
      const reckoned = exactInterval(found, items, confidence);
      expect(reckoned.estimate).toBe(found / items);
      expect(Math.abs(reckoned.lower - lower)).toBeLessThanOrEqual(within);
      expect(Math.abs(reckoned.upper - upper)).toBeLessThanOrEqual(within);
    },
  );

  it.each([1, 13, 80, 3150, 1_000_000])('none or all of %i: the closed form, and an end that is certain', (items) => {
    const none = exactInterval(0, items, 0.95);
    expect([none.estimate, none.lower]).toEqual([0, 0]);
    expectNear(none.upper, -Math.expm1(Math.log(0.025) / items), 1e-11);
    const all = exactInterval(items, items, 0.95);
    expect([all.estimate, all.upper]).toEqual([1, 1]);
    expectNear(all.lower, Math.exp(Math.log(0.025) / items), 1e-11);
  });

  it('one in a billion still has an interval', () => {
    const { lower, upper } = exactInterval(1, 1_000_000_000, 0.95);
    // With so many items the count is a Poisson count: 1 - e^-m = 0.025 below, (1 + m) e^-m = 0.025 above.
    expectNear(lower, -Math.log1p(-0.025) / 1e9, 1e-7);
    expectNear((1 + upper * 1e9) * Math.exp(-upper * 1e9), 0.025, 1e-7);
  });

  it('at either end the tail beyond what was found has half the risk, by exact fractions', () => {
    const cases = fc.integer({ min: 2, max: 300 }).chain((items) => fc.tuple(fc.integer({ min: 1, max: items - 1 }), fc.constant(items)));
    fc.assert(
      fc.property(cases, fc.constantFrom(0.8, 0.9, 0.95, 0.99, 0.999999), ([found, items], confidence) => {
        const { lower, upper, estimate } = exactInterval(found, items, confidence);
        expect(lower).toBeLessThan(estimate);
        expect(upper).toBeGreaterThan(estimate);
        const side = (1 - confidence) / 2;
        const above = toNumber(exactBinomial(items, exactly(upper), 0, found));
        const below = toNumber(oneMinus(exactBinomial(items, exactly(lower), 0, found - 1)));
        // The ends are the last doubles on their side: at the next one the tail has passed half the risk.
        const next = (p: number): number => Math.min(1, p * (1 + Number.EPSILON));
        expect(above / side).toBeGreaterThan(1 - 1e-12);
        expect(toNumber(exactBinomial(items, exactly(next(upper)), 0, found)) / side).toBeLessThan(1 + 1e-12);
        expect(below / side).toBeLessThan(1 + 1e-12);
        expect(toNumber(oneMinus(exactBinomial(items, exactly(next(lower)), 0, found - 1))) / side).toBeGreaterThan(1 - 1e-12);
      }),
      { numRuns: 100 },
    );
  });

  it('counting the others turns the interval round', () => {
    const some = exactInterval(7, 200, 0.95);
    const others = exactInterval(193, 200, 0.95);
    expectNear(1 - others.upper, some.lower, 1e-11);
    expectNear(1 - others.lower, some.upper, 1e-11);
  });

  it('holds the true proportion at least as often as it says', () => {
    const items = 40;
    const ends = Array.from({ length: items + 1 }, (_, found) => exactInterval(found, items, 0.9));
    for (let i = 1; i < 200; i++) {
      const p = i / 200;
      let held = 0;
      ends.forEach(({ lower, upper }, found) => {
        if (lower <= p && p <= upper) held += binomialCdf(found, items, p) - binomialCdf(found - 1, items, p);
      });
      expect(held).toBeGreaterThanOrEqual(0.9 - 1e-12);
    }
  });

  it.each([
    [1, 0, 0.95],
    [-1, 10, 0.95],
    [11, 10, 0.95],
    [1.5, 10, 0.95],
    [1, 10, 0],
    [1, 10, 1],
    [1, 10, Number.NaN],
    [1, 2e9, 0.95],
  ])('refuses %d of %d at %d', (found, items, confidence) => {
    expect(() => exactInterval(found, items, confidence)).toThrow(RangeError);
  });
});
