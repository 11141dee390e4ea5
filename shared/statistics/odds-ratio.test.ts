import { readFileSync } from 'node:fs';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fisherGreater, type TwoByTwo } from './fisher-exact.js';
import { oddsRatio } from './odds-ratio.js';

interface Row {
  readonly name: string;
  readonly table: readonly [readonly [number, number], readonly [number, number]];
  readonly estimate?: number | null;
  readonly interval?: readonly [number, number | null];
  readonly lowerOneSided?: number;
  readonly published?: {
    readonly estimate?: number;
    readonly lowerOneSided?: number;
    readonly interval?: readonly [number, number];
  };
}
const { rows } = JSON.parse(readFileSync('fixtures/standards/fisher-exact.json', 'utf8')) as { readonly rows: readonly Row[] };

const tableOf = ([[a, b], [c, d]]: Row['table']): TwoByTwo => ({
  exposedFailed: a,
  exposedSound: b,
  unexposedFailed: c,
  unexposedSound: d,
});

function expectNear(reckoned: number, wanted: number | null | undefined, relative: number): void {
  if (wanted === null || wanted === undefined) expect(reckoned).toBe(Infinity);
  else if (wanted === 0) expect(reckoned).toBe(0);
  else expect(Math.abs(reckoned / wanted - 1)).toBeLessThan(relative);
}

describe('odds ratio, conditional', () => {
  it.each(rows.filter((row) => row.interval !== undefined))('$name: as sixty digits say', (row) => {
    const both = oddsRatio(tableOf(row.table), 0.95);
    expectNear(both.estimate, row.estimate, 1e-9);
    expectNear(both.lower, row.interval![0], 1e-9);
    expectNear(both.upper, row.interval![1], 1e-9);
    const below = oddsRatio(tableOf(row.table), 0.95, 'lower');
    expectNear(below.lower, row.lowerOneSided, 1e-9);
    expect(below.upper).toBe(Infinity);
  });

  it.each(rows.filter((row) => row.published?.interval !== undefined))('$name: as published, within what its root finder leaves', (row) => {
    const { estimate, interval, lowerOneSided } = row.published!;
    const both = oddsRatio(tableOf(row.table), 0.95);
    expectNear(both.estimate, estimate, 2e-6);
    expectNear(both.lower, interval![0], 3e-3);
    expectNear(both.upper, interval![1], 1e-2);
    if (lowerOneSided !== undefined) expectNear(oddsRatio(tableOf(row.table), 0.95, 'lower').lower, lowerOneSided, 2e-5);
  });

  const cell = fc.nat(200);
  const tables = fc.tuple(cell, cell, cell, fc.integer({ min: 1, max: 5000 })).map(([a, b, c, d]) =>
    tableOf([
      [a, b],
      [c, d],
    ]),
  );

  it('leaves 1 below its lower end exactly when the test rejects', () => {
    fc.assert(
      fc.property(tables, fc.double({ min: 0.5, max: 0.999, noNaN: true }), (table, confidence) => {
        const { p } = fisherGreater(table);
        if (Math.abs(p - (1 - confidence)) < 1e-9) return;
        expect(oddsRatio(table, confidence, 'lower').lower > 1).toBe(p < 1 - confidence);
      }),
      { numRuns: 300 },
    );
  });

  it('holds its estimate, widens with the confidence, and turns over with the table', () => {
    fc.assert(
      fc.property(tables, (table) => {
        const at95 = oddsRatio(table, 0.95);
        const at99 = oddsRatio(table, 0.99);
        if (!Number.isNaN(at95.estimate)) expect(at95.lower <= at95.estimate && at95.estimate <= at95.upper).toBe(true);
        expect(at99.lower <= at95.lower && at99.upper >= at95.upper).toBe(true);
        const turned = oddsRatio(
          tableOf([
            [table.unexposedFailed, table.unexposedSound],
            [table.exposedFailed, table.exposedSound],
          ]),
          0.95,
        );
        if (at95.lower === 0) expect(turned.upper).toBe(Infinity);
        else expectNear(1 / turned.upper, at95.lower, 1e-9);
      }),
      { numRuns: 200 },
    );
  });

  it('says so where the margins leave nothing to estimate', () => {
    const all = oddsRatio(
      tableOf([
        [3, 7],
        [0, 0],
      ]),
      0.95,
    );
    expect(all).toEqual({ sample: NaN, estimate: NaN, lower: 0, upper: Infinity });
    expect(() =>
      oddsRatio(
        tableOf([
          [1, 1],
          [1, 1],
        ]),
        1,
      ),
    ).toThrow(RangeError);
  });
});
