import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { westernElectricPatterns, type WesternElectricRule } from './western-electric.js';

const points = (values: readonly number[]) => values.map((value) => ({ value, centre: 0, sigma: 1 }));
const found = (values: readonly number[], newRunsAt: readonly number[] = []) =>
  westernElectricPatterns(points(values), { newRunsAt }).map(({ rule, at, from, side }) => `${rule} ${from}-${at} ${side}`);

describe('the four rules', () => {
  test.each([
    ['exactly on a limit is not beyond it', [3, -3], []],
    ['just beyond', [3.001, 0, -3.001], ['1 0-0 above', '1 2-2 below']],
    ['two of three beyond 2 sigma', [2.5, 0, 2.5], ['2 0-2 above']],
    ['two in a row at the start: no later point could undo it', [2.5, 2.5], ['2 0-1 above']],
    ['two of four are not two of three', [2.5, 0, 0, 2.5], []],
    ['on both sides is not on one', [2.5, -2.5, 2.5, -2.5].slice(0, 2), []],
    ['one side at a time', [2.5, -2.5, 2.5], ['2 0-2 above']],
    ['exactly 2 sigma is not beyond it', [2, 2, 2], []],
    ['the point that completes must lie in the zone itself', [2.5, 2.5, 0.5], ['2 0-1 above']],
    ['four of five beyond 1 sigma', [1.5, 1.5, -0.5, 1.5, 1.5], ['3 0-4 above']],
    ['three of five are not', [1.5, 1.5, -0.5, -0.5, 1.5], []],
    ['exactly 1 sigma is not beyond it', [1, 1, 1, 1, 1], []],
    ['eight on one side, and every one after', Array.from({ length: 9 }, () => -0.5), ['4 0-7 below', '4 1-8 below']],
    ['seven are not', [-0.5, -0.5, -0.5, -0.5, -0.5, -0.5, -0.5, 0.5], []],
    ['on the centre line breaks a run', [0.5, 0.5, 0.5, 0.5, 0, 0.5, 0.5, 0.5, 0.5], []],
  ])('%s', (_case, values, expected) => expect(found(values)).toEqual(expected));

  test('a run is not carried over a recorded change', () => {
    const nine = Array.from({ length: 9 }, () => 0.5);
    expect(found(nine, [5])).toEqual([]);
    expect(found([...nine, ...nine].slice(0, 13), [5])).toEqual(['4 5-12 above']);
    expect(found([2.5, 2.5], [1])).toEqual([]);
    expect(found([4, 4], [1])).toEqual(['1 0-0 above', '1 1-1 above']);
  });

  test('only the rules asked for', () => {
    const some = westernElectricPatterns(points([4, 4, 4]), { rules: [1] });
    expect(new Set(some.map(({ rule }) => rule))).toEqual(new Set([1]));
  });

  test('a limit worked out in floating point is still a limit', () => {
    const third = 0.1 + 0.2; // 0.300 000 000 000 000 04
    expect(westernElectricPatterns([{ value: third, centre: 0, sigma: 0.1 }])).toEqual([]);
    expect(westernElectricPatterns([{ value: 5, centre: 5, sigma: 0 }])).toEqual([]);
    expect(westernElectricPatterns([{ value: 5.000001, centre: 5, sigma: 0 }]).map(({ rule }) => rule)).toEqual([1]);
  });
});

/** The rules said over again as plainly as can be: look at every window that ends here. */
function plainly(z: readonly number[]): string[] {
  const rules: readonly (readonly [WesternElectricRule, number, number, number])[] = [
    [1, 3, 1, 1],
    [2, 2, 2, 3],
    [3, 1, 4, 5],
    [4, 0, 8, 8],
  ];
  return z.flatMap((here, at) =>
    rules.flatMap(([rule, sigmas, needed, window]) =>
      [1, -1].flatMap((sign) => {
        const last = z.slice(Math.max(0, at - window + 1), at + 1).filter((one) => one * sign > sigmas);
        return here * sign > sigmas && last.length >= needed ? [`${rule} ${at} ${sign}`] : [];
      }),
    ),
  );
}

const halves = fc.array(
  fc.integer({ min: -7, max: 7 }).map((n) => n / 2),
  { maxLength: 40 },
);

test('agrees with the rules said plainly, on any sequence', () => {
  fc.assert(
    fc.property(halves, (z) => {
      const ours = westernElectricPatterns(points(z)).map(({ rule, at, side }) => `${rule} ${at} ${side === 'above' ? 1 : -1}`);
      expect(ours).toEqual(plainly(z));
    }),
  );
});

test('scale and place of the chart change nothing; upside down only the side changes', () => {
  fc.assert(
    fc.property(halves, fc.integer({ min: -1000, max: 1000 }), fc.integer({ min: 1, max: 1000 }), (z, centre, sigma) => {
      const plain = westernElectricPatterns(points(z));
      expect(westernElectricPatterns(z.map((one) => ({ value: centre + one * sigma, centre, sigma })))).toEqual(plain);
      const turned = westernElectricPatterns(points(z.map((one) => -one)));
      const turn = ({ side, ...pattern }: (typeof plain)[number]) => ({ ...pattern, side: side === 'above' ? 'below' : 'above' });
      expect(turned.map((pattern) => `${pattern.rule} ${pattern.at} ${pattern.side}`)).toEqual(
        plain.map(turn).map((pattern) => `${pattern.rule} ${pattern.at} ${pattern.side}`),
      );
    }),
  );
});
