import { describe, expect, test } from 'vitest';
import published from '../../fixtures/standards/control-chart-constants.json' with { type: 'json' };
import { controlFactors } from './control-chart-constants.js';

test('subgroups of 2 to 25 are tabled', () =>
  expect(published.rows.map(({ n }) => n)).toEqual(Array.from({ length: 24 }, (_, i) => i + 2)));

describe('against the published factors', () => {
  test.each(published.rows)('n = $n', ({ n, ...factors }) => {
    const ours = controlFactors(n);
    for (const [name, value] of Object.entries(factors)) {
      expect(Math.abs(ours[name as keyof typeof ours] - value), name).toBeLessThanOrEqual(published.tolerance);
    }
  });

  test.each(published.lastDigitDifferences)('the printed last digit: $factor of $n is $published', ({ n, factor, published: printed }) => {
    expect(Number(controlFactors(n)[factor as 'D4'].toFixed(3))).toBe(printed);
  });
});

/** Φ on an even grid, by adding up the density: the trapezoid rule is as good as exact for it. */
const STEP = 0.02;
const GRID = Array.from({ length: 851 }, (_, i) => (i - 425) * STEP);
const PHI = GRID.map(() => 0);
let below = 0;
GRID.forEach((x, i) => {
  const density = (at: number) => Math.exp((-at * at) / 2) / Math.sqrt(2 * Math.PI);
  // Simpson between the grid points.
  if (i > 0) below += (STEP / 6) * (density(x - STEP) + 4 * density(x - STEP / 2) + density(x));
  PHI[i] = below;
});

test.each([2, 3, 5, 10, 25])('n = %i: d2 and d3 as the range of a normal sample is defined', (n) => {
  // E(R) = ∫ 1 − (1 − Φ)ⁿ − Φⁿ; E(R²) = 2 ∬ over x < y of 1 − Φ(y)ⁿ − (1 − Φ(x))ⁿ + (Φ(y) − Φ(x))ⁿ.
  const mean = PHI.reduce((sum, F) => sum + (1 - (1 - F) ** n - F ** n) * STEP, 0);
  let square = 0;
  PHI.forEach((F, i) => {
    for (let j = i; j < PHI.length; j += 1) {
      const G = PHI[j] ?? 1;
      square += (1 - G ** n - (1 - F) ** n + (G - F) ** n) * (i === j ? 1 : 2) * STEP * STEP;
    }
  });
  const { d2, d3 } = controlFactors(n);
  expect(Math.abs(d2 - mean)).toBeLessThan(0.00051);
  expect(Math.abs(d3 - Math.sqrt(square - mean ** 2))).toBeLessThan(0.0001);
});

test.each([1, 26, 2.5, Number.NaN])('refused: subgroups of %s', (n) => expect(() => controlFactors(n)).toThrow(RangeError));
