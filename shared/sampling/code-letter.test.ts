import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CODE_LETTERS, codeLetter, isLotSize, LARGEST_LOT, LEVELS } from './code-letter.js';

const lotSizes = fc.oneof(
  fc.integer({ min: 1, max: 600_000 }),
  fc.maxSafeInteger().filter((size) => size > 0),
);
const placeOf = (lotSize: number, level: (typeof LEVELS)[number]): number => CODE_LETTERS.indexOf(codeLetter(lotSize, level));

describe('code letters', () => {
  it('III stands one ahead of II', () => {
    fc.assert(fc.property(lotSizes, (size) => placeOf(size, 'III') === placeOf(size, 'II') + 1));
  });

  it('rise with the level', () => {
    fc.assert(
      fc.property(lotSizes, fc.integer({ min: 1, max: LEVELS.length - 1 }), (size, level) => {
        expect(placeOf(size, LEVELS[level]!)).toBeGreaterThanOrEqual(placeOf(size, LEVELS[level - 1]!));
      }),
    );
  });

  it('rise with the lot, one letter at a time', () => {
    const steps = new Set<number>();
    for (const level of LEVELS) {
      for (let size = 2; size < 40_000; size += 1) steps.add(placeOf(size + 1, level) - placeOf(size, level));
    }
    expect(steps).toEqual(new Set([0, 1]));
  });

  it('are given to a lot of one and to the largest lot', () => {
    expect(LEVELS.map((level) => codeLetter(1, level)).join('')).toBe('AAAAAAB');
    expect(LEVELS.map((level) => codeLetter(LARGEST_LOT, level)).join('')).toBe('DEHKNQR');
  });

  it.each([0, -1, 1.5, Number.NaN, Infinity, LARGEST_LOT * 2])('are not given to a lot of %s', (size) => {
    expect(isLotSize(size)).toBe(false);
    expect(() => codeLetter(size, 'II')).toThrow(RangeError);
  });
});
