import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import type { Refusal } from '../../../../shared/refusal.js';
import { wholeLot } from '../../../../shared/spans.js';
import type { LotState } from '../stock/lot-state.facts.js';
import type { InspectionState } from './inspection-state.facts.js';
import { decideSkip, decideUrgency } from './skip.decide.js';

const SIGNATURE = { by: 'quality-1', at: '2026-03-02T08:00:00.000Z', meaning: 'I let it go on' };
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
  places: [],
  statuses: new Map([['quarantine', wholeLot(100)]]),
  holds: [],
  inherited: [],
  urgentReleases: [],
  grants: [],
};
const INSPECTION: InspectionState = {
  inspection: 'IN-1',
  lot: 'F-1',
  item: 'WAX-250',
  spans: [[1, 50]],
  lotSize: 50,
  occasion: 'run',
  supplier: null,
  state: 'waiting',
  verdict: null,
  sample: null,
  plan: { code: 'WAX-250', name: 'Cans', revision: 1, characteristics: [], occasions: [] },
  tallies: [],
  talliesEver: 0,
  results: [],
  resultsEver: 0,
};
const OUT_OF_LIMITS = {
  result: 1,
  measured: { characteristic: 'NET', inputs: [], valueMicro: 1, unit: 'g', within: false, fault: 'below 240', figures: [], cautions: [] },
} as unknown as InspectionState['results'][number];

const skip = (inspection: Partial<InspectionState> = {}, lot: Partial<LotState> = {}, makers: readonly string[] = []) =>
  decideSkip(
    { reason: 'the customer waits' },
    {
      inspection: { ...INSPECTION, ...inspection },
      urgent: { urgentRelease: 'UR-2', lot: { ...LOT, ...lot }, makers, on: '2026-03-02' },
    },
    SIGNATURE,
  );
const codes = (act: () => unknown): string[] => {
  try {
    act();
  } catch (error) {
    return (error as Refusal).reasons.map((reason) => reason.code);
  }
  return [];
};

describe('IN-33: skipping an inspection', () => {
  it('opens an urgent release of what was to be inspected, both signed', () => {
    expect(skip()).toEqual([
      { kind: 'InspectionSkipped', v: 1, inspection: 'IN-1', urgentRelease: 'UR-2', reason: 'the customer waits', signature: SIGNATURE },
      {
        kind: 'UrgentReleaseOpened',
        v: 1,
        urgentRelease: 'UR-2',
        lot: 'F-1',
        spans: [[1, 50]],
        setsAside: ['quarantine'],
        reason: 'the customer waits',
        signature: SIGNATURE,
      },
    ]);
    expect(skip({ spans: null, state: 'begun' }, { pieces: null, statuses: new Map([['quarantine', null]]) })[1].spans).toBeNull();
  });

  it.each<[string, Partial<InspectionState>, Partial<LotState>, readonly string[], string[]]>([
    ['that is decided', { state: 'decided' }, {}, [], ['inspection-ended']],
    ['that was skipped', { state: 'skipped' }, {}, [], ['inspection-ended']],
    ['that was called off', { state: 'called-off' }, {}, [], ['inspection-ended']],
    ['IN-34: that has found what is not accepted', { state: 'begun', results: [OUT_OF_LIMITS] }, {}, [], ['found-already']],
    ['of what is released', {}, { statuses: new Map([['released', wholeLot(100)]]) }, [], ['nothing-to-set-aside']],
    ['of what was not accepted', {}, { statuses: new Map([['not-accepted', wholeLot(100)]]) }, [], ['lot-not-accepted']],
    ['by whoever made the lot', {}, {}, ['quality-1'], ['maker-cannot-release']],
  ])('is refused for one %s', (_what, inspection, lot, makers, expected) => {
    expect(codes(() => skip(inspection, lot, makers))).toEqual(expected);
  });
});

describe('IN-35: urgency', () => {
  it('is given to what is open', () => {
    expect(decideUrgency({ reason: 'line stands' }, INSPECTION)).toEqual({
      kind: 'InspectionMadeUrgent',
      v: 1,
      inspection: 'IN-1',
      reason: 'line stands',
    });
    expect(codes(() => decideUrgency({ reason: 'line stands' }, { ...INSPECTION, state: 'decided' }))).toEqual(['inspection-ended']);
  });
});
