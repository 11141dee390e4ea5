import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import { Refusal } from '../../../../shared/refusal.js';
import { spanSet } from '../../../../shared/spans.js';
import type { OpenHold, OpenUrgentRelease } from '../holds/holds.facts.js';
import type { LotState } from '../stock/lot-state.facts.js';
import { partsAsked } from './asked-lines.facts.js';
import {
  decideDispatch,
  decideReversal,
  type Dispatch,
  type DispatchLine,
  type DispatchState,
  type ReversalState,
} from './dispatch.decide.js';

const lot = (code: string, more: Partial<LotState> = {}): LotState => ({
  id: 1,
  lot: code,
  item: 'WAX-250',
  itemRevision: 1,
  unit: 'each',
  pieces: 10,
  quantityMicro: 10 * MICRO,
  origin: 'made',
  bornAt: '2026-02-01T08:00:00.000Z',
  bornSeq: 1,
  madeOn: null,
  expiresOn: null,
  supplier: null,
  supplierLot: null,
  source: 'RUN-0001',
  places: [{ place: { fate: 'on-hand', at: 'FG-1' }, quantityMicro: 10 * MICRO, spans: [[1, 10]] }],
  statuses: new Map([['released', spanSet([[1, 10]])]]),
  holds: [],
  inherited: [],
  urgentReleases: [],
  grants: [],
  ...more,
});

const hold: OpenHold = { hold: 'H-0001', lotId: 7, lot: 'R-7', spans: null, quantityMicro: null, reaches: true, reason: 'wrong dye' };

function dispatch(lines: readonly DispatchLine[], lots: readonly LotState[], more: Partial<DispatchState> = {}) {
  const command: Dispatch = {
    customer: 'C-001',
    documentType: 'dispatch note',
    document: '1',
    shippedAt: '2026-03-02T08:00:00.000Z',
    location: 'FG-1',
    lines,
  };
  const states = new Map(lots.map((state) => [state.lot, state]));
  return decideDispatch(command, {
    at: '2026-03-02T08:00:00.000Z',
    shipment: 'S-0001',
    customer: { code: 'C-001', name: 'Tumbledown Cycles', role: 'customer', revision: 3 },
    billTo: undefined,
    location: { code: 'FG-1', name: 'Finished goods', use: 'stock', revision: 1 },
    sameDocument: [],
    serials: new Map(),
    parts: partsAsked(lines, new Map()).map((part) => ({ ...part, state: states.get(part.lot) })),
    stock: [],
    ...more,
  });
}

const reasons = (run: () => unknown): string[] => {
  try {
    run();
  } catch (error) {
    if (error instanceof Refusal) return error.reasons.map((reason) => `${String(reason['pointer'])} ${reason.code}`);
    throw error;
  }
  return [];
};

const pieces = (code: string, first: number, last: number): DispatchLine => ({ lot: code, spans: [[first, last]] });

describe('dispatch', () => {
  it('moves exactly what is asked for out of the location', () => {
    const fact = dispatch([pieces('F-1', 2, 4)], [lot('F-1')]);
    expect(fact.moved).toEqual([
      {
        lot: 'F-1',
        spans: [[2, 4]],
        quantityMicro: 3 * MICRO,
        from: { fate: 'on-hand', at: 'FG-1' },
        to: { fate: 'dispatched', at: 'S-0001' },
      },
    ]);
    expect(fact.customerRevision).toBe(3);
  });

  it('ST-2, D-4: gives every reason of every line', () => {
    const bad = lot('F-2', {
      expiresOn: '2026-03-01',
      statuses: new Map([['quarantine', spanSet([[1, 10]])]]),
      holds: [{ ...hold, lot: 'F-2', spans: [[1, 1]] }],
      inherited: [hold],
    });
    expect(reasons(() => dispatch([pieces('F-1', 1, 1), pieces('F-2', 1, 1)], [lot('F-1'), bad]))).toEqual([
      '/lines/1 lot-not-released',
      '/lines/1 lot-expired',
      '/lines/1 lot-held',
      '/lines/1 made-from-held',
    ]);
  });

  it('D-4: a hold on other pieces of the lot does not stop these', () => {
    expect(reasons(() => dispatch([pieces('F-1', 1, 1)], [lot('F-1', { holds: [{ ...hold, spans: [[2, 9]] }] })]))).toEqual([]);
  });

  it('D-5: names the urgent release it leans on', () => {
    const urgentReleases: OpenUrgentRelease[] = [{ urgentRelease: 'UR-0001', lotId: 1, spans: null, setsAside: ['held'] }];
    const fact = dispatch([pieces('F-1', 1, 1)], [lot('F-1', { inherited: [hold], urgentReleases })]);
    expect(fact.lines[0]?.urgentReleases).toEqual(['UR-0001']);
  });

  it('D-3: a piece on two lines is named once', () => {
    expect(reasons(() => dispatch([pieces('F-1', 1, 5), pieces('F-1', 5, 6)], [lot('F-1')]))).toEqual(['/lines/1 pieces-named-twice']);
  });

  it('D-6: nothing leaves before it was made', () => {
    const late = lot('F-1', { bornAt: '2026-03-02T08:00:00.001Z' });
    expect(reasons(() => dispatch([pieces('F-1', 1, 1)], [late]))).toEqual(['/lines/0 shipped-before-made']);
  });
});

describe('reversal (D-9)', () => {
  const state: ReversalState = {
    shipment: 'S-0001',
    dispatchedSeq: 12,
    reversedSeq: null,
    location: 'FG-1',
    returns: [],
    out: [{ lot: 'F-1', spans: [[1, 3]], quantityMicro: 3 * MICRO }],
  };

  it('puts back what is out and names the entry it corrects', () => {
    expect(decideReversal('typed twice', state)).toMatchObject({
      corrects: 12,
      moved: [{ to: { fate: 'on-hand', at: 'FG-1' }, spans: [[1, 3]] }],
    });
  });

  it.each([
    [{ reversedSeq: 13 }, ['undefined reversed-before']],
    [{ returns: ['RT-0001', 'RT-0002'] }, ['undefined returned-from', 'undefined returned-from']],
    [{ location: null }, ['undefined location-missing']],
  ])('is refused with %j', (more, expected) => {
    expect(reasons(() => decideReversal('why', { ...state, ...more }))).toEqual(expected);
  });
});
