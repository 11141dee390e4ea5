import { describe, expect, it } from 'vitest';
import { paretoPoints } from './pareto-points.js';

describe('a Pareto picture', () => {
  it('goes from the largest down, and its cumulative share ends at everything', () => {
    const points = paretoPoints(
      [
        { code: 'B', value: 3 },
        { code: 'A', value: 6 },
        { code: 'C', value: 1 },
      ],
      10,
    );
    expect(points.map(({ code, cumulative, vital }) => [code, cumulative, vital])).toEqual([
      ['A', 0.6, true],
      ['B', 0.9, true],
      ['C', 1, false],
    ]);
  });

  it('sums what does not fit, and loses nothing', () => {
    const bars = Array.from({ length: 30 }, (_, i) => ({ code: `D-${i}`, value: 30 - i }));
    const points = paretoPoints(bars, 12);
    expect(points.length).toBe(12);
    expect(points.at(-1)).toMatchObject({ code: '19 others', of: 19, cumulative: 1, vital: false });
    expect(points.reduce((sum, { value }) => sum + value, 0)).toBe(465);
  });

  it('leaves out what is nothing or less', () => {
    expect(
      paretoPoints(
        [
          { code: 'A', value: -5 },
          { code: 'B', value: 0 },
        ],
        5,
      ),
    ).toEqual([]);
  });
});
