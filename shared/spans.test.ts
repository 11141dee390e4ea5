import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Span, SpanSet } from './spans.js';
import {
  MAX_PIECE,
  SpanFault,
  countPieces,
  coversSpans,
  formatSpans,
  intersectSpans,
  parseSpans,
  sameSpans,
  spanSet,
  subtractSpans,
  unionSpans,
  wholeLot,
} from './spans.js';

const HIGHEST = 60;
const span = fc
  .tuple(fc.integer({ min: 1, max: HIGHEST }), fc.integer({ min: 1, max: HIGHEST }))
  .map(([a, b]): Span => [Math.min(a, b), Math.max(a, b)]);
const spans = fc.array(span, { maxLength: 8 });

/** The naive twin: one member per piece. */
function pieces(set: Iterable<Span>): Set<number> {
  const all = new Set<number>();
  for (const [first, last] of set) for (let piece = first; piece <= last; piece += 1) all.add(piece);
  return all;
}

function sorted(set: Set<number>): number[] {
  return [...set].toSorted((a, b) => a - b);
}

function expectCoalesced(set: SpanSet): void {
  expect(set.filter(([first, last], i) => first > last || first <= (set[i - 1]?.[1] ?? -1) + 1)).toEqual([]);
}

describe('against a set of single pieces', () => {
  test('a set holds just the pieces named, however they were named', () => {
    fc.assert(
      fc.property(spans, (given) => {
        const set = spanSet(given);
        expectCoalesced(set);
        expect(sorted(pieces(set))).toEqual(sorted(pieces(given)));
        expect(countPieces(set)).toBe(pieces(given).size);
        expect(sameSpans(set, spanSet(given.toReversed()))).toBe(true);
      }),
    );
  });

  test.each([
    ['union', unionSpans, (a: Set<number>, b: Set<number>) => new Set([...a, ...b])],
    ['intersection', intersectSpans, (a: Set<number>, b: Set<number>) => new Set([...a].filter((piece) => b.has(piece)))],
    ['difference', subtractSpans, (a: Set<number>, b: Set<number>) => new Set([...a].filter((piece) => !b.has(piece)))],
  ])('%s', (_name, ours, naive) => {
    fc.assert(
      fc.property(spans, spans, (left, right) => {
        const result = ours(spanSet(left), spanSet(right));
        expectCoalesced(result);
        expect(sorted(pieces(result))).toEqual(sorted(naive(pieces(left), pieces(right))));
      }),
      { numRuns: 500 },
    );
  });

  test('covering and sameness', () => {
    fc.assert(
      fc.property(spans, spans, (left, right) => {
        const [a, b] = [spanSet(left), spanSet(right)];
        const [inA, inB] = [pieces(left), pieces(right)];
        expect(coversSpans(a, b)).toBe([...inB].every((piece) => inA.has(piece)));
        expect(coversSpans(unionSpans(a, b), b)).toBe(true);
        expect(sameSpans(a, b)).toBe(inA.size === inB.size && [...inA].every((piece) => inB.has(piece)));
      }),
      { numRuns: 500 },
    );
  });

  test('what is written is read back', () => {
    fc.assert(
      fc.property(
        spans.filter((given) => given.length > 0),
        (given) => {
          const set = spanSet(given);
          expect(parseSpans(formatSpans(set))).toEqual(set);
        },
      ),
    );
  });
});

test('touching spans are one', () => {
  expect(
    spanSet([
      [4, 5],
      [1, 3],
    ]),
  ).toEqual([[1, 5]]);
  expect(parseSpans('4-5, 1 - 3')).toEqual([[1, 5]]);
});

test('a cut that reaches over several spans takes from each', () => {
  expect(
    subtractSpans(
      [
        [1, 5],
        [8, 12],
        [20, 22],
      ],
      [[4, 20]],
    ),
  ).toEqual([
    [1, 3],
    [21, 22],
  ]);
});

test('a lot of none has no pieces, a lot of n has 1..n', () => {
  expect(wholeLot(0)).toEqual([]);
  expect(wholeLot(2400)).toEqual([[1, 2400]]);
  expect(countPieces(wholeLot(MAX_PIECE))).toBe(MAX_PIECE);
  expect(formatSpans([])).toBe('');
});

test.each([
  ['', 'no pieces are named'],
  ['5,', 'nothing between two commas'],
  ['17-5', "'17-5' runs backwards"],
  ['0', "'0' begins before piece 1"],
  ['1-9,5-12', "'5-12' overlaps '1-9'"],
  ['7,7', "'7' overlaps '7'"],
  ['1-2147483648', 'beyond the highest piece number'],
  ['-5', "'-5' is neither a piece number nor a span"],
  ['1.5', "'1.5' is neither"],
  ['1e3', "'1e3' is neither"],
  ['٣', "'٣' is neither"],
  ['1-2-3', "'1-2-3' is neither"],
])('refused: %j', (text, why) => {
  expect(() => parseSpans(text)).toThrow(SpanFault);
  expect(() => parseSpans(text)).toThrow(why);
});

test('the part at fault is named', () => {
  expect(() => parseSpans('1-3, 9-4')).toThrow(expect.objectContaining({ name: 'SpanFault', part: '9-4' }));
});

test.each([[[0, 3]], [[3, 1]], [[1.5, 2]], [[1, NaN]], [[1, MAX_PIECE + 1]]] as [Span][])('no span: %j', (given) => {
  expect(() => spanSet([given])).toThrow(SpanFault);
});
