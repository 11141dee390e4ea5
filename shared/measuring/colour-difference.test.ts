import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import published from '../../fixtures/standards/ciede2000.json' with { type: 'json' };
import { colourDifference, type Lab } from './colour-difference.js';
import { computeResult } from './compute-result.js';

const lab = ([l = Number.NaN, a = Number.NaN, b = Number.NaN]: readonly number[]): Lab => ({ l, a, b });

test('all 34 published pairs are here', () => expect(published.pairs).toHaveLength(34));

test.each(published.pairs)('pair $pair, both ways: $dE00', ({ lab1, lab2, dE00 }) => {
  expect(Math.abs(colourDifference(lab(lab1), lab(lab2)) - dE00)).toBeLessThan(published.tolerance);
  expect(Math.abs(colourDifference(lab(lab2), lab(lab1)) - dE00)).toBeLessThan(published.tolerance);
});

const colour = fc.record({
  l: fc.integer({ min: 0, max: 1000 }).map((n) => n / 10),
  a: fc.integer({ min: -1000, max: 1000 }).map((n) => n / 10),
  b: fc.integer({ min: -1000, max: 1000 }).map((n) => n / 10),
});

test('the same both ways, never negative, and nothing between like colours', () => {
  fc.assert(
    fc.property(colour, colour, (one, other) => {
      expect(colourDifference(one, other)).toBe(colourDifference(other, one));
      expect(colourDifference(one, other)).toBeGreaterThanOrEqual(0);
      expect(colourDifference(one, one)).toBe(0);
    }),
  );
});

const micro = (value: number) => Math.round(value * 1e6);
const standard = { lMicro: micro(50), aMicro: micro(2.5), bMicro: 0 };
const read = (l: number, a: number, b: number) => ({ l: micro(l), a: micro(a), b: micro(b) });

test('several readings of the sample are averaged before they are compared (pair 24)', () => {
  const rows = [read(49, 3.2, 0.3), read(51, 3.3184, 0.37)];
  const result = computeResult({ kind: 'colour-difference', standard }, rows, { rounding: { decimals: 4, rule: 'half-even' } });
  expect(result.valueMicro).toBe(1_000_000);
  expect(Object.fromEntries(result.figures.map(({ name, value }) => [name, value]))).toMatchObject({
    'sample-l': '50',
    'sample-a': '3.2592',
    'sample-b': '0.335',
    'delta-l': '0',
    'delta-a': '0.7592',
    'delta-b': '0.335',
  });
});

test.each([
  [[], ''],
  [[read(-1, 0, 0)], '/0/l'],
  [[read(50, 0, 0), read(50, 400, 0)], '/1/a'],
])('refused: %j', (rows, at) => {
  const asked = () => computeResult({ kind: 'colour-difference', standard }, rows, { rounding: { decimals: 2, rule: 'half-even' } });
  expect(asked).toThrow(expect.objectContaining({ at }));
});
