import { describe, expect, it } from 'vitest';
import { lastAtLeast, lastWholeAtLeast, peakOf } from './search.js';

describe('the last place at which a falling function is at least so high', () => {
  it('is found to the last digit', () => {
    const x = lastAtLeast((p) => 1 - p * p, 0.5, 0, 1)!;
    expect(Math.abs(x - Math.SQRT1_2)).toBeLessThan(2e-16);
    expect(lastAtLeast((p) => Math.exp(-p * 1e12), 0.5, 0, 1)! * 1e12).toBeCloseTo(Math.LN2, 12);
  });

  it('is nowhere, or at the far end', () => {
    expect(lastAtLeast((x) => -x, 1, 0, 5)).toBeNull();
    expect(lastAtLeast((x) => -x, -9, 0, 5)).toBe(5);
    expect(lastWholeAtLeast((x) => -x, 1, 0, 5)).toBeNull();
    expect(lastWholeAtLeast((x) => -x, -9, 0, 5)).toBe(5);
  });

  it('is a whole number where only whole ones are asked', () => {
    for (let target = 1; target <= 1000; target++) {
      expect(lastWholeAtLeast((x) => -x * x, -target, 0, 1000)).toBe(Math.floor(Math.sqrt(target)));
    }
    expect(lastWholeAtLeast((x) => -x, -123_456_789.5, 0, 1e9)).toBe(123_456_789);
  });
});

describe('the peak of a function', () => {
  it('is found with its height', () => {
    const { at, value } = peakOf((x) => x * Math.exp(-x / 3), 0, 40);
    expect(at).toBeCloseTo(3, 6);
    expect(value).toBeCloseTo(3 / Math.E, 14);
  });

  it('is the higher of two hills', () => {
    const hills = (x: number): number => Math.exp(-((x - 2) ** 2)) + 1.1 * Math.exp(-((x - 8) ** 2));
    expect(peakOf(hills, 0, 10).at).toBeCloseTo(8, 6);
  });

  it('may be at an end, or everywhere', () => {
    expect(peakOf((x) => x, 0, 10)).toEqual({ at: 10, value: 10 });
    expect(peakOf((x) => 5 - x, 0, 10)).toEqual({ at: 0, value: 5 });
    expect(peakOf(() => 1, 0, 10).value).toBe(1);
    expect(peakOf((x) => x, 3, 3)).toEqual({ at: 3, value: 3 });
  });

  it('is a whole number where only whole ones are asked', () => {
    for (const top of [0, 1, 7, 100, 4999, 5000]) expect(peakOf((x) => 1 - (x - top) ** 2, 0, 5000, true)).toEqual({ at: top, value: 1 });
    expect(peakOf((x) => -Math.abs(x - 123_456_789), 0, 1e9, true).at).toBe(123_456_789);
  });

  it('is the highest whole number of a steep and lopsided hill too', () => {
    for (let high = 1; high < 1500; high += 13) {
      const hill = (x: number): number => -Math.abs(x - high * 0.618) * (x < high * 0.618 ? 4 : 0.3);
      const all = Array.from({ length: high + 1 }, (_, x) => hill(x));
      expect(peakOf(hill, 0, high, true).value).toBe(Math.max(...all));
    }
  });
});
