import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import { spanSet, type SpanSet } from '../../../../shared/spans.js';
import type { Item } from '../catalogue/catalogue.facts.js';
import type { LotStatus } from '../stock/effects.facts.js';
import { type Affected, consigneesOf, whereaboutsOf } from './affected.js';
import { affectedLotList, differencesOf, type Standing } from './affected-lots.js';
import type { Figures } from './figures.query.js';
import type { KnownLine, KnownLot } from './known-at.query.js';
import { lotsForRibbons, recallRibbons } from './ribbons.js';
import { recallRiver } from './river.js';
import type { KnownLink } from '../../trace/link.js';

const CANS: Item = { code: 'WAX-250', name: 'Chain wax', class: 'filled', unit: 'each', tracking: 'pieces', contentMicro: 250_000 };
const WAX: Item = { code: 'MIX-WAX', name: 'Chain wax, bulk', class: 'mixture', unit: 'kg', tracking: 'bulk' };

const lot = (id: number, code: string, pieces: number | null, more: Partial<KnownLot> = {}): KnownLot => ({
  id,
  lot: code,
  item: pieces === null ? 'MIX-WAX' : 'WAX-250',
  itemRecord: pieces === null ? WAX : CANS,
  unit: pieces === null ? 'kg' : 'each',
  pieces,
  quantityMicro: (pieces ?? 100) * MICRO,
  origin: 'made',
  bornAt: '2026-02-01T08:00:00.000Z',
  bornSeq: 1,
  madeOn: null,
  expiresOn: null,
  source: `RUN-${code}`,
  supplier: null,
  supplierLot: null,
  ...more,
});

const line = (lotId: number, shipment: string, customer: string, spans: SpanSet | null, quantity = 0): KnownLine => ({
  lotId,
  spans,
  quantityMicro: spans === null ? quantity * MICRO : 0,
  shipment,
  customer,
  shippedAt: '2026-03-01T08:00:00.000Z',
  document: null,
  seq: 9,
});

const place = (lotId: number, fate: string, at: string, spans: SpanSet | null, quantity: number) => ({
  lotId,
  fate,
  at,
  spans,
  quantityMicro: quantity * MICRO,
});

function figures(affected: Affected, lots: readonly KnownLot[], lines: readonly KnownLine[], places: Figures['places']): Figures {
  const known = new Map(lots.map((each) => [each.id, each]));
  const customers = new Map(lines.map((each) => [each.shipment, each.customer]));
  const parties = new Map([['C-1', { code: 'C-1', name: 'Tumbledown Cycles', role: 'customer' as const }]]);
  return {
    seq: 10,
    affected,
    lots: known,
    lines,
    places,
    parties,
    customers,
    consignees: consigneesOf(affected, known, lines, places, parties),
    whereabouts: whereaboutsOf(affected, known, places, customers, parties),
  };
}

const CUT: Affected = new Map([[1, spanSet([[5, 8]])]]);
const cut = figures(
  CUT,
  [lot(1, 'F-1', 10)],
  [line(1, 'S-1', 'C-1', [[1, 3]]), line(1, 'S-1', 'C-1', [[5, 6]]), line(1, 'S-2', 'C-2', [[7, 10]])],
  [
    place(
      1,
      'dispatched',
      'S-1',
      [
        [1, 3],
        [5, 5],
      ],
      4,
    ),
    place(1, 'dispatched', 'S-2', [[7, 10]], 4),
    place(
      1,
      'on-hand',
      'QUAR',
      [
        [4, 4],
        [6, 6],
      ],
      2,
    ),
  ],
);

describe('consignees (RL-6)', () => {
  it('get only what is affected, lines of one shipment as one, and keep what came back', () => {
    expect(cut.consignees).toEqual([
      {
        code: 'C-1',
        name: 'Tumbledown Cycles',
        contact: null,
        lines: [
          {
            shipment: 'S-1',
            shippedOn: '2026-03-01',
            lot: 'F-1',
            unit: 'each',
            spans: [[5, 6]],
            quantityMicro: 2 * MICRO,
            out: { spans: [[5, 5]], quantityMicro: MICRO },
          },
        ],
      },
      {
        code: 'C-2',
        name: 'C-2',
        contact: null,
        lines: [
          {
            shipment: 'S-2',
            shippedOn: '2026-03-01',
            lot: 'F-1',
            unit: 'each',
            spans: [[7, 8]],
            quantityMicro: 2 * MICRO,
            out: { spans: [[7, 8]], quantityMicro: 2 * MICRO },
          },
        ],
      },
    ]);
  });

  it('of a bulk lot get all that went', () => {
    const bulk = figures(
      new Map([[2, null]]),
      [lot(2, 'B-1', null)],
      [line(2, 'S-1', 'C-1', null, 30), line(2, 'S-1', 'C-1', null, 10)],
      [place(2, 'dispatched', 'S-1', null, 25), place(2, 'on-hand', 'V-1', null, 60), place(2, 'consumed', 'RT-1', null, 15)],
    );
    expect(bulk.consignees[0]!.lines).toMatchObject([{ quantityMicro: 40 * MICRO, out: { spans: null, quantityMicro: 25 * MICRO } }]);
    expect(differencesOf(bulk)).toEqual([]);
  });
});

describe('whereabouts (RL-7)', () => {
  it('are a partition of what is affected', () => {
    expect(cut.whereabouts.map((part) => [part.fate, part.holder, part.document, part.spans])).toEqual([
      ['dispatched', 'C-1 Tumbledown Cycles', 'S-1', [[5, 5]]],
      ['dispatched', 'C-2', 'S-2', [[7, 8]]],
      ['on hand', 'QUAR', null, [[6, 6]]],
    ]);
    expect(differencesOf(cut)).toEqual([]);
  });

  it('that do not make up a lot are named', () => {
    const lost = figures(CUT, [lot(1, 'F-1', 10)], [], [place(1, 'on-hand', 'QUAR', [[1, 7]], 7)]);
    expect(differencesOf(lost).map(({ lot: code }) => code)).toEqual(['F-1']);
  });
});

describe('status of an affected lot', () => {
  const at = (statuses: [LotStatus, SpanSet | null][], held: (SpanSet | null)[] = [], expiresOn: string | null = null): string => {
    const standing: Standing = { statuses: new Map([[1, new Map(statuses)]]), held: new Map([[1, held]]), on: '2026-03-02' };
    const here = figures(
      CUT,
      [lot(1, 'F-1', 10, { expiresOn })],
      [],
      [place(1, 'on-hand', 'FG-1', [[1, 7]], 7), place(1, 'dispatched', 'S-1', [[8, 10]], 3)],
    );
    return affectedLotList(here, standing, new Map(), new Map())[0]!.status;
  };
  const all: SpanSet = [[1, 10]];

  it('is released while one affected piece on hand is free', () => {
    expect(
      at([
        ['released', [[7, 10]]],
        ['quarantine', [[1, 6]]],
      ]),
    ).toBe('released');
    expect(at([['released', all]], [[[5, 6]]])).toBe('released');
  });
  it('is stopped when every affected piece on hand is, whatever went out before', () => {
    expect(
      at([
        ['released', [[8, 10]]],
        ['quarantine', [[1, 7]]],
      ]),
    ).toBe('quarantine');
    expect(at([['released', all]], [[[1, 7]]])).toBe('held');
    expect(at([['not-accepted', all]])).toBe('not accepted');
  });
  it('is expired when it is free and past its date', () => expect(at([['released', all]], [], '2026-03-01')).toBe('expired'));
});

const link = (
  fromLot: number,
  from: readonly [number, number],
  toLot: number,
  to: readonly [number, number],
  map: 'all' | 'each',
): KnownLink => ({
  seq: 5,
  ord: 1,
  fromLot,
  fromFirst: from[0],
  fromLast: from[1],
  toLot,
  toFirst: to[0],
  toLast: to[1],
  quantityMicro: MICRO,
  massMicro: 0,
  map,
  blends: false,
  voidedAt: null,
});

describe('pictures', () => {
  const lots = [lot(1, 'F-1', 10), lot(2, 'U-1', 10, { item: 'PUMP', itemRecord: null })];
  const each = link(1, [1, 10], 2, [1, 10], 'each');
  const both = figures(
    new Map([
      [1, spanSet([[5, 8]])],
      [2, spanSet([[5, 8]])],
    ]),
    lots,
    [],
    [place(2, 'on-hand', 'FG-1', [[1, 10]], 10)],
  );

  it('the river inks of a piece-by-piece link what is affected, and leaves the rest pale', () => {
    const river = recallRiver(both, (id) => (id === 1 ? [each] : []))!;
    expect(river.links).toEqual([
      { source: 'lot F-1', target: 'lot U-1', value: 4, affected: true },
      { source: 'lot F-1', target: 'lot U-1', value: 6, affected: false },
      { source: 'lot U-1', target: 'place on-hand FG-1', value: 4, affected: true },
      { source: 'lot U-1', target: 'place on-hand FG-1', value: 6, affected: false },
    ]);
  });

  it('a ribbon shows what each input went into, and what of that is affected', () => {
    const ribbons = recallRibbons(both, { linksInto: (id) => (id === 2 ? [each] : []), sources: both.lots, holds: [] });
    expect(ribbons[1]!.ribbon.below[0]!.parts).toEqual([
      {
        label: 'F-1',
        kind: 'input',
        spans: [
          [1, 4],
          [9, 10],
        ],
        affected: false,
      },
      { label: 'F-1', kind: 'input', spans: [[5, 8]], affected: true },
    ]);
    expect(ribbons[1]!.ribbon.above).toEqual([
      {
        label: 'Not sent',
        parts: [
          {
            label: 'FG-1',
            kind: 'on-hand',
            spans: [
              [1, 4],
              [9, 10],
            ],
            affected: false,
          },
          { label: 'FG-1', kind: 'on-hand', spans: [[5, 8]], affected: true },
        ],
      },
    ]);
  });

  it('ribbons are of a dozen lots, those only partly affected first', () => {
    const many = Array.from({ length: 20 }, (_, i) => lot(i + 1, `F-${String(i + 1).padStart(2, '0')}`, 10));
    const affected: Affected = new Map(many.map(({ id }) => [id, id > 18 ? spanSet([[1, 5]]) : spanSet([[1, 10]])]));
    const shown = lotsForRibbons({ affected, lots: new Map(many.map((one) => [one.id, one])) }).map((one) => one.lot);
    expect(shown).toHaveLength(12);
    expect(shown).toContain('F-19');
    expect(shown).toContain('F-20');
  });
});
