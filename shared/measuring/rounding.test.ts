import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { rootMicro, roundMicro, roundReal } from './rounding.js';

describe('rounding', () => {
  test.each([
    ['12.25', 12_250_000n, 1, 12_200_000, 12_300_000],
    ['12.35', 12_350_000n, 1, 12_400_000, 12_400_000],
    ['12.251', 12_251_000n, 1, 12_300_000, 12_300_000],
    ['12.249999', 12_249_999n, 1, 12_200_000, 12_200_000],
    ['-12.25', -12_250_000n, 1, -12_200_000, -12_300_000],
    ['0.5', 500_000n, 0, 0, 1_000_000],
    ['-0.5', -500_000n, 0, 0, -1_000_000],
    ['1.5', 1_500_000n, 0, 2_000_000, 2_000_000],
    ['kept whole', 12_250_001n, 6, 12_250_001, 12_250_001],
  ])('%s', (_case, micro, decimals, even, up) => {
    expect(roundMicro(micro, 1n, { decimals, rule: 'half-even' }) + 0).toBe(even);
    expect(roundMicro(micro, 1n, { decimals, rule: 'half-up' })).toBe(up);
  });

  test('happens once: 2.4445 to two decimals is 2.44, though 2.445 would be 2.45', () => {
    expect(roundMicro(2_444_500n, 1n, { decimals: 2, rule: 'half-up' })).toBe(2_440_000);
    expect(roundMicro(7_333_500n, 3n, { decimals: 2, rule: 'half-up' })).toBe(2_440_000);
  });

  test('is never further than half a step, and exact values stay', () => {
    const decimalsAndRule = { decimals: fc.integer({ min: 0, max: 6 }), rule: fc.constantFrom('half-even' as const, 'half-up' as const) };
    fc.assert(
      fc.property(
        fc.bigInt(-(10n ** 12n), 10n ** 12n),
        fc.bigInt(1n, 1000n),
        fc.record(decimalsAndRule),
        (numerator, denominator, rounding) => {
          const step = 10n ** BigInt(6 - rounding.decimals);
          const rounded = BigInt(roundMicro(numerator, denominator, rounding));
          const off = rounded * denominator - numerator;
          expect((off < 0n ? -off : off) * 2n <= step * denominator).toBe(true);
          expect(rounded % step).toBe(0n);
          expect(roundMicro(rounded, 1n, rounding) + 0).toBe(Number(rounded) + 0);
          expect(roundMicro(-numerator, denominator, rounding) + 0).toBe(0 - Number(rounded));
        },
      ),
    );
  });

  test.each([-1, 7, 1.5, Number.NaN])('refused: %s decimals', (decimals) => {
    expect(() => roundMicro(1n, 1n, { decimals, rule: 'half-even' })).toThrow(RangeError);
  });

  test('refused: nothing to divide by, and more than can be kept', () => {
    expect(() => roundMicro(1n, 0n, { decimals: 0, rule: 'half-even' })).toThrow(RangeError);
    expect(() => roundMicro(10n ** 16n, 1n, { decimals: 6, rule: 'half-even' })).toThrow('larger');
  });
});

describe('a number from a formula', () => {
  test.each([
    [1.005, 2, 1_000_000, 'a little less than half a step as it is held'],
    [2.675, 2, 2_670_000, 'a little less than half a step as it is held'],
    [0.125, 2, 120_000, 'exactly half a step'],
    [0.375, 2, 380_000, 'exactly half a step'],
    [-1.5, 0, -2_000_000, 'negative'],
    [5e-324, 6, 0, 'the smallest there is'],
    [1, 3, 1_000_000, 'whole'],
  ])('%s to %s decimals: %s (%s)', (value, decimals, micro) => {
    expect(roundReal(value, { decimals, rule: 'half-even' })).toBe(micro);
  });

  test.each([Number.NaN, Number.POSITIVE_INFINITY])('refused: %s', (value) => {
    expect(() => roundReal(value, { decimals: 2, rule: 'half-even' })).toThrow(RangeError);
  });
});

test('a root is the nearest whole millionth', () => {
  fc.assert(
    fc.property(fc.bigInt(0n, 10n ** 24n), fc.bigInt(1n, 10n ** 6n), (numerator, denominator) => {
      const root = BigInt(rootMicro(numerator, denominator));
      const squareOfTwice = (twice: bigint) => (twice < 0n ? 0n : twice * twice * denominator);
      expect(squareOfTwice(2n * root - 1n) <= 4n * numerator).toBe(true);
      expect(squareOfTwice(2n * root + 1n) > 4n * numerator).toBe(true);
    }),
  );
  expect(() => rootMicro(-1n, 1n)).toThrow(RangeError);
});
