import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { axisOf, roundStep, writtenFigure } from './plot-axis.js';

describe('an axis', () => {
  it('has its ticks at round numbers, written alike', () => {
    const axis = axisOf(0, 1, 100, 0, { about: 5 });
    expect(axis.ticks.map(({ label }) => label)).toEqual(['0.0', '0.2', '0.4', '0.6', '0.8', '1.0']);
    expect(axis.ticks.map(({ at }) => Math.round(at))).toEqual([100, 80, 60, 40, 20, 0]);
    expect(axisOf(171.3, 191.4, 0, 100, { widen: true }).ticks.map(({ label }) => label)).toEqual([
      '170',
      '175',
      '180',
      '185',
      '190',
      '195',
    ]);
    expect(roundStep(0.03, 3)).toBeCloseTo(0.01, 12);
  });

  it('gives room to a single value, and a real minus sign', () => {
    const axis = axisOf(5, 5, 0, 100);
    expect(axis.low).toBeLessThan(5);
    expect(axis.high).toBeGreaterThan(5);
    expect(axisOf(-2, 2, 0, 1, { about: 2 }).ticks.map(({ label }) => label)).toEqual(['−2', '0', '2']);
    expect(writtenFigure(-0.954321, 3)).toBe('−0.954');
  });

  it('finds back every value, and keeps every tick within it', () => {
    const value = fc.double({ min: -1e6, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(value, value, fc.boolean(), (a, b, widen) => {
        fc.pre(Math.abs(a - b) > 1e-3);
        const [low, high] = a < b ? [a, b] : [b, a];
        const axis = axisOf(low, high, 40, 700, { widen });
        expect(axis.valueAt(axis.at(low))).toBeCloseTo(low, 3);
        expect(axis.ticks.length).toBeGreaterThan(1);
        expect(axis.ticks.every(({ at }) => at >= 40 - 1e-6 && at <= 700 + 1e-6)).toBe(true);
      }),
    );
  });
});
