import { readFileSync } from 'node:fs';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { holmAdjusted } from './holm.js';

const { holm } = JSON.parse(readFileSync('fixtures/standards/fisher-exact.json', 'utf8')) as {
  readonly holm: readonly { readonly p: readonly number[]; readonly adjusted: readonly number[] }[];
};
const probabilities = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 30 });

/** Holm's procedure as he states it: step down until one is not rejected. */
function rejected(p: readonly number[], risk: number): boolean[] {
  const answer = p.map(() => false);
  for (const [done, at] of [...p.keys()].toSorted((a, b) => p[a]! - p[b]!).entries()) {
    if ((p.length - done) * p[at]! > risk) break;
    answer[at] = true;
  }
  return answer;
}

describe('Holm', () => {
  it.each(holm)('$p', ({ p, adjusted }) => {
    for (const [at, value] of holmAdjusted(p).entries()) expect(value).toBeCloseTo(adjusted[at]!, 12);
  });

  it('rejects what the step-down procedure rejects, at any risk', () => {
    fc.assert(
      fc.property(probabilities, fc.double({ min: 0.001, max: 0.999, noNaN: true }), (p, risk) => {
        expect(holmAdjusted(p).map((one) => one <= risk)).toEqual(rejected(p, risk));
      }),
    );
  });

  it('keeps the order, makes none smaller and none greater than 1', () => {
    fc.assert(
      fc.property(probabilities, (p) => {
        const adjusted = holmAdjusted(p);
        for (const [i, one] of p.entries()) {
          expect(adjusted[i]).toBeGreaterThanOrEqual(one);
          expect(adjusted[i]).toBeLessThanOrEqual(1);
          for (const [j, other] of p.entries()) if (one <= other) expect(adjusted[i]).toBeLessThanOrEqual(adjusted[j]!);
        }
      }),
    );
  });

  it('leaves one alone, and none', () => {
    expect(holmAdjusted([0.03])).toEqual([0.03]);
    expect(holmAdjusted([])).toEqual([]);
    for (const wrong of [-0.1, 1.1, Number.NaN]) expect(() => holmAdjusted([wrong])).toThrow(RangeError);
  });
});
