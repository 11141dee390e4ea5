import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import type { Refusal } from '../../../../shared/refusal.js';
import type { Item, Revised } from '../catalogue/catalogue.facts.js';
import { type BookDelivery, type BookLine, decideBookDelivery, type ReceivingState } from './receiving.decide.js';

const item = (code: string, more: Partial<Item> = {}): Revised<Item> => ({
  code,
  name: code,
  class: 'raw-material',
  unit: 'kg',
  tracking: 'bulk',
  revision: 3,
  ...more,
});

const ITEMS = [
  item('WAX-BASE', { shelfLifeDays: 10 }),
  item('LID-250', { class: 'packaging', unit: 'each' }),
  item('FOOT', { class: 'component', unit: 'each', tracking: 'pieces' }),
  item('GAUGE', { class: 'component', unit: 'each', tracking: 'serial' }),
];

const STATE: ReceivingState = {
  at: '2026-03-02T08:00:00.000Z',
  delivery: 'D-0001',
  supplier: { code: 'S-WAX', name: 'Larkbridge Waxes', role: 'supplier', revision: 1 },
  location: { code: 'DOCK', name: 'Receiving dock', use: 'quarantine', revision: 1 },
  items: new Map(ITEMS.map((one) => [one.code, one])),
  codes: ['R26-00001', 'R26-00002', 'R26-00003'],
  earlier: [[], [], []],
  sameDocument: [],
  serialsTaken: [],
};

const book = (lines: readonly Partial<BookLine>[], head: Partial<BookDelivery> = {}, state: Partial<ReceivingState> = {}) =>
  decideBookDelivery(
    {
      supplier: 'S-WAX',
      documentType: 'delivery note',
      document: '4711',
      receivedAt: '2026-03-02T07:00:00.000Z',
      location: 'DOCK',
      condition: 'sound',
      lines: lines.map((line) => ({ item: 'WAX-BASE', quantityMicro: MICRO, ...line })),
      ...head,
    },
    { ...STATE, ...state },
  );

const reasonsOf = (run: () => unknown): string[] => {
  try {
    run();
  } catch (error) {
    return (error as Refusal).reasons.map((reason) => `${reason.code} ${String(reason['pointer'])}`);
  }
  return [];
};

describe('booking a delivery', () => {
  it('R-1, R-2: each line becomes a lot of its own, whole, in quarantine, where it was put', () => {
    const fact = book([
      { quantityMicro: 25_500_001, supplierLot: '000123' },
      { item: 'FOOT', quantityMicro: 40 * MICRO },
    ]);
    expect(fact.born).toMatchObject([
      {
        lot: 'R26-00001',
        item: 'WAX-BASE',
        itemRevision: 3,
        unit: 'kg',
        pieces: null,
        quantityMicro: 25_500_001,
        origin: 'received',
        bornAt: '2026-03-02T07:00:00.000Z',
        place: { fate: 'on-hand', at: 'DOCK' },
        status: 'quarantine',
        supplier: 'S-WAX',
        supplierLot: '000123',
        supplierLotAssigned: false,
        source: 'D-0001',
      },
      { lot: 'R26-00002', item: 'FOOT', pieces: 40, quantityMicro: 40 * MICRO },
    ]);
  });

  it('R-3: without a supplier lot the plant assigns its own code and says so', () => {
    expect(book([{}]).born?.[0]).toMatchObject({ supplierLot: 'R26-00001', supplierLotAssigned: true });
  });

  it('R-4: a supplier lot that comes again names the lots before it, those on lines above included', () => {
    const lines = [{ supplierLot: 'A1' }, { supplierLot: 'A1' }, { supplierLot: 'a1' }];
    const fact = book(lines, {}, { earlier: [['R25-00007'], ['R25-00007'], []] });
    expect(fact.lines.map((line) => line.earlier)).toEqual([['R25-00007'], ['R25-00007', 'R26-00001'], []]);
  });

  it('R-4: what has no supplier lot is never the same as something before it', () => {
    expect(book([{}, {}]).lines.map((line) => line.earlier)).toEqual([[], []]);
  });

  it.each([
    ['the day before', '2026-03-01', true],
    ['the same day', '2026-03-02', false],
  ])('R-5: what expires %s it came is booked and marked: %s', (_when, expiresOn, marked) => {
    expect(book([{ expiresOn }]).lines[0]?.expiredOnArrival).toBe(marked);
  });

  it('R-7: expiry comes from the label, else from the shelf life, else is not known', () => {
    const expiry = (line: Partial<BookLine>) => book([line]).born?.[0]?.expiresOn;
    expect(expiry({ madeOn: '2026-02-25', expiresOn: '2026-03-09' })).toBe('2026-03-09');
    expect(expiry({ madeOn: '2026-02-25' })).toBe('2026-03-07');
    expect(expiry({})).toBeUndefined();
    expect(expiry({ item: 'LID-250', madeOn: '2026-02-25' })).toBeUndefined();
  });

  it.each<[string, Partial<BookLine>, string]>([
    ['nothing', { quantityMicro: 0 }, 'quantity-not-positive /lines/0/quantity'],
    ['less than nothing', { quantityMicro: -1 }, 'quantity-not-positive /lines/0/quantity'],
    ['half a lid (R-6)', { item: 'LID-250', quantityMicro: 2_500_000 }, 'not-whole /lines/0/quantity'],
    ['more pieces than can be numbered', { item: 'FOOT', quantityMicro: 2_147_483_648 * MICRO }, 'too-many-pieces /lines/0/quantity'],
    ['an item nobody knows', { item: 'wax-base' }, 'item-unknown /lines/0/item'],
    ['a gauge without its serial (R-6)', { item: 'GAUGE' }, 'serials-missing /lines/0/serials'],
    ['a serial too many', { item: 'GAUGE', serials: ['1', '2'] }, 'serials-missing /lines/0/serials'],
    ['serials of what has none', { serials: ['1'] }, 'no-serials-here /lines/0/serials'],
    ['the same serial twice', { item: 'GAUGE', quantityMicro: 2 * MICRO, serials: ['1', '1'] }, 'serial-named-twice /lines/0/serials/1'],
    ['made after it came (R-7)', { madeOn: '2026-03-03' }, 'made-after-receipt /lines/0/madeOn'],
    ['expired before it was made', { madeOn: '2026-02-02', expiresOn: '2026-02-01' }, 'expires-before-made /lines/0/expiresOn'],
  ])('refuses %s', (_what, line, expected) => {
    expect(reasonsOf(() => book([line]))).toEqual([expected]);
  });

  it('refuses a serial that exists within the item; within another item it is another serial', () => {
    const taken = { serialsTaken: [{ item: 'GAUGE', serial: '007' }] };
    const gauge = (serial: string) => reasonsOf(() => book([{ item: 'GAUGE', serials: [serial] }], {}, taken));
    expect(gauge('007')).toEqual(['serial-taken /lines/0/serials/0']);
    expect(gauge('7')).toEqual([]);
  });

  it('R-1: says everything that is wrong with head and lines at once', () => {
    const wrong = () =>
      book(
        [{ item: 'X', quantityMicro: 0 }, {}, { madeOn: '2026-04-01' }],
        { receivedAt: '2026-03-02T08:00:00.001Z' },
        {
          supplier: { code: 'C-001', name: 'Tumbledown Cycles', role: 'customer', revision: 1 },
          location: undefined,
          sameDocument: ['D-0000'],
        },
      );
    expect(reasonsOf(wrong)).toEqual([
      'not-a-supplier /supplier',
      'location-unknown /location',
      'not-yet /receivedAt',
      'document-booked /document',
      'item-unknown /lines/0/item',
      'quantity-not-positive /lines/0/quantity',
      'made-after-receipt /lines/2/madeOn',
    ]);
  });
});
