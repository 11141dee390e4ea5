import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import { formatSpans, type SpanSet } from '../../../../shared/spans.js';
import type { OpenHold } from '../holds/holds.facts.js';
import type { LotStatus } from '../stock/effects.facts.js';
import { inPickOrder, judgeStock, passedOver, proposePick } from './pick.decide.js';
import type { StockLot } from './pick.facts.js';

const ON = '2026-03-02';

const hold = (more: Partial<OpenHold> = {}): OpenHold => ({
  hold: 'H-0001',
  lotId: 9,
  lot: 'R-1',
  spans: null,
  quantityMicro: null,
  reaches: true,
  reason: 'smells wrong',
  ...more,
});

const cans = (lot: string, more: Partial<StockLot> = {}): StockLot => ({
  lot,
  item: 'WAX-250',
  unit: 'each',
  pieces: 100,
  bornAt: '2026-01-01T00:00:00.000Z',
  expiresOn: '2027-01-01',
  onHand: [{ at: 'FG-1', quantityMicro: 100 * MICRO, spans: [[1, 100]] }],
  statuses: new Map<LotStatus, SpanSet | null>([['released', [[1, 100]]]]),
  stops: [],
  ...more,
});

const wax = (lot: string, more: Partial<StockLot> = {}): StockLot => ({
  ...cans(lot),
  unit: 'kg',
  pieces: null,
  onHand: [{ at: 'DOCK', quantityMicro: 50 * MICRO, spans: null }],
  statuses: new Map<LotStatus, SpanSet | null>([['released', null]]),
  ...more,
});

const advice = (stock: readonly StockLot[], wanted: number) =>
  proposePick(
    stock.map((lot) => judgeStock(lot, ON)),
    wanted * MICRO,
  );
const lots = (stock: readonly StockLot[], wanted: number) =>
  advice(stock, wanted).proposed.map(
    (line) => `${line.lot} ${line.at} ${line.spans ? formatSpans(line.spans) : line.quantityMicro / MICRO}`,
  );

describe('oldest first (ST-8, D-7)', () => {
  it('orders by expiry, then age, then code; no expiry comes last', () => {
    const sorted = [
      cans('D', { expiresOn: null, bornAt: '2020-01-01T00:00:00.000Z' }),
      cans('B', { bornAt: '2026-01-02T00:00:00.000Z' }),
      cans('C', { expiresOn: '2026-12-01', bornAt: '2026-02-02T00:00:00.000Z' }),
      cans('A2'),
      cans('A1'),
    ].toSorted(inPickOrder);
    expect(sorted.map((lot) => lot.lot)).toEqual(['C', 'A1', 'A2', 'B', 'D']);
  });

  it('goes on to the next lot and says what is short', () => {
    expect(lots([cans('B', { bornAt: '2026-02-01T00:00:00.000Z' }), cans('A')], 120)).toEqual(['A FG-1 1-100', 'B FG-1 1-20']);
    expect(advice([cans('A')], 130).shortMicro).toBe(30 * MICRO);
  });

  it('takes from several places of one lot, never a piece twice', () => {
    const spread = cans('A', {
      onHand: [
        { at: 'FG-1', quantityMicro: 50 * MICRO, spans: [[51, 100]] },
        { at: 'FG-2', quantityMicro: 50 * MICRO, spans: [[1, 50]] },
      ],
    });
    expect(lots([spread], 70)).toEqual(['A FG-1 51-100', 'A FG-2 1-20']);
  });

  it('a lot is good on the day it expires and not the day after', () => {
    expect(lots([cans('A', { expiresOn: ON })], 1)).toHaveLength(1);
    expect(advice([cans('A', { expiresOn: '2026-03-01' })], 1)).toMatchObject({
      proposed: [],
      skipped: [{ lot: 'A', code: 'lot-expired' }],
    });
  });

  it('skips held and quarantined pieces and takes the rest', () => {
    const stock = cans('A', {
      statuses: new Map<LotStatus, SpanSet | null>([
        ['released', [[1, 90]]],
        ['quarantine', [[91, 100]]],
      ]),
      stops: [
        { hold: hold({ lot: 'A', spans: [[1, 10]] }), inherited: false, spans: [[1, 10]] },
        { hold: hold(), inherited: true, spans: [[5, 20]] },
      ],
    });
    const found = advice([stock], 100);
    expect(found.proposed.map((line) => formatSpans(line.spans!))).toEqual(['21-90']);
    expect(found.skipped.map((skipped) => [skipped.code, formatSpans(skipped.spans!)])).toEqual([
      ['lot-not-released', '91-100'],
      ['lot-held', '1-10'],
      ['made-from-held', '5-20'],
    ]);
  });

  it('ST-10: keeps back the held quantity of a bulk lot and gives the rest', () => {
    const stock = wax('R-2', {
      stops: [{ hold: hold({ lot: 'R-2', quantityMicro: 30 * MICRO, reaches: false }), inherited: false, spans: null }],
    });
    expect(lots([stock], 40)).toEqual(['R-2 DOCK 20']);
  });

  it('skips a bulk lot altogether when it was made from something held', () => {
    const found = advice([wax('R-2', { stops: [{ hold: hold(), inherited: true, spans: null }] })], 1);
    expect(found.proposed).toEqual([]);
    expect(found.skipped[0]?.detail).toBe('was made from R-1, which is on hold H-0001: smells wrong');
  });
});

describe('older stock passed over (D-8)', () => {
  const judged = [cans('OLD', { expiresOn: '2026-06-01' }), cans('NEW')].map((lot) => judgeStock(lot, ON));
  const fresh = cans('NEW');

  it('is named when some of it is left', () => {
    expect(passedOver(fresh, judged, new Map([['OLD', 99 * MICRO]]))).toEqual(['OLD']);
  });
  it('is not named when all of it goes too, or when it cannot go', () => {
    expect(passedOver(fresh, judged, new Map([['OLD', 100 * MICRO]]))).toEqual([]);
    const expired = judgeStock(cans('GONE', { expiresOn: '2026-01-01' }), ON);
    expect(passedOver(fresh, [expired], new Map())).toEqual([]);
  });
  it('is never the lot itself or a younger one', () => {
    expect(passedOver(cans('OLD', { expiresOn: '2026-06-01' }), judged, new Map())).toEqual([]);
  });
});
