import { describe, expect, it } from 'vitest';
import { isDecided, undecidedInWords } from './words.js';

const sample = {
  edition: 'ISO 2859-1:1999',
  level: 'II',
  type: 'double',
  basis: 'items',
  codeLetter: 'J',
  first: 50,
  second: 50,
  inspectAllBecause: null,
} as const;

describe('a class that inspection stopped before it was decided', () => {
  it('says how many were looked at, of the sample that counts', () => {
    expect(undecidedInWords({ inspected: [4, 0], sample, secondSample: false }, { found: [0, 0] })).toBe(
      '0 found in 4 looked at of 50; not decided',
    );
    expect(undecidedInWords({ inspected: [50, 7], sample, secondSample: true }, { found: [1, 2] })).toBe(
      '2 found in 57 looked at of 100; not decided',
    );
  });

  it('is open, or waits for the second sample', () => {
    const decided = (['accepted', 'not-accepted', 'open', 'second-sample'] as const).map((standing) => isDecided({ standing }));
    expect(decided).toEqual([true, true, false, false]);
  });
});
