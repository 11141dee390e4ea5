import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import type { Refusal } from '../../../../shared/refusal.js';
import { parseSpans, wholeLot } from '../../../../shared/spans.js';
import type { LotState } from '../stock/lot-state.facts.js';
import { decideRequest, type RequestState } from './request.decide.js';
import type { LotInspection } from './standing.decide.js';

const here = (pieces: string) => ({
  place: { fate: 'on-hand' as const, at: 'FG-1' },
  spans: parseSpans(pieces),
  quantityMicro: 90 * MICRO,
});
const LOT: LotState = {
  id: 7,
  lot: 'F-1',
  item: 'WAX-250',
  itemRevision: 1,
  unit: 'each',
  pieces: 100,
  quantityMicro: 100 * MICRO,
  origin: 'made',
  bornAt: '2026-03-01T08:00:00.000Z',
  bornSeq: 3,
  madeOn: null,
  expiresOn: null,
  supplier: null,
  supplierLot: null,
  source: 'RUN-1',
  places: [here('1-90'), { place: { fate: 'dispatched', at: 'S-1' }, spans: parseSpans('91-100'), quantityMicro: 10 * MICRO }],
  statuses: new Map([['quarantine', wholeLot(100)]]),
  holds: [],
  inherited: [],
  urgentReleases: [],
  grants: [],
};
const bulk = (onHand: number, more: Partial<LotState> = {}): LotState => ({
  ...LOT,
  unit: 'kg',
  pieces: null,
  supplier: 'S-WAX',
  places: [{ place: { fate: 'on-hand', at: 'DOCK' }, spans: null, quantityMicro: onHand * MICRO }],
  ...more,
});
const PLAN = { code: 'WAX-250', name: 'Cans', revision: 3, characteristics: [], occasions: ['run'] } as const;
const past = (code: string, pieces: string, more: Partial<LotInspection> = {}): LotInspection => ({
  inspection: code,
  spans: parseSpans(pieces),
  state: 'decided',
  verdict: 'accepted',
  ...more,
});
const REFUSED = { verdict: 'not-accepted' } as const;

const ask = (more: Partial<RequestState> = {}, pieces?: string) =>
  decideRequest(
    { lot: 'F-1', reason: 'a customer asked', pieces: pieces === undefined ? undefined : parseSpans(pieces) },
    { lot: LOT, plan: PLAN, inspections: [], containers: null, inspection: 'IN-9', ...more },
  );
const codes = (act: () => unknown): string[] => {
  try {
    act();
  } catch (error) {
    return (error as Refusal).reasons.map((reason) => reason.code);
  }
  return [];
};

describe('IN-30: an inspection on request', () => {
  it('is of what is on hand, by the plan as it stands, with its reason', () => {
    expect(ask()).toMatchObject({
      kind: 'InspectionOpened',
      inspection: 'IN-9',
      lot: 'F-1',
      spans: [[1, 90]],
      lotSize: 90,
      occasion: 'request',
      source: null,
      planRevision: 3,
      resubmits: null,
      reason: 'a customer asked',
    });
    expect(ask({}, '5-8')).toMatchObject({ spans: [[5, 8]], lotSize: 4 });
  });

  it('of bulk takes the containers it came in, until some has been taken', () => {
    expect(ask({ lot: bulk(100), containers: 4 })).toMatchObject({ spans: null, lotSize: 4, supplier: 'S-WAX' });
    expect(ask({ lot: bulk(99), containers: 4 })).toMatchObject({ lotSize: null });
    expect(ask({ lot: bulk(60, { unit: 'each' }), containers: 4 })).toMatchObject({ lotSize: 60 });
  });

  it.each<[string, Partial<RequestState>, string | undefined, string[]]>([
    ['of a lot nobody knows', { lot: undefined }, undefined, ['lot-unknown']],
    ['of an item without a plan', { plan: undefined }, undefined, ['no-inspection-plan']],
    ['of pieces the lot does not have', {}, '100-101', ['pieces-outside-lot']],
    ['of pieces that went out', {}, '90-91', ['pieces-not-there']],
    ['of pieces of bulk', { lot: bulk(5) }, '1', ['no-pieces-here']],
    ['of a lot of which nothing is here', { lot: bulk(0, { places: [] }) }, undefined, ['nothing-to-inspect']],
    ['while one waits', { inspections: [past('IN-1', '90-95', { state: 'waiting' })] }, undefined, ['inspection-open-already']],
    ['while one is under way', { inspections: [past('IN-1', '1-5', { state: 'begun' })] }, '5', ['inspection-open-already']],
    [
      'for every reason at once',
      { plan: undefined, inspections: [past('IN-1', '1-5', { state: 'begun' })] },
      '5,99',
      ['pieces-not-there', 'no-inspection-plan', 'inspection-open-already'],
    ],
  ])('refused %s', (_what, state, pieces, expected) => expect(codes(() => ask(state, pieces))).toEqual(expected));

  it('goes beside one of other pieces', () => {
    expect(ask({ inspections: [past('IN-1', '1-5', { state: 'begun' })] }, '6-10').inspection).toBe('IN-9');
  });
});

describe('IN-31: presented again', () => {
  it.each<[string, LotInspection[], string | undefined, string | null]>([
    ['what the last one did not accept', [past('IN-1', '1-100', REFUSED)], undefined, 'IN-1'],
    ['a part of it, after sorting', [past('IN-1', '1-100', REFUSED)], '1-50', 'IN-1'],
    ['the later of two', [past('IN-1', '1-100', REFUSED), past('IN-2', '1-100', REFUSED)], undefined, 'IN-2'],
    ['what nothing accepted since, although another part was', [past('IN-1', '1-100', REFUSED), past('IN-2', '1-50')], undefined, 'IN-1'],
    [
      'what was not accepted before somebody skipped it',
      [past('IN-1', '1-100', REFUSED), past('IN-2', '1-100', { state: 'skipped', verdict: null })],
      undefined,
      'IN-1',
    ],
    ['but not what was accepted since', [past('IN-1', '1-100', REFUSED), past('IN-2', '1-100')], undefined, null],
    ['and not other pieces', [past('IN-1', '1-50', REFUSED)], '51-60', null],
  ])('is %s', (_what, inspections, pieces, resubmits) => {
    expect(ask({ inspections }, pieces)).toMatchObject({ occasion: resubmits === null ? 'request' : 'resubmission', resubmits });
  });
});
