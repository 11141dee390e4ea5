import { describe, expect, it } from 'vitest';
import { type Aql, AQLS, aqlOf, limitsItems, nearestAqls } from './aql.js';

describe('acceptance quality limits', () => {
  it('are 26, five steps a decade that repeat', () => {
    expect(AQLS).toHaveLength(26);
    for (let at = 5; at < AQLS.length; at += 1) expect(Number(AQLS[at])).toBeCloseTo(Number(AQLS[at - 5]) * 10, 10);
  });

  it.each<[string, Aql]>([
    ['1', '1.0'],
    ['1.00', '1.0'],
    ['01.0', '1.0'],
    ['0.01', '0.010'],
    ['0.4', '0.40'],
    ['10.0', '10'],
    ['1000', '1000'],
  ])('are read however the number is written: %s', (written, aql) => expect(aqlOf(written)).toBe(aql));

  it.each(['', ' 1', '1,0', '1e0', '-1', '+1', '.1', '1.', 'II', '0x1', '1.1', '0', 'NaN'])("are not guessed from '%s'", (text) =>
    expect(aqlOf(text)).toBeUndefined(),
  );

  it.each([
    ['1.1', ['1.0', '1.5']],
    ['0.02', ['0.015', '0.025']],
    ['12', ['10', '15']],
    ['0.009', ['0.010']],
    ['0', ['0.010']],
    ['1000.5', ['1000']],
    ['some', []],
  ])('names the nearest to %s', (text, nearest) => expect(nearestAqls(text)).toEqual(nearest));

  it('can be per cent of items up to 10 and no further', () => {
    expect(AQLS.filter(limitsItems).at(-1)).toBe('10');
    expect(AQLS.filter(limitsItems)).toHaveLength(16);
  });
});
