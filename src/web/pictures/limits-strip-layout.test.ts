import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { limitsStrip } from './limits-strip-layout.js';

describe('the strip of limits', () => {
  it('has everything within it, in order, and no label over another', () => {
    const number = fc.integer({ min: -500_000, max: 500_000 }).map((whole) => whole / 1000);
    fc.assert(
      fc.property(fc.array(number, { minLength: 3, maxLength: 9 }), fc.integer({ min: 120, max: 900 }), (values, width) => {
        const [lower = 0, target = 0, upper = 0] = values.slice(0, 3).toSorted((a, b) => a - b);
        const readings = values.slice(3);
        const strip = limitsStrip({ lower, target, upper, readings, result: readings[0] ?? null }, width);
        for (const x of [...strip.lines.map((line) => line.x), ...strip.readings]) {
          expect(x).toBeGreaterThanOrEqual(0);
          expect(x).toBeLessThanOrEqual(width);
        }
        const row = new Map<number, number>();
        for (const { x, label, anchor, row: at } of strip.lines) {
          const wide = label.length * 7.2;
          const left = anchor === 'start' ? x : anchor === 'end' ? x - wide : x - wide / 2;
          expect(left).toBeGreaterThan(row.get(at) ?? -1e9);
          row.set(at, left + wide);
        }
      }),
    );
  });

  it('reaches to its end where a limit is missing', () => {
    const strip = limitsStrip({ lower: null, target: null, upper: 2, readings: [0.47], result: 0.47 }, 400);
    expect(strip.within.x).toBe(0);
    expect(strip.lines).toHaveLength(1);
    expect(strip.within.width).toBeCloseTo(strip.lines[0]!.x, 9);
  });
});
