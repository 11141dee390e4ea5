import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import type { Refusal } from '../../../../shared/refusal.js';
import { parseSpans, wholeLot } from '../../../../shared/spans.js';
import type { OpenHold } from '../holds/holds.facts.js';
import type { LotInspection } from '../inspection/standing.decide.js';
import type { LotState } from '../stock/lot-state.facts.js';
import { decideNonAcceptance, decideReconsideration, decideRelease, type ReleaseState } from './release.decide.js';

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
const BULK: Partial<LotState> = { pieces: null, statuses: new Map([['quarantine', null]]) };
const MIXED: Partial<LotState> = {
  statuses: new Map([
    ['quarantine', [[1, 40]]],
    ['released', [[41, 80]]],
    ['not-accepted', [[81, 100]]],
  ]),
};
const HOLD: OpenHold = { hold: 'H-0001', lotId: 7, lot: 'F-1', spans: [[50, 60]], quantityMicro: null, reaches: false, reason: 'dented' };
const SIGNATURE = { by: 'quality-1', at: '2026-03-02T08:00:00.000Z', meaning: 'I release it' };

const stateOf = (lot: Partial<LotState>, more: Partial<ReleaseState> = {}): ReleaseState => ({
  lot: { ...LOT, ...lot },
  makers: ['operator-1'],
  unexplained: [],
  inspections: [],
  questions: [],
  unverified: [],
  reworkedSince: [],
  on: '2026-03-02',
  ...more,
});

type Decision = typeof decideRelease | typeof decideNonAcceptance | typeof decideReconsideration;
const run = (decide: Decision, lot: Partial<LotState>, pieces?: string, more: Partial<ReleaseState> = {}) =>
  decide({ lot: 'F-1', reason: 'looked at', pieces: pieces === undefined ? undefined : parseSpans(pieces) }, stateOf(lot, more), SIGNATURE);

const codes = (act: () => unknown): string[] => {
  try {
    act();
  } catch (error) {
    return (error as Refusal).reasons.map((reason) => reason.code);
  }
  return [];
};

describe('release', () => {
  it('QD-1: gives the lot its status and keeps signature and reason', () => {
    expect(run(decideRelease, {})).toEqual({
      kind: 'LotReleased',
      v: 1,
      lot: 'F-1',
      spans: [[1, 100]],
      reason: 'looked at',
      signature: SIGNATURE,
      restatused: [{ lot: 'F-1', spans: [[1, 100]], status: 'released' }],
    });
    expect(run(decideRelease, BULK).restatused).toEqual([{ lot: 'F-1', spans: null, status: 'released' }]);
  });

  it('QD-2: of a whole lot covers what is in quarantine of it; named pieces must all be', () => {
    expect(run(decideRelease, MIXED).spans).toEqual([[1, 40]]);
    expect(run(decideRelease, MIXED, '5-10').spans).toEqual([[5, 10]]);
    expect(codes(() => run(decideRelease, MIXED, '40-41'))).toEqual(['not-in-quarantine']);
    expect(codes(() => run(decideRelease, MIXED, '100-101'))).toEqual(['pieces-outside-lot']);
    expect(codes(() => run(decideRelease, BULK, '1'))).toEqual(['no-pieces-here']);
  });

  it('a lot that came back in part is released again in that part', () => {
    const back: Partial<LotState> = {
      statuses: new Map([
        ['released', [[1, 90]]],
        ['quarantine', [[91, 100]]],
      ]),
    };
    expect(run(decideRelease, back, '91-95').restatused).toEqual([{ lot: 'F-1', spans: [[91, 95]], status: 'released' }]);
  });

  it.each<[string, Partial<LotState>, string | undefined, Partial<ReleaseState>, string[]]>([
    ['QD-3: by whoever made it', {}, undefined, { makers: ['operator-1', 'quality-1'] }, ['maker-cannot-release']],
    ['of what is released already', { statuses: new Map([['released', wholeLot(100)]]) }, undefined, {}, ['not-in-quarantine']],
    ['QD-4: of an expired lot', { expiresOn: '2026-03-01' }, undefined, {}, ['lot-expired']],
    ['QD-4: of held pieces', { holds: [HOLD] }, '60-61', {}, ['lot-held']],
    ['QD-4: of what was made from something held', { inherited: [{ ...HOLD, lot: 'B-1' }] }, undefined, {}, ['made-from-held']],
    ['QD-7: while a yield is not explained', {}, undefined, { unexplained: ['yield 88 %'] }, ['investigation-open']],
    ['of a lot nobody knows', {}, undefined, { lot: undefined }, ['lot-unknown']],
  ])('refused %s', (_what, lot, pieces, more, expected) => {
    expect(codes(() => run(decideRelease, lot, pieces, more))).toEqual(expected);
  });

  it('is possible beside held pieces, on the last day, and with a quantity held', () => {
    expect(codes(() => run(decideRelease, { holds: [HOLD], expiresOn: '2026-03-02' }, '1-49,61-100'))).toEqual([]);
    expect(codes(() => run(decideRelease, { ...BULK, holds: [{ ...HOLD, spans: null, quantityMicro: MICRO }] }))).toEqual([]);
  });

  it('says everything that stands against it at once', () => {
    const lot = { expiresOn: '2026-01-01', holds: [HOLD], inherited: [{ ...HOLD, lot: 'B-1' }] };
    expect(codes(() => run(decideRelease, lot, undefined, { makers: ['quality-1'], unexplained: ['yield 88 %'] }))).toEqual([
      'maker-cannot-release',
      'investigation-open',
      'lot-expired',
      'lot-held',
      'made-from-held',
    ]);
  });
});

describe('QD-8 to QD-10: the gate of inspection', () => {
  const inspection = (code: string, pieces: string | null, state: LotInspection['state'], verdict: LotInspection['verdict'] = null) => ({
    inspection: code,
    spans: pieces === null ? null : parseSpans(pieces),
    state,
    verdict,
  });
  const FIRST = inspection('IN-1', '1-100', 'decided', 'not-accepted');
  const bulk = (...inspections: LotInspection[]) => codes(() => run(decideRelease, BULK, undefined, { inspections }));
  const pieces = (which: string | undefined, ...inspections: LotInspection[]) =>
    codes(() => run(decideRelease, {}, which, { inspections }));

  it.each<[string, LotInspection, string[]]>([
    ['waits', inspection('IN-1', null, 'waiting'), ['inspection-open']],
    ['is under way', inspection('IN-1', null, 'begun'), ['inspection-open']],
    ['did not accept it', inspection('IN-1', null, 'decided', 'not-accepted'), ['inspection-not-accepted']],
    ['was skipped', inspection('IN-1', null, 'skipped'), ['inspection-skipped']],
    ['accepted it', inspection('IN-1', null, 'decided', 'accepted'), []],
    ['was called off', inspection('IN-1', null, 'called-off'), []],
  ])('AU-8: an inspection that %s', (_what, one, expected) => expect(bulk(one)).toEqual(expected));

  it('a later inspection takes the place of the one before, for the pieces it was of', () => {
    expect(pieces(undefined, FIRST, inspection('IN-2', '1-100', 'decided', 'accepted'))).toEqual([]);
    expect(pieces('1-50', FIRST, inspection('IN-2', '1-50', 'decided', 'accepted'))).toEqual([]);
    expect(pieces('50-51', FIRST, inspection('IN-2', '1-50', 'decided', 'accepted'))).toEqual(['inspection-not-accepted']);
    expect(pieces('1-50', FIRST, inspection('IN-2', '1-50', 'waiting'))).toEqual(['inspection-open']);
    expect(pieces(undefined, inspection('IN-1', '1-100', 'decided', 'accepted'), inspection('IN-2', '3-5', 'waiting'))).toEqual([
      'inspection-open',
    ]);
    expect(pieces('6-9', inspection('IN-1', '1-100', 'decided', 'accepted'), inspection('IN-2', '3-5', 'waiting'))).toEqual([]);
  });

  it('QD-11: rests on no instrument that is in question; an inspection since with another one sets that right', () => {
    const questions = [{ instrument: 'VISC-1', calibration: 'CAL-0003', inspections: ['IN-1'] }];
    const accepted = inspection('IN-1', '1-100', 'decided', 'accepted');
    const act = () => run(decideRelease, {}, '40-60', { inspections: [accepted], questions });
    expect(codes(act)).toEqual(['test-instrument-questioned']);
    expect(act).toThrow(/VISC-1 measured pieces 40-60 of F-1 at inspection IN-1 and CAL-0003 puts it in doubt/);
    const again = inspection('IN-2', '1-50', 'decided', 'accepted');
    expect(codes(() => run(decideRelease, {}, '40-50', { inspections: [accepted, again], questions }))).toEqual([]);
    expect(codes(() => run(decideRelease, {}, '40-60', { inspections: [accepted, again], questions }))).toEqual([
      'test-instrument-questioned',
    ]);
  });

  it('says which pieces each one is about', () => {
    const act = () => run(decideRelease, {}, '40-60', { inspections: [FIRST, inspection('IN-2', '1-50', 'skipped')] });
    expect(() => act()).toThrow(/IN-2 of pieces 40-50 of F-1 was skipped/);
    expect(() => act()).toThrow(/IN-1 did not accept pieces 51-60 of F-1/);
  });

  it('does not stand against not accepting the lot', () => {
    expect(codes(() => run(decideNonAcceptance, BULK, undefined, { inspections: [inspection('IN-1', null, 'waiting')] }))).toEqual([]);
  });
});

describe('QD-12: what was reworked', () => {
  const accepted: LotInspection = { inspection: 'IN-0001', spans: [[1, 100]], state: 'decided', verdict: 'accepted' };
  const again: LotInspection = { inspection: 'IN-0002', spans: [[5, 5]], state: 'decided', verdict: 'accepted' };
  const replaced = { inspection: 'IN-0001', piece: 5 };
  const rework = { report: 'NC-0001', disposition: 2 };

  it.each<[string, string | undefined, Partial<ReleaseState>, string[]]>([
    ['a piece accepted before a part of it was replaced', '5', { reworkedSince: [replaced] }, ['inspected-before-rework']],
    ['the whole lot with such a piece in it', undefined, { reworkedSince: [replaced] }, ['inspected-before-rework']],
    ['the pieces beside it', '1-4,6-100', { reworkedSince: [replaced] }, []],
    ['the piece once it was accepted again', '5', { reworkedSince: [replaced], inspections: [accepted, again] }, []],
    ['pieces whose rework nobody verified', '5-9', { unverified: [{ ...rework, spans: [[9, 12]] }] }, ['rework-unverified']],
    ['pieces beside those', '1-8', { unverified: [{ ...rework, spans: [[9, 12]] }] }, []],
    ['a lot that was reworked from others', undefined, { unverified: [{ ...rework, spans: null }] }, ['rework-unverified']],
  ])('%s', (_what, pieces, more, expected) => {
    expect(codes(() => run(decideRelease, {}, pieces, { inspections: [accepted], ...more }))).toEqual(expected);
  });
});

describe('QD-5: non-acceptance', () => {
  it('refuses what is in quarantine or was released; of a whole lot what is still open', () => {
    expect(run(decideNonAcceptance, BULK).restatused).toEqual([{ lot: 'F-1', spans: null, status: 'not-accepted' }]);
    expect(run(decideNonAcceptance, MIXED).spans).toEqual([[1, 80]]);
    expect(run(decideNonAcceptance, MIXED, '40-41').spans).toEqual([[40, 41]]);
  });

  it.each<[string, Partial<LotState>, string | undefined]>([
    ['a bulk lot twice', { pieces: null, statuses: new Map([['not-accepted', null]]) }, undefined],
    ['a numbered lot twice', { statuses: new Map([['not-accepted', wholeLot(100)]]) }, undefined],
    ['pieces among them some that are not accepted', MIXED, '80-81'],
  ])('does not refuse %s', (_what, lot, pieces) => {
    expect(codes(() => run(decideNonAcceptance, lot, pieces))).toEqual(['not-accepted-already']);
  });

  it('is open to whoever made the lot: it lets nothing go', () => {
    expect(codes(() => run(decideNonAcceptance, {}, undefined, { makers: ['quality-1'] }))).toEqual([]);
  });
});

describe('QD-6: reconsideration', () => {
  it('takes a decision back into quarantine', () => {
    const refused = { statuses: new Map([['not-accepted' as const, wholeLot(100)]]) };
    expect(run(decideReconsideration, refused, '7').restatused).toEqual([{ lot: 'F-1', spans: [[7, 7]], status: 'quarantine' }]);
    expect(run(decideReconsideration, MIXED).spans).toEqual([[1, 100]]);
    expect(codes(() => run(decideReconsideration, {}))).toEqual(['in-quarantine-already']);
    expect(codes(() => run(decideReconsideration, MIXED, '1-40'))).toEqual(['in-quarantine-already']);
  });
});
