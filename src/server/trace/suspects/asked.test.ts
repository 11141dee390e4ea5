import { expect, test } from 'vitest';
import { Refusal } from '../../../../shared/refusal.js';
import { checkAsked, type KnownPieces, type SuspectsQuestion } from './asked.js';
import { Population } from './population.js';

const known: KnownPieces = {
  lots: new Map([
    ['F-1', { id: 4, pieces: 100 }],
    ['F-0', { id: 9, pieces: 2_000_000_000 }],
    ['B-1', { id: 2, pieces: null }],
  ]),
  serials: new Map([['K-1', [{ item: 'PUMP', lot: 'F-1', piece: 7 }]]]),
};

function codes(question: SuspectsQuestion): string[] {
  try {
    checkAsked(question, known);
  } catch (error) {
    return (error as Refusal).reasons.map(({ code }) => code);
  }
  return [];
}

test('parts are put together by lot, in the order of codes', () => {
  const asked = checkAsked(
    {
      population: [
        { lot: 'F-1', pieces: '1-10' },
        { lot: 'F-0', pieces: '5' },
        { lot: 'F-1', pieces: '11-20,30' },
      ],
      failed: [
        { serial: 'K-1', item: 'PUMP' },
        { lot: 'F-1', pieces: '8,30' },
      ],
    },
    known,
  );
  expect(asked.population).toEqual([
    { lot: 9, spans: [[5, 5]] },
    {
      lot: 4,
      spans: [
        [1, 20],
        [30, 30],
      ],
    },
  ]);
  expect(asked.failed).toEqual([
    {
      lot: 4,
      spans: [
        [7, 8],
        [30, 30],
      ],
    },
  ]);
});

test.each<[string, SuspectsQuestion, string[]]>([
  ['a serial of another item', { population: [{ lot: 'F-1' }], failed: [{ serial: 'K-1', item: 'GAUGE' }] }, ['serial-unknown']],
  ['a serial outside', { population: [{ lot: 'F-1', pieces: '1-6' }], failed: [{ serial: 'K-1' }] }, ['failed-outside']],
  [
    'one piece by serial and by number',
    { population: [{ lot: 'F-1' }], failed: [{ serial: 'K-1' }, { lot: 'F-1', pieces: '7' }] },
    ['failed-twice'],
  ],
  [
    'what no answer has room for',
    { population: [{ lot: 'F-0' }, { lot: 'F-1' }], failed: [{ lot: 'F-1', pieces: '1' }] },
    ['population-too-large'],
  ],
  [
    'more failures than anyone complains of',
    { population: [{ lot: 'F-0' }], failed: [{ lot: 'F-0', pieces: '1-100001' }] },
    ['too-many-failed'],
  ],
  ['as many as there may be', { population: [{ lot: 'F-0' }], failed: [{ lot: 'F-0', pieces: '1-100000' }] }, []],
  ['all of it', { population: [{ lot: 'F-1', pieces: '3-4' }], failed: [{ lot: 'F-1', pieces: '3-4' }] }, ['all-failed']],
  [
    'a failure in a lot that is no population',
    { population: [{ lot: 'B-1' }], failed: [{ lot: 'B-1', pieces: '1' }] },
    ['lot-not-numbered', 'lot-not-numbered'],
  ],
])('%s', (_what, question, wanted) => expect(codes(question)).toEqual(wanted));

test('places count the pieces of a population, whatever is not in it', () => {
  const population = new Population([
    {
      lot: 4,
      spans: [
        [5, 9],
        [20, 20],
        [30, 39],
      ],
    },
    { lot: 2, spans: [[1, 3]] },
  ]);
  expect(population.size).toBe(19);
  expect(population.places(4, 1, 100)).toEqual([0, 15]);
  expect(population.places(4, 7, 31)).toEqual([2, 7]);
  expect(population.places(4, 10, 29)).toEqual([5, 5]);
  expect(population.places(4, 6, 7)).toEqual([1, 2]);
  expect(population.places(2, 3, 9)).toEqual([18, 18]);
  for (const [lot, first, last] of [
    [4, 10, 19],
    [4, 40, 50],
    [4, 1, 4],
    [3, 1, 3],
  ] as const)
    expect(population.places(lot, first, last)).toBeNull();
});
