import { readFileSync } from 'node:fs';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exactBinomial, exactHypergeometric, exactly, exactPoisson, oneMinus, relativeError } from '../../test/exact.js';
import { binomial, binomialCdf, hypergeometric, hypergeometricCdf, massBetween, poisson, poissonCdf } from './counts.js';

interface Figures {
  readonly hypergeometric: {
    readonly rows: readonly { lot: number; nonconforming: number; sample: number; found: number; exact: string }[];
  };
  readonly poisson: { readonly within: number; readonly rows: readonly { mean: number; count: number; atMost: number }[] };
  readonly samplesWithoutFailure: { readonly rows: readonly { reliability: number; confidence: number; items: number }[] };
}
const published = JSON.parse(readFileSync('fixtures/standards/distributions.json', 'utf8')) as Figures;

/** Two thousand roundings in a row stay far below this. */
const CLOSE = 1e-12;
/** Below this a double has fewer digits, so a relative error says nothing. */
const TINY = 1e-290;

function expectExact(reckoned: number, exact: { readonly above: bigint; readonly below: bigint }): void {
  if (reckoned > TINY) expect(relativeError(reckoned, exact)).toBeLessThan(CLOSE);
  else expect(exact.above * 10n ** 289n).toBeLessThan(exact.below);
}

describe('published figures', () => {
  it.each(published.hypergeometric.rows)(
    '$found of $sample from $lot with $nonconforming: $exact',
    ({ lot, nonconforming, sample, found, exact }) => {
      const [above, below] = exact.split('/').map(BigInt);
      expect(
        relativeError(massBetween(hypergeometric(lot, nonconforming, sample), found, found), { above: above!, below: below! }),
      ).toBeLessThan(1e-14);
    },
  );

  it.each(published.poisson.rows)('at most $count where $mean are expected: $atMost', ({ mean, count, atMost }) => {
    expect(Math.abs(poissonCdf(count, mean) - atMost)).toBeLessThanOrEqual(published.poisson.within);
  });

  it.each(published.samplesWithoutFailure.rows)('$items items without failure show $reliability with $confidence', (row) => {
    expect(binomialCdf(0, row.items, 1 - row.reliability)).toBeLessThanOrEqual(1 - row.confidence);
    expect(binomialCdf(0, row.items - 1, 1 - row.reliability)).toBeGreaterThan(1 - row.confidence);
  });
});

describe('against exact fractions', () => {
  const range = (last: number): fc.Arbitrary<readonly [number, number]> =>
    fc.tuple(fc.nat(last), fc.nat(last)).map(([a, b]) => [Math.min(a, b), Math.max(a, b)]);

  it.each([
    [3150, 0.00025, 1],
    [3150, 0.01, 21],
    [2000, 0.065, 60],
    [1250, 0.5, 560],
    [800, 0.025, 0],
    [20, 0.999, 3],
    [2, 1e-9, 1],
  ])('binomial: n %i, p %f, at most %i', (n, p, k) => {
    const exact = exactBinomial(n, exactly(p), 0, k);
    expectExact(binomialCdf(k, n, p), exact);
    expectExact(massBetween(binomial(n, p), k + 1, n), oneMinus(exact));
  });

  it('binomial, any range of counts', () => {
    const cases = fc
      .integer({ min: 1, max: 120 })
      .chain((n) => fc.tuple(fc.constant(n), fc.double({ min: 0, max: 1, noNaN: true }), range(n)));
    fc.assert(
      fc.property(cases, ([n, p, [from, to]]) => {
        // A subnormal p would make the exact fractions a thousand bits longer and tells nothing more.
        fc.pre(p === 0 || p > 1e-30);
        expectExact(massBetween(binomial(n, p), from, to), exactBinomial(n, exactly(p), from, to));
      }),
      { numRuns: 150 },
    );
  });

  it.each([
    [1e9, 250_000, 3150, 2],
    [1e9, 999_999_000, 3150, 3149],
    [500_000_000, 5_000_000, 1250, 21],
    [3151, 63, 3150, 62],
    [10_000, 150, 200, 7],
    [100, 0, 13, 0],
    [100, 100, 13, 12],
  ])('hypergeometric: lot %i with %i, sample %i, at most %i', (lot, nonconforming, sample, k) => {
    const exact = exactHypergeometric(lot, nonconforming, sample, 0, k);
    expectExact(hypergeometricCdf(k, lot, nonconforming, sample), exact);
    expectExact(massBetween(hypergeometric(lot, nonconforming, sample), k + 1, sample), oneMinus(exact));
  });

  it('hypergeometric, any range of counts', () => {
    const cases = fc
      .integer({ min: 1, max: 400 })
      .chain((lot) => fc.tuple(fc.constant(lot), fc.nat(lot), fc.nat(lot)))
      .chain(([lot, nonconforming, sample]) => fc.tuple(fc.constant([lot, nonconforming, sample] as const), range(sample)));
    fc.assert(
      fc.property(cases, ([[lot, nonconforming, sample], [from, to]]) => {
        const reckoned = massBetween(hypergeometric(lot, nonconforming, sample), from, to);
        expectExact(reckoned, exactHypergeometric(lot, nonconforming, sample, from, to));
      }),
      { numRuns: 300 },
    );
  });

  it('Poisson, any range of counts', () => {
    const cases = fc.tuple(fc.double({ min: 1e-6, max: 400, noNaN: true }), range(500));
    fc.assert(
      fc.property(cases, ([mean, [from, to]]) => {
        expectExact(massBetween(poisson(mean), from, to), exactPoisson(exactly(mean), from, to));
      }),
      { numRuns: 150 },
    );
  });
});

describe('edges', () => {
  it('nothing nonconforming, or everything', () => {
    expect(binomialCdf(0, 50, 0)).toBe(1);
    expect(binomialCdf(49, 50, 1)).toBe(0);
    expect(binomialCdf(50, 50, 1)).toBe(1);
    expect(poissonCdf(0, 0)).toBe(1);
    expect(massBetween(poisson(0), 1, 5)).toBe(0);
    expect(hypergeometricCdf(0, 10, 10, 1)).toBe(0);
    expect(hypergeometricCdf(3, 10, 3, 10)).toBe(1);
    expect(hypergeometricCdf(2, 10, 3, 10)).toBe(0);
  });

  it('a range that is empty or holds all', () => {
    expect(massBetween(binomial(10, 0.3), 4, 3)).toBe(0);
    expect(massBetween(binomial(10, 0.3), -5, -1)).toBe(0);
    expect(massBetween(binomial(10, 0.3), 0, 10)).toBe(1);
    expect(massBetween(poisson(3), 0, Infinity)).toBe(1);
  });

  it('acceptance falls as quality gets worse, without a ripple from rounding', () => {
    let before = 1;
    for (let i = 1; i <= 2000; i++) {
      const now = binomialCdf(7, 200, i / 10_000);
      expect(now).toBeLessThanOrEqual(before);
      before = now;
    }
    expect(before).toBeLessThan(1e-6);
  });
});
