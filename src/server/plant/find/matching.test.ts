import { describe, expect, it } from 'vitest';
import { bestOf, bestRank, type Match, rankOf } from './matching.js';

it.each([
  ['F26-1', 'F26-1', 0],
  ['F26-1', 'f26-1', 1],
  ['F26-10', 'f26-1', 2],
  ['XF26-1', 'f26-1', 3],
  ['G-1', 'f26-1', null],
  ['a%b', '%', 3],
] as const)('%s asked for as %s', (candidate, asked, rank) => expect(rankOf(candidate, asked)).toBe(rank));

it('a thing is found by its name, but never exactly', () => {
  expect(bestRank('V-1', 'kettle 1', ['Kettle 1', null, undefined])).toBe(2);
  expect(bestRank('V-1', 'v-1', ['v-1'])).toBe(1);
  expect(bestRank('V-1', 'x', ['Kettle 1'])).toBeNull();
});

describe('LT-9: the best finds', () => {
  const match = (rank: Match['rank'], kind: Match['found']['kind'], code: string, of: string | null = null): Match => ({
    rank,
    found: { kind, code, of, lot: null, supplier: null, piece: null, says: '' },
  });
  it('are the nearest, then by kind and code; all are counted', () => {
    const people = { matches: [match(3, 'person', 'b'), match(0, 'person', 'a')], total: 2 };
    const lots = {
      matches: [match(3, 'lot', 'b'), match(3, 'lot', 'a'), match(1, 'serial', 'A', 'y'), match(1, 'serial', 'A', 'x')],
      total: 40,
    };
    const { found, total } = bestOf([people, lots], 5);
    expect(found.map(({ kind, code, of, exact }) => [kind, code, of, exact])).toEqual([
      ['person', 'a', null, true],
      ['serial', 'A', 'x', true],
      ['serial', 'A', 'y', true],
      ['lot', 'a', null, false],
      ['lot', 'b', null, false],
    ]);
    expect(total).toBe(42);
  });
});
