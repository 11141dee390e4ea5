import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { binsOf, histogramDrawing } from './histogram-layout.js';

describe('a histogram', () => {
  it('counts every value once, in bins that follow each other', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.integer({ min: -9000, max: 9000 }).map((whole) => whole / 10),
          { minLength: 1, maxLength: 200 },
        ),
        (values) => {
          const bins = binsOf(values);
          expect(bins.reduce((sum, { count }) => sum + count, 0)).toBe(values.length);
          for (const [i, bin] of bins.entries()) {
            expect(bin.to).toBeGreaterThan(bin.from);
            const next = bins[i + 1];
            if (next) expect(next.from).toBeCloseTo(bin.to, 9);
          }
          expect(bins[0]!.from).toBeLessThanOrEqual(Math.min(...values) + 1e-9);
          expect(bins.at(-1)!.to).toBeGreaterThanOrEqual(Math.max(...values) - 1e-9);
        },
      ),
    );
    expect(binsOf([])).toEqual([]);
  });

  it('keeps the limits in the picture', () => {
    const { x, bars } = histogramDrawing(
      binsOf([1, 2, 2, 3]),
      [0, 10],
      { width: 400, height: 200 },
      { left: 40, right: 10, top: 10, bottom: 30 },
    );
    expect(x.at(0)).toBeGreaterThanOrEqual(40);
    expect(x.at(10)).toBeLessThanOrEqual(390);
    expect(Math.max(...bars.map(({ bin }) => bin.count))).toBe(2);
  });
});
