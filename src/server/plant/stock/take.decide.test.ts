import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import { countPieces, intersectSpans, sameSpans, spanSet, type SpanSet, subtractSpans, unionSpans } from '../../../../shared/spans.js';
import { onHand, type Place } from './effects.facts.js';
import type { LotState, PartAt } from './lot-state.facts.js';
import { takeOnHand } from './take.decide.js';

const lotAt = (pieces: number | null, places: readonly PartAt[]): LotState => ({ lot: 'L-1', pieces, places }) as unknown as LotState;
const RUN: Place = { fate: 'consumed', at: 'RUN-1' };
const bulkAt = (at: string, kilograms: number): PartAt => ({ place: onHand(at), quantityMicro: kilograms * MICRO, spans: null });
const piecesAt = (place: Place, spans: SpanSet): PartAt => ({ place, quantityMicro: countPieces(spans) * MICRO, spans });

describe('taking what is on hand', () => {
  const bulk = lotAt(null, [
    { place: { fate: 'scrapped', at: 'SC-0001' }, quantityMicro: 5 * MICRO, spans: null },
    bulkAt('A', 60),
    bulkAt('B', 40),
  ]);

  it('empties one place before it goes to the next, and touches nothing that is not on hand', () => {
    expect(takeOnHand(bulk, { spans: null, quantityMicro: 70 * MICRO, on: '' }, RUN)).toEqual([
      { lot: 'L-1', spans: null, quantityMicro: 60 * MICRO, from: onHand('A'), to: RUN },
      { lot: 'L-1', spans: null, quantityMicro: 10 * MICRO, from: onHand('B'), to: RUN },
    ]);
  });

  it('takes from the place that is named only', () => {
    const moved = takeOnHand(bulk, { spans: null, quantityMicro: 30 * MICRO, on: '', from: 'B' }, RUN);
    expect(moved).toEqual([{ lot: 'L-1', spans: null, quantityMicro: 30 * MICRO, from: onHand('B'), to: RUN }]);
  });

  it('takes pieces from wherever each of them lies', () => {
    const lot = lotAt(10, [
      piecesAt(onHand('A'), [
        [1, 3],
        [7, 7],
      ]),
      piecesAt(onHand('B'), [[4, 6]]),
      piecesAt(RUN, [[8, 10]]),
    ]);
    expect(
      takeOnHand(
        lot,
        {
          spans: [
            [2, 5],
            [7, 7],
          ],
          quantityMicro: 5 * MICRO,
          on: '',
        },
        RUN,
      ),
    ).toEqual([
      {
        lot: 'L-1',
        spans: [
          [2, 3],
          [7, 7],
        ],
        quantityMicro: 3 * MICRO,
        from: onHand('A'),
        to: RUN,
      },
      { lot: 'L-1', spans: [[4, 5]], quantityMicro: 2 * MICRO, from: onHand('B'), to: RUN },
    ]);
  });
});

describe('S-12: what is taken was there, once', () => {
  const set = fc
    .array(fc.integer({ min: 1, max: 60 }), { maxLength: 30 })
    .map((list) => spanSet(list.map((piece) => [piece, piece] as const)));

  it('any wanted pieces over any two places', () => {
    fc.assert(
      fc.property(set, set, set, (one, other, wanted) => {
        const here = subtractSpans(one, other);
        const lot = lotAt(60, [piecesAt(onHand('A'), here), piecesAt(onHand('B'), other)]);
        const moved = takeOnHand(lot, { spans: wanted, quantityMicro: countPieces(wanted) * MICRO, on: '' }, RUN);
        const taken = moved.reduce<SpanSet>((sum, movement) => unionSpans(sum, movement.spans ?? []), []);
        expect(sameSpans(taken, intersectSpans(wanted, unionSpans(here, other)))).toBe(true);
        expect(moved.reduce((sum, movement) => sum + movement.quantityMicro, 0)).toBe(countPieces(taken) * MICRO);
      }),
    );
  });

  it('any wanted quantity over any places', () => {
    const amounts = fc.array(fc.integer({ min: 1, max: 10 ** 12 }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(amounts, fc.integer({ min: 1, max: 10 ** 13 }), (held, wanted) => {
        const lot = lotAt(
          null,
          held.map((quantityMicro, i) => ({ place: onHand(`P${i}`), quantityMicro, spans: null })),
        );
        const moved = takeOnHand(lot, { spans: null, quantityMicro: wanted, on: '' }, RUN);
        const there = held.reduce((sum, part) => sum + part, 0);
        expect(moved.reduce((sum, movement) => sum + movement.quantityMicro, 0)).toBe(Math.min(there, wanted));
        expect(moved.every((movement, i) => movement.quantityMicro > 0 && movement.quantityMicro <= held[i]!)).toBe(true);
      }),
    );
  });
});
