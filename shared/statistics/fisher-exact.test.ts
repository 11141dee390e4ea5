import { readFileSync } from 'node:fs';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { choose, toNumber } from '../../test/exact.js';
import { fisherGreater, type TwoByTwo } from './fisher-exact.js';

interface Row {
  readonly name: string;
  readonly table: readonly [readonly [number, number], readonly [number, number]];
  readonly greater: string;
  readonly logGreater: number;
  readonly published?: { readonly greater?: number };
}
const { rows } = JSON.parse(readFileSync('fixtures/standards/fisher-exact.json', 'utf8')) as { readonly rows: readonly Row[] };

const tableOf = ([[a, b], [c, d]]: Row['table']): TwoByTwo => ({
  exposedFailed: a,
  exposedSound: b,
  unexposedFailed: c,
  unexposedSound: d,
});

/** By binomial coefficients in whole numbers. */
function exactly({ exposedFailed: a, exposedSound: b, unexposedFailed: c, unexposedSound: d }: TwoByTwo): number {
  let above = 0n;
  for (let k = a; k <= Math.min(a + b, a + c); k++) above += choose(a + b, k) * choose(c + d, a + c - k);
  return toNumber({ above, below: choose(a + b + c + d, a + c) });
}

describe("Fisher's exact test, one-sided", () => {
  it.each(rows)('$name', ({ table, greater, logGreater, published }) => {
    const { p, logP } = fisherGreater(tableOf(table));
    expect(Math.abs(logP - logGreater)).toBeLessThan(1e-11 * Math.max(1, Math.abs(logGreater)));
    const exact = Number(greater);
    if (exact > 1e-305) expect(Math.abs(p / exact - 1)).toBeLessThan(1e-11);
    if (published?.greater !== undefined) expect(p.toFixed(4)).toBe(published.greater.toFixed(4));
  });

  it('tells apart what is too small for a number', () => {
    const [some, more] = [500, 600].map((n) =>
      fisherGreater({ exposedFailed: n, exposedSound: 0, unexposedFailed: 0, unexposedSound: 49_000 }),
    );
    expect([some!.p, more!.p]).toEqual([0, 0]);
    expect(more!.logP).toBeLessThan(some!.logP);
    expect(Number.isFinite(more!.logP)).toBe(true);
  });

  it('is as whole-number arithmetic says, on any small table', () => {
    const cell = fc.nat(40);
    fc.assert(
      fc.property(cell, cell, cell, fc.integer({ min: 1, max: 60 }), (exposedFailed, exposedSound, unexposedFailed, unexposedSound) => {
        const table = { exposedFailed, exposedSound, unexposedFailed, unexposedSound };
        expect(Math.abs(fisherGreater(table).p / exactly(table) - 1)).toBeLessThan(1e-12);
      }),
      { numRuns: 500 },
    );
  });

  it('is 1 when nothing exposed failed, when all are exposed, and when none are', () => {
    for (const [exposedFailed, exposedSound, unexposedFailed, unexposedSound] of [
      [0, 10, 5, 90],
      [5, 95, 0, 0],
      [0, 0, 5, 95],
    ] as const) {
      expect(fisherGreater({ exposedFailed, exposedSound, unexposedFailed, unexposedSound })).toEqual({ p: 1, logP: 0 });
    }
  });

  it('refuses what are no counts', () => {
    const none = { exposedFailed: 0, exposedSound: 0, unexposedFailed: 0, unexposedSound: 0 };
    for (const table of [none, { ...none, exposedSound: -1 }, { ...none, unexposedSound: 1.5 }, { ...none, exposedFailed: Number.NaN }])
      expect(() => fisherGreater(table)).toThrow(RangeError);
  });
});
