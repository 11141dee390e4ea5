import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { parseSpans, type SpanSet, wholeLot } from '../../../../shared/spans.js';
import type { OpenHold, OpenUrgentRelease, SetAside } from '../holds/holds.facts.js';
import { onHand } from './effects.facts.js';
import type { LotState } from './lot-state.facts.js';
import { checkUsable, type Use } from './usable.decide.js';

const STATE: Omit<LotState, 'pieces' | 'places' | 'statuses'> = {
  id: 1,
  lot: 'L-1',
  item: 'WAX-BASE',
  itemRevision: 1,
  unit: 'kg',
  quantityMicro: 100 * MICRO,
  origin: 'received',
  bornAt: '2026-03-01T08:00:00.000Z',
  bornSeq: 1,
  madeOn: null,
  expiresOn: null,
  supplier: 'S-WAX',
  supplierLot: 'L-1',
  source: 'D-0001',
  holds: [],
  inherited: [],
  urgentReleases: [],
  grants: [],
};

/** 100 kg released: 60 at A, 40 at B. */
const bulk = (more: Partial<LotState> = {}): LotState => ({
  ...STATE,
  pieces: null,
  places: [
    { place: onHand('A'), quantityMicro: 60 * MICRO, spans: null },
    { place: onHand('B'), quantityMicro: 40 * MICRO, spans: null },
  ],
  statuses: new Map([['released', null]]),
  ...more,
});

/** Pieces 1-100 released: 1-80 at A, 81-90 dispatched, 91-100 at B. */
const numbered = (more: Partial<LotState> = {}): LotState => ({
  ...STATE,
  unit: 'each',
  pieces: 100,
  places: [
    { place: { fate: 'dispatched', at: 'S-0001' }, quantityMicro: 10 * MICRO, spans: [[81, 90]] },
    { place: onHand('A'), quantityMicro: 80 * MICRO, spans: [[1, 80]] },
    { place: onHand('B'), quantityMicro: 10 * MICRO, spans: [[91, 100]] },
  ],
  statuses: new Map([['released', wholeLot(100)]]),
  ...more,
});

const hold = (more: Partial<OpenHold> = {}): OpenHold => ({
  hold: 'H-0001',
  lotId: 1,
  lot: 'L-1',
  spans: null,
  quantityMicro: null,
  reaches: true,
  reason: 'smell',
  ...more,
});

const urgent = (setsAside: readonly SetAside[], spans: SpanSet | null = null): OpenUrgentRelease => ({
  urgentRelease: 'UR-0001',
  lotId: 1,
  spans,
  setsAside,
});

const kg = (kilograms: number, more: Partial<Use> = {}): Use => ({
  spans: null,
  quantityMicro: kilograms * MICRO,
  on: '2026-03-02',
  ...more,
});
const pieces = (text: string, more: Partial<Use> = {}): Use => ({ spans: parseSpans(text), quantityMicro: 0, on: '2026-03-02', ...more });

function check(lot: LotState, use: Use): { codes: string[]; leaned: string[]; details: string[] } {
  const no = new Reasons();
  const leaned = checkUsable(no, lot, use);
  return { codes: no.list.map((reason) => reason.code), leaned, details: no.list.map((reason) => reason.detail) };
}

describe('S-4: only good material moves on', () => {
  it.each<[string, LotState, Use, string[]]>([
    ['all of a released lot', bulk(), kg(100), []],
    ['a millionth more than there is', bulk(), { ...kg(100), quantityMicro: 100 * MICRO + 1 }, ['not-enough-left']],
    ['all that is at one place', bulk(), kg(60, { from: 'A' }), []],
    ['more than is at that place', bulk(), kg(61, { from: 'A' }), ['not-enough-left']],
    ['a lot in quarantine', bulk({ statuses: new Map([['quarantine', null]]) }), kg(1), ['lot-not-released']],
    ['a lot that was not accepted', bulk({ statuses: new Map([['not-accepted', null]]) }), kg(1), ['lot-not-accepted']],
    ['on the day it expires', bulk({ expiresOn: '2026-03-02' }), kg(1), []],
    ['the day after', bulk({ expiresOn: '2026-03-01' }), kg(1), ['lot-expired']],
    ['a held lot', bulk({ holds: [hold()] }), kg(1), ['lot-held']],
    ['what was made from a held lot', bulk({ inherited: [hold({ lot: 'L-0', lotId: 2 })] }), kg(1), ['made-from-held']],
    ['pieces that are there, at both places', numbered(), pieces('1-80,91-100'), []],
    ['a piece that was dispatched', numbered(), pieces('80-81'), ['pieces-not-there']],
    ['a piece at another place', numbered(), pieces('91', { from: 'A' }), ['pieces-not-there']],
    ['pieces beside the held ones', numbered({ holds: [hold({ spans: [[5, 6]] })] }), pieces('1-4,7-9'), []],
    ['pieces among them held ones', numbered({ holds: [hold({ spans: [[5, 6]] })] }), pieces('6-9'), ['lot-held']],
  ])('%s', (_what, lot, use, expected) => {
    expect(check(lot, use).codes).toEqual(expected);
  });

  it('says every reason at once', () => {
    const lot = bulk({
      statuses: new Map([['quarantine', null]]),
      expiresOn: '2026-01-01',
      holds: [hold(), hold({ hold: 'H-0002' })],
      inherited: [hold({ hold: 'H-0003', lot: 'L-0' })],
    });
    expect(check(lot, kg(500)).codes).toEqual([
      'lot-not-released',
      'lot-expired',
      'lot-held',
      'lot-held',
      'made-from-held',
      'not-enough-left',
    ]);
  });

  it('names the pieces that are not released or not there', () => {
    const lot = numbered({
      statuses: new Map([
        ['released', [[1, 50]]],
        ['quarantine', [[51, 100]]],
      ]),
    });
    expect(check(lot, pieces('40-60,85')).details).toEqual([
      'L-1 pieces 51-60,85 is in quarantine: quality has not released it',
      '1 of the pieces of L-1 are not on hand: 85 dispatched in S-0001',
    ]);
    expect(check(lot, pieces('40-50')).codes).toEqual([]);
  });

  it('ST-10: a held quantity is kept back wherever it lies', () => {
    const lot = bulk({ holds: [hold({ quantityMicro: 30 * MICRO, reaches: false })] });
    expect(check(lot, kg(70)).codes).toEqual([]);
    expect(check(lot, kg(71)).codes).toEqual(['not-enough-left']);
    expect(check(lot, kg(60, { from: 'A' })).codes).toEqual([]);
    const twice = bulk({ holds: [hold({ quantityMicro: 30 * MICRO }), hold({ hold: 'H-0002', quantityMicro: 80 * MICRO })] });
    expect(check(twice, kg(1)).details).toEqual(['L-1 has 0 kg on hand (110 kg on hold), 1 asked for']);
  });
});

describe('H-6: what an urgent release sets aside', () => {
  const stopped = (setsAside: readonly SetAside[]): LotState =>
    bulk({
      statuses: new Map([['quarantine', null]]),
      expiresOn: '2026-01-01',
      holds: [hold()],
      inherited: [hold({ lot: 'L-0' })],
      urgentReleases: [urgent(setsAside)],
    });

  it.each<[readonly SetAside[], string[]]>([
    [['quarantine'], ['lot-expired', 'lot-held', 'made-from-held']],
    [['expired'], ['lot-not-released', 'lot-held', 'made-from-held']],
    [['held'], ['lot-not-released', 'lot-expired']],
    [['quarantine', 'expired', 'held'], []],
  ])('%j leaves the rest standing', (setsAside, left) => {
    expect(check(stopped(setsAside), kg(1))).toMatchObject({ codes: left, leaned: ['UR-0001'] });
  });

  it('is not leaned on where nothing stands against the use', () => {
    expect(check(bulk({ urgentReleases: [urgent(['quarantine', 'expired', 'held'])] }), kg(1)).leaned).toEqual([]);
  });

  it('covers only pieces it names, all of them', () => {
    const lot = numbered({ statuses: new Map([['quarantine', wholeLot(100)]]), urgentReleases: [urgent(['quarantine'], [[1, 10]])] });
    expect(check(lot, pieces('1-10')).codes).toEqual([]);
    expect(check(lot, pieces('10-11'))).toMatchObject({ codes: ['lot-not-released'], leaned: [] });
  });

  it('never lets go what was not accepted, nor more than there is', () => {
    const all = [urgent(['quarantine', 'expired', 'held'])];
    expect(check(bulk({ statuses: new Map([['not-accepted', null]]), urgentReleases: all }), kg(1)).codes).toEqual(['lot-not-accepted']);
    const part = bulk({ holds: [hold({ quantityMicro: 30 * MICRO })], urgentReleases: all });
    expect(check(part, kg(71)).codes).toEqual(['not-enough-left']);
  });
});
