import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { parseSpans, type SpanSet, wholeLot } from '../../../../shared/spans.js';
import type { OpenHold } from '../holds/holds.facts.js';
import type { Grant } from '../nonconformance/grants.facts.js';
import { onHand } from './effects.facts.js';
import type { LotState } from './lot-state.facts.js';
import { checkUsable, type Use } from './usable.decide.js';

const LOT: Omit<LotState, 'pieces' | 'places' | 'statuses'> = {
  id: 1,
  lot: 'L-1',
  item: 'WAX-250',
  itemRevision: 1,
  unit: 'kg',
  quantityMicro: 100 * MICRO,
  origin: 'made',
  bornAt: '2026-03-01T08:00:00.000Z',
  bornSeq: 1,
  madeOn: null,
  expiresOn: null,
  supplier: null,
  supplierLot: null,
  source: 'RUN-0001',
  holds: [],
  inherited: [],
  urgentReleases: [],
  grants: [],
};
const RELEASED = new Map([['released', null]] as const);
const bulk = (more: Partial<LotState> = {}): LotState => ({
  ...LOT,
  pieces: null,
  places: [{ place: onHand('A'), quantityMicro: 100 * MICRO, spans: null }],
  statuses: RELEASED,
  ...more,
});
const numbered = (more: Partial<LotState> = {}): LotState => ({
  ...LOT,
  unit: 'each',
  pieces: 100,
  places: [{ place: onHand('A'), quantityMicro: 100 * MICRO, spans: wholeLot(100) }],
  statuses: new Map([['quarantine', wholeLot(100)]]),
  ...more,
});
const hold = (code: string, spans: SpanSet | null = null, kilograms: number | null = null): OpenHold => ({
  hold: code,
  lotId: 1,
  lot: 'L-1',
  spans,
  quantityMicro: kilograms === null ? null : kilograms * MICRO,
  reaches: false,
  reason: 'affected',
});
const grant = (kind: Grant['kind'], part: string | readonly [used: number, left: number], more: Partial<Grant> = {}): Grant => ({
  report: 'NC-0001',
  disposition: 1,
  kind,
  spans: typeof part === 'string' ? parseSpans(part) : null,
  usedMicro: typeof part === 'string' ? null : part[0] * MICRO,
  leftMicro: typeof part === 'string' ? null : part[1] * MICRO,
  onHandMicro: typeof part === 'string' ? null : 100 * MICRO,
  until: kind === 'concession' ? '2026-03-31' : null,
  holds: ['H-1', 'H-2'],
  ...more,
});
const pieces = (text: string, more: Partial<Use> = {}): Use => ({ spans: parseSpans(text), quantityMicro: 0, on: '2026-03-31', ...more });
const kg = (kilograms: number, more: Partial<Use> = {}): Use => ({
  spans: null,
  quantityMicro: kilograms * MICRO,
  on: '2026-03-31',
  ...more,
});
const codes = (lot: LotState, use: Use): string[] => {
  const no = new Reasons();
  checkUsable(no, lot, use);
  return no.list.map((reason) => reason.code);
};

describe('what dispositions let go of numbered pieces', () => {
  const held = { holds: [hold('H-1', [[1, 20]])] };
  const conceded = numbered({ ...held, grants: [grant('concession', '1-10')] });
  const reworked = numbered({ ...held, grants: [grant('rework', '1-10')] });
  const refused = numbered({ statuses: new Map([['not-accepted', wholeLot(100)]]), grants: [grant('concession', '1-10')] });

  it.each<[string, LotState, Use, string[]]>([
    ['held and in quarantine, on the last day', conceded, pieces('1-10'), []],
    ['the day after', conceded, pieces('1-10', { on: '2026-04-01' }), ['lot-not-released', 'lot-held', 'concession-expired']],
    ['one piece beyond', conceded, pieces('10-11'), ['lot-not-released', 'lot-held']],
    [
      'a piece that is held by something else',
      numbered({ holds: [hold('H-9', [[5, 5]])], grants: [grant('concession', '1-10')] }),
      pieces('4-6'),
      ['lot-held'],
    ],
    ['what was not accepted', refused, pieces('1-10'), []],
    ['what was not accepted, beyond', refused, pieces('1-11'), ['lot-not-accepted']],
    ['made from what the report holds', numbered({ inherited: [hold('H-2')], grants: [grant('concession', '1-10')] }), pieces('2-3'), []],
    [
      'made from what something else holds',
      numbered({ inherited: [hold('H-9')], grants: [grant('concession', '1-10')] }),
      pieces('2-3'),
      ['made-from-held'],
    ],
    [
      'two concessions side by side',
      numbered({ ...held, grants: [grant('concession', '1-10'), grant('concession', '11-20')] }),
      pieces('8-13'),
      [],
    ],
    ['a signed rework, into a rework run', reworked, pieces('1-10', { rework: true }), []],
    ['a signed rework, into anything else', reworked, pieces('1-10'), ['lot-not-released', 'lot-held']],
    ['expired all the same', numbered({ expiresOn: '2026-01-01', grants: [grant('concession', '1-10')] }), pieces('1'), ['lot-expired']],
  ])('%s', (_what, lot, use, expected) => expect(codes(lot, use)).toEqual(expected));
});

describe('what dispositions let go of a quantity', () => {
  const marked = { holds: [hold('H-1', null, 20)] };
  const waiting = new Map([['quarantine', null]] as const);

  it.each<[string, LotState, Use, string[]]>([
    ['all that is free and all of the concession', bulk({ ...marked, grants: [grant('concession', [0, 20])] }), kg(100), []],
    [
      'what another hold keeps back stays',
      bulk({ holds: [hold('H-1', null, 20), hold('H-9', null, 30)], grants: [grant('concession', [0, 20])] }),
      kg(71),
      ['not-enough-left', 'concession-used-up'],
    ],
    ['the rest of one that is used in part', bulk({ ...marked, grants: [grant('concession', [15, 5])] }), kg(100), []],
    ['no more than is left of it in quarantine', bulk({ statuses: waiting, grants: [grant('concession', [15, 5])] }), kg(5), []],
    [
      'a millionth more',
      bulk({ statuses: waiting, grants: [grant('concession', [15, 5])] }),
      { ...kg(5), quantityMicro: 5 * MICRO + 1 },
      ['lot-not-released', 'concession-used-up'],
    ],
    [
      'one that has ended keeps its rest back',
      bulk({ ...marked, grants: [grant('concession', [5, 15])] }),
      kg(86, { on: '2026-04-01' }),
      ['not-enough-left', 'concession-expired'],
    ],
    [
      'one that has ended leaves what is free',
      bulk({ ...marked, grants: [grant('concession', [5, 15])] }),
      kg(85, { on: '2026-04-01' }),
      [],
    ],
    ['a rework run up to what was decided', bulk({ statuses: waiting, grants: [grant('rework', [0, 40])] }), kg(40, { rework: true }), []],
    [
      'a rework run beyond',
      bulk({ statuses: waiting, grants: [grant('rework', [0, 40])] }),
      kg(41, { rework: true }),
      ['lot-not-released', 'rework-used-up'],
    ],
    ['a rework that is shipped', bulk({ statuses: waiting, grants: [grant('rework', [0, 40])] }), kg(1), ['lot-not-released']],
  ])('%s', (_what, lot, use, expected) => expect(codes(lot, use)).toEqual(expected));

  it('counts what earlier lines of the same command took', () => {
    const lot = bulk({ statuses: waiting, grants: [grant('concession', [0, 20])] });
    const after = { ...lot, places: [{ ...lot.places[0]!, quantityMicro: 85 * MICRO }] };
    expect(codes(after, kg(5))).toEqual([]);
    expect(codes(after, kg(6))).toEqual(['lot-not-released', 'concession-used-up']);
  });
});
