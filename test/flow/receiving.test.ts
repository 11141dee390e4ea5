import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogueFernhollow } from '../fernhollow.js';
import { type Answer, type Client, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Line {
  readonly lot: string;
  readonly supplierLot: string;
  readonly supplierLotAssigned: boolean;
  readonly earlier: readonly string[];
  readonly expiredOnArrival: boolean;
}
interface Delivery {
  readonly delivery: string;
  readonly seq: number;
  readonly lines: readonly Line[];
}
interface Refused {
  readonly reasons: readonly { readonly code: string; readonly pointer?: string; readonly detail: string }[];
}
const codes = (answer: Answer<Refused>): string[] => answer.body.reasons.map((reason) => reason.code);

describe.each(DATABASES)('receiving on %s', (database) => {
  let plant: Plant;
  let clerk: Client;
  let documents = 0;
  const delivery = (lines: readonly object[], head: object = {}) => ({
    supplier: 'S-WAX',
    documentType: 'delivery note',
    document: `DN-${++documents}`,
    location: 'DOCK',
    condition: 'sound',
    lines,
    ...head,
  });
  const book = async (lines: readonly object[], head: object = {}): Promise<Delivery> => {
    const answer = await clerk.post<Delivery>('/api/deliveries', delivery(lines, head));
    expect(answer.status, JSON.stringify(answer.body)).toBe(201);
    return answer.body;
  };
  const refused = (lines: readonly object[], head: object = {}) => clerk.post<Refused>('/api/deliveries', delivery(lines, head));
  const signed = (more: object = {}) => ({ password: PASSWORD, reason: 'as the test says', ...more });

  beforeAll(async () => {
    plant = await startPlant(database);
    clerk = plant.as('clerk');
    await catalogueFernhollow(plant);
  });
  afterAll(() => plant.stop());

  it('RC-1: a receipt keeps lot, quantity with unit, item, source, place, date, source of the lot code and the paper', async () => {
    const head = {
      receivedAt: '2026-03-02T06:30:00+01:00',
      documentType: 'waybill',
      document: 'W/0099',
      condition: 'one drum dented',
      note: 'photo taken',
    };
    const booked = await book([{ item: 'OIL-40', quantity: '200.5', supplierLot: 'L 7/03', containers: 2, expiresOn: '2027-01-31' }], head);
    const read = await plant.as('auditor').get<Delivery>(`/api/deliveries/${booked.delivery}`);
    expect(read.body).toEqual({
      delivery: booked.delivery,
      supplier: 'S-WAX',
      documentType: 'waybill',
      document: 'W/0099',
      receivedAt: '2026-03-02T05:30:00.000Z',
      location: 'DOCK',
      condition: 'one drum dented',
      note: 'photo taken',
      seq: booked.seq,
      reversed: null,
      lines: [
        {
          lot: expect.stringMatching(/^R26-\d{5}$/),
          item: 'OIL-40',
          quantity: '200.5',
          unit: 'L',
          supplierLot: 'L 7/03',
          supplierLotAssigned: false,
          containers: 2,
          madeOn: null,
          expiresOn: '2027-01-31',
          earlier: [],
          expiredOnArrival: false,
        },
      ],
    });
  });

  it('RC-2: a lot without a supplier lot gets one, and the record says that we assigned it', async () => {
    const [line] = (await book([{ item: 'SOLV', quantity: '10' }])).lines;
    expect(line).toMatchObject({ supplierLot: line!.lot, supplierLotAssigned: true });
    expect((await clerk.get(`/api/lots/${line!.lot}`)).body).toMatchObject({ supplierLotAssigned: true });
  });

  it('RC-3: everyone who supplied us with an item is named', async () => {
    await book([{ item: 'LID-250', quantity: '500' }], { supplier: 'S-PACK' });
    await book([{ item: 'LID-250', quantity: '300' }], { supplier: 'S-METAL' });
    const suppliers = await clerk.get<{ supplier: string }[]>('/api/items/LID-250/suppliers');
    expect(suppliers.body.map(({ supplier }) => supplier)).toEqual(['S-METAL', 'S-PACK']);
  });

  it('ID-2: one lot code of two suppliers, or of two items, stays two lots', async () => {
    const same = { quantity: '1', supplierLot: 'SAME-1' };
    const one = await book([
      { item: 'WAX-BASE', ...same },
      { item: 'SOLV', ...same },
    ]);
    const two = await book([{ item: 'WAX-BASE', ...same }], { supplier: 'S-METAL' });
    const lots = [...one.lines, ...two.lines];
    expect(new Set(lots.map(({ lot }) => lot)).size).toBe(3);
    expect(lots.map(({ earlier }) => earlier)).toEqual([[], [], []]);
  });

  it('ID-3, ID-5: two supplier lots of one item are two lines and two lots, each found by either code', async () => {
    const booked = await book([
      { item: 'DYE-BLU', quantity: '2', supplierLot: 'D-BLUE-1' },
      { item: 'DYE-BLU', quantity: '2', supplierLot: 'D-BLUE-2' },
    ]);
    for (const line of booked.lines) {
      for (const query of [line.supplierLot, line.lot]) {
        const found = await clerk.get<{ lots: { lot: string }[] }>(`/api/lots?query=${query}`);
        expect(found.body.lots.map(({ lot }) => lot)).toEqual([line.lot]);
      }
    }
    const mixed = await refused([{ item: 'DYE-BLU', quantity: '4', supplierLot: ['D-BLUE-1', 'D-BLUE-2'] }]);
    expect(mixed.status).toBe(400);
  });

  it('ID-8: case, leading zeros and punctuation count: 000123, 123, ab12, AB12 and a-b are five lots that know nothing of each other', async () => {
    const labels = ['000123', '123', 'ab12', 'AB12', 'a-b'];
    const first = await book(labels.map((supplierLot) => ({ item: 'RUST-INH', quantity: '1', supplierLot })));
    expect(first.lines.map(({ supplierLot }) => supplierLot)).toEqual(labels);
    expect(first.lines.map(({ earlier }) => earlier)).toEqual([[], [], [], [], []]);
    const again = await book(labels.map((supplierLot) => ({ item: 'RUST-INH', quantity: '1', supplierLot })));
    expect(again.lines.map(({ earlier }) => earlier)).toEqual(first.lines.map(({ lot }) => [lot]));
    expect((await clerk.get(`/api/lots/${first.lines[0]!.lot.toLowerCase()}`)).status).toBe(404);
  });

  it('the same supplier lot again is a new lot that names the earlier ones, in order', async () => {
    const lines = [{ item: 'CAN-250', quantity: '100', supplierLot: 'PALLET 9' }];
    const first = await book(lines);
    const second = await book(lines);
    const third = await book(lines);
    expect(third.lines[0]!.earlier).toEqual([first.lines[0]!.lot, second.lines[0]!.lot]);
  });

  it('ST-11: what arrives expired is booked in quarantine and marked, and is released by nobody', async () => {
    const [line] = (await book([{ item: 'WAX-BASE', quantity: '5', madeOn: '2025-01-01' }])).lines;
    expect(line).toMatchObject({ expiresOn: '2026-01-01', expiredOnArrival: true });
    const lot = await clerk.get<{ stamps: { stamp: string }[] }>(`/api/lots/${line!.lot}`);
    expect(lot.body.stamps.map(({ stamp }) => stamp)).toEqual(['QUARANTINE', 'EXPIRED']);
    expect(codes(await plant.as('quality').post<Refused>(`/api/lots/${line!.lot}/release`, signed()))).toEqual(['lot-expired']);
  });

  it('refuses an unknown supplier, location and item in one answer, with the fields they are in', async () => {
    const answer = await refused([{ item: 'X', quantity: '1' }], { supplier: 'S-404', location: 'NOWHERE' });
    expect(answer.status).toBe(404);
    expect(answer.body.reasons.map((reason) => reason.pointer)).toEqual(['/supplier', '/location', '/lines/0/item']);
  });

  it.each([
    ['nothing', { quantity: '0' }, 400, 'more than nothing'],
    ['less than nothing', { quantity: '-3' }, 400, 'more than nothing'],
    ['seven decimals', { quantity: '1.0000001' }, 400, 'more than 6 decimals'],
    ['a comma', { quantity: '1,5' }, 400, 'decimals follow a point'],
    ['an exponent', { quantity: '1e3' }, 400, 'not a decimal number'],
    ['a number that is no text', { quantity: 1.5 }, 400, 'text in quotes'],
    ['more than can be kept exactly', { quantity: '99999999999' }, 400, 'larger than can be kept exactly'],
    ['no such day', { expiresOn: '2026-02-30' }, 400, '2026-02 has 28 days'],
    ['a date the other way round', { madeOn: '02.03.2026' }, 400, 'YYYY-MM-DD'],
    ['a line break in a lot code', { supplierLot: 'A\n1' }, 400, 'control character (U+000A)'],
    ['an invisible character in a lot code', { supplierLot: 'A\u200b1' }, 400, 'invisible character'],
    ['a blank at the end of a lot code', { supplierLot: 'A1 ' }, 400, 'begins or ends with a blank'],
    ['an empty lot code', { supplierLot: '' }, 400, 'is empty'],
    ['65 characters', { supplierLot: 'x'.repeat(65) }, 400, 'longer than 64'],
    ['a field nobody knows', { colour: 'blue' }, 400, 'colour'],
    ['half a lid', { item: 'LID-250', quantity: '2.5' }, 400, 'whole number'],
    ['made tomorrow', { madeOn: '2026-03-03' }, 409, 'after it was received'],
    ['expired before it was made', { madeOn: '2026-03-01', expiresOn: '2026-02-01' }, 409, 'before it was made'],
  ])('refuses %s, with the line it is on, and books nothing', async (_what, fault, status, words) => {
    const count = async () => (await clerk.get<{ total: number }>('/api/lots')).body.total;
    const before = await count();
    const answer = await refused([
      { item: 'WAX-BASE', quantity: '1' },
      { item: 'WAX-BASE', quantity: '1', ...fault },
    ]);
    expect([answer.status, JSON.stringify(answer.body)]).toEqual([status, expect.stringContaining(words)]);
    expect(answer.body.reasons.every((reason) => reason.pointer?.startsWith('/lines/1/'))).toBe(true);
    expect(await count()).toBe(before);
  });

  it.each([
    ['2026-02-31T06:00:00Z', 'is no real day: 2026-02 has 28 days'],
    ['2026-03-01T24:00:00Z', 'has no hour 24'],
    ['2026-03-01T06:00:00', 'is not an instant with its zone'],
    ['yesterday', 'is not an instant with its zone'],
  ])('says what is wrong with %s as the time of receipt', async (receivedAt, words) => {
    const { status, body } = await refused([{ item: 'WAX-BASE', quantity: '1' }], { receivedAt });
    expect([status, body.reasons.map((reason) => reason.pointer)]).toEqual([400, ['/receivedAt']]);
    expect(JSON.stringify(body)).toContain(words);
  });

  it('keeps serials apart by item and refuses one that exists', async () => {
    await book([{ item: 'GAUGE', quantity: '2', serials: ['0042', '42'] }]);
    const again = await refused([{ item: 'GAUGE', quantity: '1', serials: ['42'] }]);
    expect(again.body.reasons).toEqual([expect.objectContaining({ code: 'serial-taken', pointer: '/lines/0/serials/0' })]);
    const twice = await refused([{ item: 'GAUGE', quantity: '2', serials: ['43', '43'] }]);
    expect(twice.body.reasons).toEqual([expect.objectContaining({ code: 'serial-named-twice', pointer: '/lines/0/serials/1' })]);
  });

  it('R-2: plant codes follow the pattern of the installation', async () => {
    const other = await startPlant(database, { lotPattern: '{yyyy}{mm}/{n:3}{class}' });
    await catalogueFernhollow(other);
    const lines = [
      { item: 'SOLV', quantity: '1' },
      { item: 'LID-250', quantity: '1' },
    ];
    const { body } = await other.as('clerk').post<Delivery>('/api/deliveries', delivery(lines));
    expect(body.lines.map((line) => line.lot)).toEqual(['202603/001R', '202603/002P']);
    await other.stop();
  });

  it('books a paper once, and answers a retry of the same command again', async () => {
    const body = delivery([{ item: 'SOLV', quantity: '3' }]);
    const first = await clerk.post<Delivery>('/api/deliveries', { ...body, commandId: 'retry-1' });
    const retried = await clerk.post<Delivery>('/api/deliveries', { ...body, commandId: 'retry-1' });
    expect(retried.body).toEqual(first.body);
    expect(codes(await clerk.post<Refused>('/api/deliveries', body))).toEqual(['document-booked']);
    expect((await clerk.get('/api/deliveries/D-9999')).status).toBe(404);
  });

  describe('R-9: a delivery booked in error', () => {
    const reverse = (code: string) =>
      clerk.post<Delivery & Refused & { reversed: object | null }>(`/api/deliveries/${code}/reversal`, { reason: 'wrong lot typed' });

    it('is undone by an entry that names it, once, and can be booked again as it was', async () => {
      const body = delivery([
        { item: 'RUST-INH', quantity: '25', supplierLot: 'RI-9' },
        { item: 'GAUGE', quantity: '2', serials: ['900', '901'] },
      ]);
      const supplied = async () => (await clerk.get('/api/items/RUST-INH/suppliers')).body;
      const before = await supplied();
      const { body: wrong } = await clerk.post<Delivery & { seq: number }>('/api/deliveries', body);
      const { status, body: undone } = await reverse(wrong.delivery);
      expect([status, undone.reversed]).toEqual([200, { seq: wrong.seq + 1, reason: 'wrong lot typed' }]);
      const [bulk, gauges] = wrong.lines.map((line) => line.lot);
      for (const lot of [bulk!, gauges!]) {
        const seen = await clerk.get<{ stamps: { stamp: string }[]; reconciliation: object }>(`/api/lots/${lot}`);
        expect(seen.body.stamps.map((one) => one.stamp)).toEqual(['NOT ACCEPTED']);
        expect(seen.body.reconciliation).toMatchObject({ onHand: '0', gap: '0' });
      }
      expect(codes(await reverse(wrong.delivery))).toEqual(['reversed-before']);
      expect(await supplied()).toEqual(before);
      const again = await clerk.post<Delivery>('/api/deliveries', body);
      expect([again.status, again.body.lines.map((line) => line.earlier)]).toEqual([201, [[], []]]);
      const serial = await clerk.get<{ lot: string }[]>('/api/serials/900');
      expect(serial.body.map((one) => one.lot)).toEqual([again.body.lines[1]!.lot]);
    });

    it('is not undone once any of it has gone on or was decided on, and then nothing of it is', async () => {
      const { delivery: code, lines } = await book([
        { item: 'SOLV', quantity: '5' },
        { item: 'SOLV', quantity: '6' },
        { item: 'SOLV', quantity: '7' },
      ]);
      const [, moved, released] = lines.map((line) => line.lot);
      const move = { lot: moved, quantity: '1', from: 'DOCK', to: 'RACK-1', reason: 'room' };
      expect((await clerk.post('/api/stock/moves', move)).status).toBe(201);
      expect((await plant.as('quality').post(`/api/lots/${released!}/release`, signed())).status).toBe(201);
      const refusal = await reverse(code);
      expect(refusal.body.reasons.map((reason) => [reason.code, (reason as { lot?: string }).lot])).toEqual([
        ['gone-on', moved],
        ['gone-on', released],
      ]);
      expect((await clerk.get<Delivery & { reversed: null }>(`/api/deliveries/${code}`)).body.reversed).toBeNull();
      expect((await reverse('D-9999')).status).toBe(404);
    });
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
