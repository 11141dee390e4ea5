import { describe, expect, it } from 'vitest';
import { Reasons } from '../../../../shared/refusal.js';
import { parseSpans } from '../../../../shared/spans.js';
import { pairUp } from './charging.decide.js';
import { stretchesOf } from './fitting.decide.js';

const words = (into: ReturnType<typeof stretchesOf>): string[] =>
  into.map(({ fromSpan, toSpan }) => `${fromSpan!.join('-')}>${toSpan.join('-')}`);

describe('pieces one by one (P-24)', () => {
  it.each<[string, [number, number][], string[]]>([
    [
      'running on together is one stretch',
      [
        [1, 4],
        [2, 5],
        [3, 6],
      ],
      ['1-3>4-6'],
    ],
    [
      'scanned in any order',
      [
        [3, 6],
        [1, 4],
        [2, 5],
      ],
      ['1-3>4-6'],
    ],
    [
      'backwards is no stretch',
      [
        [1, 3],
        [2, 2],
        [3, 1],
      ],
      ['1-1>3-3', '2-2>2-2', '3-3>1-1'],
    ],
    [
      'a gap on either side parts it',
      [
        [1, 1],
        [2, 3],
        [4, 4],
      ],
      ['1-1>1-1', '2-2>3-3', '4-4>4-4'],
    ],
  ])('%s', (_case, pairs, wanted) => expect(words(stretchesOf(pairs.map(([from, to]) => ({ from, to }))))).toEqual(wanted));

  it.each<[string, string, string, string[]]>([
    ['spans of unlike borders', '1-4,9-14', '11-20', ['1-4>11-14', '9-14>15-20']],
    ['many into many', '1-3,5-6', '1-2,4-6', ['1-2>1-2', '3-3>4-4', '5-6>5-6']],
  ])('pairs %s in order', (_case, from, to, wanted) => {
    const no = new Reasons();
    expect(words(pairUp(no, parseSpans(from), parseSpans(to), 'each', '') as ReturnType<typeof stretchesOf>)).toEqual(wanted);
    expect(no.any).toBe(false);
  });

  it.each([
    ['unlike numbers', parseSpans('1-3'), 'each'],
    ['a bulk lot piece by piece', null, 'each'],
  ] as const)('refuses %s', (_case, from, map) => {
    const no = new Reasons();
    expect(pairUp(no, from, parseSpans('1-4'), map, '/charges/0/intoPieces')).toBeNull();
    expect(no.list.map(({ code }) => code)).toEqual(['unequal-pieces']);
  });
});
