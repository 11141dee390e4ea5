import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Ribbon, RibbonInput, RibbonPart, RibbonRow } from './ribbon-layout.js';
import { layoutRibbon } from './ribbon-layout.js';
import { pieceAtX, xOfEdge } from './ribbon-scale.js';
import type { Span } from './spans.js';
import { countPieces, spanSet } from './spans.js';

const part = (label: string, kind: string, ...spans: Span[]): RibbonPart => ({ label, kind, spans: spanSet(spans) });

const filling: RibbonInput = {
  pieces: 4800,
  affected: [[1921, 4800]],
  above: [
    {
      label: 'Consignees',
      parts: [
        part('C-014 Larch Cycles', 'customer', [1, 960], [2161, 3360]),
        part('C-003', 'customer', [961, 1920]),
        part('C-021', 'customer', [1921, 2160]),
        part('on hand, bay 4', 'on-hand', [3361, 4798]),
        part('retain', 'retain', [4799, 4800]),
      ],
    },
    { label: 'Held', parts: [part('HOLD-007', 'held', [1921, 4800])] },
  ],
  below: [
    { label: 'Batch', parts: [part('B-0417', 'input', [1, 1920]), part('B-0418', 'input', [1921, 4800])] },
    { label: 'Lids', parts: [part('P-1170', 'input', [1, 4800])] },
  ],
};

const anySpans = (pieces: number): fc.Arbitrary<readonly Span[]> =>
  fc.array(
    fc
      .tuple(fc.integer({ min: 1, max: pieces }), fc.integer({ min: 0, max: 50 }))
      .map(([first, more]): Span => [first, Math.min(pieces, first + more)]),
    { minLength: 1, maxLength: 6 },
  );

const anyRibbon: fc.Arbitrary<RibbonInput> = fc.constantFrom(1, 2, 37, 4800, 500_000).chain((pieces) => {
  const parts = fc.array(anySpans(pieces), { maxLength: 5 }).map((list) => list.map((spans, i) => part(`L-${i}`, 'input', ...spans)));
  const strips = fc.array(
    parts.map((list) => ({ label: 'strip', parts: list })),
    { maxLength: 4 },
  );
  return fc.record({ pieces: fc.constant(pieces), affected: anySpans(pieces).map(spanSet), above: strips, below: strips });
});

function disorder(row: RibbonRow): string[] {
  return row.segments.flatMap((segment, i) => {
    const before = row.segments[i - 1];
    if (before === undefined) return [];
    return before.last < segment.first && before.x + before.width <= segment.x + 0.011 ? [] : [`${before.first} and ${segment.first}`];
  });
}

const sums = (rows: readonly RibbonRow[]): number => rows.flatMap((row) => row.segments).reduce((sum, { pieces }) => sum + pieces, 0);

function forAny(check: (input: RibbonInput, ribbon: Ribbon) => void): void {
  fc.assert(
    fc.property(anyRibbon, fc.integer({ min: 200, max: 1500 }), (input, width) => {
      check(input, layoutRibbon(input, { width }));
    }),
    { numRuns: 300 },
  );
}

describe('for any lot', () => {
  test('segments are inside the picture, in order, without overlap, and seen', () => {
    forAny((_input, { width, height, rows, scale }) => {
      const least = Math.min(2, 35 / (scale.knots.length - 1)) - 0.02;
      for (const row of rows) {
        expect(disorder(row)).toEqual([]);
        expect(row.segments.filter(({ x, width: w }) => x < 110 || x + w > width + 0.01 || w < least)).toEqual([]);
        expect(row.y + row.height).toBeLessThanOrEqual(height);
      }
      rows.forEach((row, i) => expect(row.y).toBeGreaterThanOrEqual((rows[i - 1]?.y ?? 0) + (rows[i - 1]?.height ?? 0)));
    });
  });

  test('every piece of every part is drawn once, and the bar is the whole lot', () => {
    forAny((input, { rows }) => {
      const given = [...input.above, ...input.below].flatMap(({ parts }) => parts).reduce((sum, { spans }) => sum + countPieces(spans), 0);
      expect(sums(rows.filter(({ side }) => side !== 'bar'))).toBe(given);
      expect(sums(rows.filter(({ side }) => side === 'bar'))).toBe(input.pieces);
      expect(
        rows
          .filter(({ side }) => side === 'bar')
          .flatMap(({ segments }) => segments.filter(({ affected }) => affected).map(({ first, last }) => [first, last])),
      ).toEqual(input.affected);
    });
  });

  test('one piece number is at one place in all rows, and a place gives its piece back', () => {
    forAny((input, { scale, rows }) => {
      const far = rows.flatMap(({ segments }) => segments).filter(({ first, x }) => Math.abs(xOfEdge(scale, first - 1) - x) > 0.006);
      expect(far).toEqual([]);
      for (const piece of [1, Math.ceil(input.pieces / 3), input.pieces]) {
        const middle = (xOfEdge(scale, piece - 1) + xOfEdge(scale, piece)) / 2;
        expect(pieceAtX(scale, middle)).toBe(piece);
      }
    });
  });

  test('ticks run from left to right and keep apart', () => {
    forAny((_input, { ticks }) => {
      expect(ticks[0]?.piece).toBe(1);
      expect(ticks.filter((tick, i) => i > 0 && tick.x - (ticks[i - 1]?.x ?? 0) < 12)).toEqual([]);
    });
  });
});

test('rows stand as a foreman reads them: fates, holds, pieces, inputs', () => {
  const ribbon = layoutRibbon(filling, { width: 1180 });
  expect(ribbon.rows.map(({ side, label }) => `${side} ${label}`)).toEqual([
    'above Consignees',
    'above Held',
    'bar Pieces',
    'below Batch',
    'below Lids',
  ]);
  expect(ribbon.rows[2]?.segments.map(({ first, last, affected }) => [first, last, affected])).toEqual([
    [1, 1920, false],
    [1921, 4800, true],
  ]);
});

test('a changeover is a cut at the first piece of the next lot, at the same x in every row', () => {
  const { rows } = layoutRibbon(filling, { width: 1180 });
  const [consignees, held, bar, batch, lids] = rows;
  expect(batch?.cuts.map(({ piece }) => piece)).toEqual([1921]);
  expect(lids?.cuts).toEqual([]);
  const x = batch?.cuts[0]?.x;
  expect(held?.segments[0]?.x).toBe(x);
  expect(bar?.segments[1]?.x).toBe(x);
  expect(consignees?.cuts.find(({ piece }) => piece === 1921)?.x).toBe(x);
});

test('two pieces of 4800 stay visible, the rest nearly to scale', () => {
  const { rows } = layoutRibbon(filling, { width: 500 });
  expect(rows[0]?.segments.find(({ kind }) => kind === 'retain')).toMatchObject({ width: 2, pieces: 2, shortLabel: '' });
  const first = rows[3]?.segments[0];
  expect(first?.width).toBeGreaterThan(370 * 0.4 - 2);
  expect(first?.width).toBeLessThan(370 * 0.4);
});

test('inputs that blend over the same pieces get lanes of their own', () => {
  const both = {
    ...filling,
    below: [
      { label: 'Batch', parts: [part('B-1', 'input', [1, 3000]), part('B-2', 'input', [2000, 4800]), part('B-3', 'input', [3001, 4000])] },
    ],
  };
  const lanes = layoutRibbon(both, { width: 900 }).rows.filter(({ side }) => side === 'below');
  expect(lanes.map(({ lane, segments }) => [lane, segments.map(({ label }) => label)])).toEqual([
    [0, ['B-1', 'B-3']],
    [1, ['B-2']],
  ]);
});

test('thousands of single pieces leave half of the ruler true to scale', () => {
  const units = Array.from({ length: 2000 }, (_, i) => part(`C-${i}`, 'customer', [i + 1, i + 1]));
  const { rows } = layoutRibbon(
    {
      pieces: 1_000_000,
      above: [{ label: 'Consignees', parts: units }],
      below: [part('B', 'input', [2001, 1_000_000])].map((p) => ({ label: 'B', parts: [p] })),
    },
    { width: 1130 },
  );
  expect(rows[2]?.segments[0]?.width).toBeGreaterThan(499);
  expect(disorder(rows[0] ?? { segments: [], side: 'bar', label: '', lane: 0, y: 0, height: 0, cuts: [] })).toEqual([]);
});

test('a lot of none has rows and nothing in them', () => {
  const ribbon = layoutRibbon({ pieces: 0, above: [], below: [{ label: 'Batch', parts: [] }] }, { width: 600 });
  expect(ribbon.rows.map(({ segments }) => segments)).toEqual([[], []]);
  expect(ribbon.ticks).toEqual([]);
  expect(pieceAtX(ribbon.scale, 300)).toBe(0);
});

test('refused: pieces the lot does not have', () => {
  const beyond = { ...filling, below: [{ label: 'Lids', parts: [part('P-1', 'input', [4000, 4801])] }] };
  expect(() => layoutRibbon(beyond, { width: 600 })).toThrow('P-1 has pieces outside 1 to 4800');
});
