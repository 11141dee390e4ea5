import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { MICRO, QuantityFault, formatQuantity, massMicro, mulDivMicro, parseQuantity, sumMicro } from './quantity.js';

const safe = fc.maxSafeInteger();

test.each([
  ['12.5', 12_500_000],
  ['2400', 2_400_000_000],
  ['0.000001', 1],
  ['-0.000001', -1],
  ['+3', 3_000_000],
  ['007.50', 7_500_000],
  ['9007199254.740991', Number.MAX_SAFE_INTEGER],
  ['-9007199254.740991', Number.MIN_SAFE_INTEGER],
])('reads %s', (text, micro) => expect(parseQuantity(text)).toBe(micro));

test('there is one zero, without a sign', () => {
  expect(Object.is(parseQuantity('-0.000'), 0)).toBe(true);
  expect(formatQuantity(-0)).toBe('0');
});

test.each([
  ['', 'not a decimal number'],
  ['1,5', 'decimals follow a point'],
  ['1e3', 'not a decimal number'],
  ['.5', 'not a decimal number'],
  ['5.', 'not a decimal number'],
  [' 5', 'not a decimal number'],
  ['0x10', 'not a decimal number'],
  ['Infinity', 'not a decimal number'],
  ['٣', 'not a decimal number'],
  ['1.0000000', 'more than 6 decimals'],
  ['9007199254.740992', 'larger than can be kept exactly'],
  ['99999999999999999999', 'larger than can be kept exactly'],
])('refuses %j', (text, why) => {
  expect(() => parseQuantity(text)).toThrow(QuantityFault);
  expect(() => parseQuantity(text)).toThrow(why);
});

test('ten million digits are refused at once', () => {
  const started = performance.now();
  expect(() => parseQuantity('9'.repeat(10_000_000))).toThrow('larger than can be kept exactly');
  expect(performance.now() - started).toBeLessThan(2000);
});

test('what is written is read back, for every safe integer', () => {
  fc.assert(
    fc.property(safe, (micro) => {
      expect(parseQuantity(formatQuantity(micro))).toBe(micro);
    }),
    { numRuns: 2000 },
  );
});

test.each([
  [9_007_199_254_740_991, '9007199254.740991'],
  [8_999_999_999_999_999, '8999999999.999999'],
  [12_500_000, '12.5'],
  [-1, '-0.000001'],
  [2_400_000_000, '2400'],
])('writes %d', (micro, text) => expect(formatQuantity(micro)).toBe(text));

test('numbers that are no whole millionths are not written', () => {
  expect(() => formatQuantity(0.5)).toThrow(QuantityFault);
  expect(() => formatQuantity(2 ** 53)).toThrow(QuantityFault);
  expect(() => sumMicro([1, NaN])).toThrow(QuantityFault);
});

describe('mulDivMicro', () => {
  test.each([
    [1, 1, 2, 0],
    [3, 1, 2, 2],
    [5, 1, 2, 2],
    [7, 1, 2, 4],
    [-1, 1, 2, 0],
    [-3, 1, 2, -2],
    [5, -1, 2, -2],
    [7, 1, -2, -4],
    [1, 1, 3, 0],
    [2, 1, 3, 1],
    [Number.MAX_SAFE_INTEGER, Number.MAX_SAFE_INTEGER, Number.MAX_SAFE_INTEGER, Number.MAX_SAFE_INTEGER],
  ])('%d · %d / %d = %d', (a, b, c, result) => expect(Object.is(mulDivMicro(a, b, c), result)).toBe(true));

  test('is within half of the exact quotient, and even when just half way', () => {
    fc.assert(
      fc.property(safe, fc.integer({ min: -2000, max: 2000 }), fc.integer({ min: 2000, max: 100_000 }), (a, b, c) => {
        const result = BigInt(mulDivMicro(a, b, c));
        const twiceError = (BigInt(a) * BigInt(b) - result * BigInt(c)) * 2n;
        const size = twiceError < 0n ? -twiceError : twiceError;
        expect(size < BigInt(c) || (size === BigInt(c) && result % 2n === 0n)).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });

  test('refuses what has no exact answer', () => {
    expect(() => mulDivMicro(1, 1, 0)).toThrow(QuantityFault);
    expect(() => mulDivMicro(Number.MAX_SAFE_INTEGER, 2, 1)).toThrow(QuantityFault);
    expect(() => mulDivMicro(0.5, 2, 1)).toThrow(QuantityFault);
  });
});

test('a sum does not depend on the order, even where partial sums leave the safe range', () => {
  const terms = [Number.MAX_SAFE_INTEGER, 5, -Number.MAX_SAFE_INTEGER];
  expect(sumMicro(terms)).toBe(5);
  expect(sumMicro([Number.MAX_SAFE_INTEGER, Number.MAX_SAFE_INTEGER, -Number.MAX_SAFE_INTEGER, -Number.MAX_SAFE_INTEGER])).toBe(0);
  expect(() => sumMicro([Number.MAX_SAFE_INTEGER, 1])).toThrow(QuantityFault);
});

test.each([
  ['kilograms are mass', 12_500_000, 'kg', null, 12_500_000],
  ['litres by density', 10 * MICRO, 'L', 812_345, 8_123_450],
  ['litres of unknown density', 10 * MICRO, 'L', null, null],
  ['metres', 10 * MICRO, 'm', 812_345, null],
  ['pieces', 10 * MICRO, 'each', null, null],
])('mass: %s', (_case, quantity, unit, density, mass) => expect(massMicro(quantity, unit, density)).toBe(mass));
