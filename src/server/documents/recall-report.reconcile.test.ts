import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { exampleRecall } from '../../../test/bench/example-recall.js';
import { countPieces, spanSet, type Span, type SpanSet } from '../../../shared/spans.js';
import { addsUp, FATES, reconcile } from './recall-report.reconcile.js';
import type { AffectedLot, AffectedWhereabouts } from './recall-report.types.js';

function numbered(lot: string, spans: SpanSet): AffectedLot {
  return {
    lot, item: 'CW-250', itemName: 'Chain wax', unit: 'each', status: 'held', run: null, spans, piecesOfLot: 10_000,
    affectedMicro: countPieces(spans) * 1_000_000, quantityMicro: 1, shares: [], depth: 1,
  }; // prettier-ignore
}

function bulk(lot: string, affectedMicro: number): AffectedLot {
  return { ...numbered(lot, []), unit: 'kg', spans: null, piecesOfLot: 0, affectedMicro };
}

function at(lot: string, spans: SpanSet | null, quantityMicro = 0, fate = FATES[0]!): AffectedWhereabouts {
  return { lot, spans, quantityMicro, unit: spans === null ? 'kg' : 'each', fate, holder: 'somewhere', document: null };
}

const holds = (spans: SpanSet, piece: number): boolean => spans.some(([first, last]) => first <= piece && piece <= last);

describe('affected goods against their whereabouts', () => {
  test('the example adds up, by lot, by fate and by unit', () => {
    const { affectedLots, whereabouts, scopes } = exampleRecall();
    const accounts = reconcile(affectedLots, whereabouts);
    expect(addsUp(accounts)).toBe(true);
    const pieces = accounts.find(({ unit }) => unit === 'pieces');
    expect(pieces?.affected).toBe(scopes.narrow.pieces);
    expect([...(pieces?.byFate ?? [])]).toEqual([['dispatched', 2410], ['on hand', 3218], ['retained', 24], ['scrapped', 8]]); // prettier-ignore
    expect(accounts.find(({ unit }) => unit === 'kg')?.affected).toBe(scopes.narrow.bulk[0]?.quantityMicro);
  });

  test('any way of dealing out the pieces adds up; one piece less does not, and is named', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: FATES.length - 1 }), { minLength: 1, maxLength: 60 }), (fates) => {
        const lot = numbered('F-1', [[1, fates.length]]);
        const places = fates.map((fate, i) => at('F-1', [[i + 1, i + 1]], 0, FATES[fate]));
        const accounts = reconcile([lot], places);
        expect(addsUp(accounts)).toBe(true);
        expect([...accounts[0]!.byFate.values()].reduce((sum, n) => sum + n, 0)).toBe(fates.length);
        const short = reconcile([lot], places.slice(0, -1));
        expect(addsUp(short)).toBe(false);
        expect(short[0]?.lots[0]?.missing).toEqual([[fates.length, fates.length]]);
      }),
    );
  });

  test('two mistakes that cancel in the count are still found', () => {
    const [account] = reconcile([numbered('F-1', [[1, 10]])], [at('F-1', [[1, 5]]), at('F-1', [[5, 9]])]);
    expect(account?.difference).toBe(0);
    expect(account?.lots[0]).toMatchObject({ missing: [[10, 10]], twice: [[5, 5]], beside: [] });
    expect(addsUp([account!])).toBe(false);
  });

  test('overlaps and strays equal those of a count piece by piece', () => {
    const span = fc.tuple(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 0, max: 8 })).map(([from, more]): Span => [from, from + more]);
    fc.assert(
      fc.property(fc.array(span, { maxLength: 4 }), fc.array(span, { maxLength: 9 }), (affected, places) => {
        const lot = spanSet(affected);
        const account = reconcile(
          [numbered('F-1', lot)],
          places.map((each) => at('F-1', [each])),
        )[0]!.lots[0]!;
        for (let piece = 1; piece <= 50; piece += 1) {
          const times = places.filter(([first, last]) => first <= piece && piece <= last).length;
          expect(holds(account.missing, piece)).toBe(holds(lot, piece) && times === 0);
          expect(holds(account.twice, piece)).toBe(times > 1);
          expect(holds(account.beside, piece)).toBe(!holds(lot, piece) && times > 0);
        }
      }),
    );
  });

  test('bulk lots add up in whole millionths', () => {
    expect(addsUp(reconcile([bulk('B-1', 300_001)], [at('B-1', null, 100_000), at('B-1', null, 200_001)]))).toBe(true);
    const [short] = reconcile([bulk('B-1', 300_001)], [at('B-1', null, 300_000)]);
    expect(short?.difference).toBe(1);
  });

  test.each([
    ['a lot that is not affected', [at('F-2', [[1, 1]])]],
    ['a quantity for a numbered lot', [at('F-1', null, 1)]],
  ])('refused: %s', (_case, places) => expect(() => reconcile([numbered('F-1', [[1, 2]])], places)).toThrow(RangeError));
});
