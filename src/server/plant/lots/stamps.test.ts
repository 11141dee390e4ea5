import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import type { LotStatus } from '../stock/effects.facts.js';
import { type Stamped, stampsOf } from './stamps.js';

const bulk = (more: Partial<Stamped> = {}): Stamped => ({
  pieces: null,
  expiresOn: null,
  statuses: new Map([['released', null]]),
  holds: [],
  scrapped: null,
  allScrapped: false,
  ...more,
});
const numbered = (more: Partial<Stamped> = {}): Stamped => ({
  ...bulk(),
  pieces: 10,
  statuses: new Map([['released', [[1, 10]]]]),
  scrapped: [],
  ...more,
});
const words = (lot: Stamped, on = '2026-03-02', within?: Parameters<typeof stampsOf>[2]): string[] =>
  stampsOf(lot, on, within).map(({ stamp, pieces, quantity }) => [stamp, pieces ?? quantity].filter((part) => part !== null).join(' '));

describe('ST-1, LT-2: what a lot is stamped with', () => {
  it.each<[LotStatus, string]>([
    ['quarantine', 'QUARANTINE'],
    ['released', 'RELEASED'],
    ['not-accepted', 'NOT ACCEPTED'],
  ])('%s', (status, word) => expect(words(bulk({ statuses: new Map([[status, null]]) }))).toEqual([word]));

  it('says status, hold and expiry together', () => {
    const lot = bulk({ holds: [{ spans: null, quantityMicro: null }], expiresOn: '2026-03-01' });
    expect(words(lot)).toEqual(['RELEASED', 'HELD', 'EXPIRED']);
    expect(words(lot, '2026-03-01')).toEqual(['RELEASED', 'HELD']);
  });

  it('ST-10: says which quantity is held', () => {
    const holds = [
      { spans: null, quantityMicro: 30 * MICRO },
      { spans: null, quantityMicro: 5 },
    ];
    expect(words(bulk({ holds }))).toEqual(['RELEASED', 'HELD 30', 'HELD 0.000005']);
  });

  it('says each word of its own pieces, those of several holds joined', () => {
    const lot = numbered({
      statuses: new Map([
        ['released', [[1, 6]]],
        ['quarantine', [[7, 10]]],
      ]),
      holds: [
        { spans: [[5, 7]], quantityMicro: null },
        { spans: [[8, 8]], quantityMicro: null },
      ],
      scrapped: [[10, 10]],
    });
    expect(words(lot)).toEqual(['SCRAPPED 10', 'QUARANTINE 7-9', 'RELEASED 1-6', 'HELD 5-8']);
    expect(words(lot, '2026-03-02', [[1, 5]])).toEqual(['RELEASED 1-5', 'HELD 5']);
  });

  it('says of a lot that is scrapped altogether only that, besides holds and expiry', () => {
    expect(words(numbered({ scrapped: [[1, 10]], allScrapped: true }))).toEqual(['SCRAPPED 1-10']);
    expect(words(bulk({ allScrapped: true, expiresOn: '2026-01-01' }))).toEqual(['SCRAPPED', 'EXPIRED']);
  });
});
