import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PickView, RecipientView, ShipmentView } from '../../src/server/plant/dispatch/dispatch.dto.js';
import { catalogueFernhollow, receiveReleased, release } from '../fernhollow.js';
import { type Answer, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { linkLots, makeLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Refused {
  reasons: { code: string; detail: string; pointer: string }[];
}

describe.each(DATABASES)('dispatch on %s', (database) => {
  let plant: Plant;
  let documents = 0;

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    await makeLots(plant, [
      { lot: 'F-OLD', item: 'WAX-250', pieces: 100, expiresOn: '2027-01-01', bornAt: '2026-01-05T08:00:00.000Z' },
      { lot: 'F-NEW', item: 'WAX-250', pieces: 100, expiresOn: '2028-01-01', bornAt: '2026-02-05T08:00:00.000Z' },
      { lot: 'F-GONE', item: 'WAX-250', pieces: 10, expiresOn: '2026-02-01', bornAt: '2024-02-05T08:00:00.000Z' },
      { lot: 'F-OPEN', item: 'WAX-250', pieces: 10, status: 'quarantine' },
      { lot: 'B-1', item: 'MIX-WAX', quantityMicro: 100_000_000, unit: 'kg', at: 'V-1' },
      { lot: 'U-1', item: 'PUMP', pieces: 3, serials: ['K-001', 'K-002', 'K-003'] },
      { lot: 'U-2', item: 'PUMP', pieces: 2, serials: ['k-001', 'K-004'] },
    ]);
  });
  afterAll(async () => {
    await expectRebuildEqual(plant);
    await plant.stop();
  });

  const ship = <Body = ShipmentView>(lines: object[], more: object = {}): Promise<Answer<Body>> =>
    plant.as('dispatcher').post<Body>('/api/shipments', {
      customer: 'C-001',
      documentType: 'dispatch note',
      document: `N-${++documents}`,
      location: 'FG-1',
      lines,
      ...more,
    });

  it('SH-1: records lot code, quantity and unit, description, recipient, place, date, source of the lot code, document', async () => {
    const { status, body } = await ship([{ lot: 'F-OLD', pieces: '1-20' }], { shippedAt: '2026-03-01T10:00:00+01:00' });
    expect(status).toBe(201);
    expect(body).toMatchObject({
      shipment: 'S-0001',
      customer: 'C-001',
      customerName: 'Tumbledown Cycles',
      location: 'FG-1',
      locationName: 'Finished goods',
      shippedAt: '2026-03-01T09:00:00.000Z',
      documentType: 'dispatch note',
      lines: [
        {
          lot: 'F-OLD',
          pieces: '1-20',
          quantity: '20',
          unit: 'each',
          description: 'Chain wax, can 250 g',
          lotCodeSource: 'given here by RUN-F-OLD',
          expiresOn: '2027-01-01',
        },
      ],
    });
  });

  it('SH-2: the dispatch note carries the lots, as JSON and as CSV', async () => {
    expect((await plant.as('auditor').get<ShipmentView>('/api/shipments/S-0001')).body.lines[0]?.lot).toBe('F-OLD');
    const csv = await plant.as('auditor').get<string>('/api/shipments/S-0001.csv');
    expect(csv.headers['content-type']).toContain('text/csv');
    const [head, row] = csv.body.split('\r\n');
    expect(head).toContain('shipment,shipped_at,customer,customer_name,bill_to,shipped_from,document_type,document,lot,lot_code_source');
    expect(row).toContain('F-OLD,given here by RUN-F-OLD,WAX-250,"Chain wax, can 250 g"');
  });

  it('SH-3: the note names the consignee with what they can be reached by, what went, how much, when and under which lot', async () => {
    const { body } = await plant.as('auditor').get<ShipmentView>('/api/shipments/S-0001');
    expect([body.customerName, body.customerContact, body.shippedAt]).toEqual([
      'Tumbledown Cycles',
      'recalls@tumbledown.example',
      '2026-03-01T09:00:00.000Z',
    ]);
    expect(body.lines[0]).toMatchObject({ lot: 'F-OLD', pieces: '1-20', quantity: '20', unit: 'each', item: 'WAX-250' });
  });

  it('SH-5: nothing leaves without saying which, so who has a piece is exact and never a guess', async () => {
    for (const line of [{ item: 'WAX-250' }, { lot: 'F-OLD' }, { lot: 'F-OLD', quantity: '3' }, { item: 'WAX-250', quantity: '3' }]) {
      expect((await ship<Refused>([line])).status, JSON.stringify(line)).toBeGreaterThanOrEqual(400);
    }
    const { body } = await plant.as('auditor').get<RecipientView[]>('/api/recipients?lot=F-OLD');
    expect(body.map((row) => [row.customer, row.shipments])).toEqual([['C-001', 1]]);
  });

  it('SH-6: keeps who pays beside where the goods go', async () => {
    const { body } = await ship([{ lot: 'F-OLD', pieces: '21' }], { billTo: 'C-002' });
    expect([body.customer, body.billTo]).toEqual(['C-001', 'C-002']);
  });

  it('ST-2, D-4: refuses every bad line with every reason and a pointer to it, and ships nothing', async () => {
    const before = (await plant.as('auditor').get<ShipmentView[]>('/api/shipments')).body.length;
    const { status, body } = await ship<Refused>([
      { lot: 'F-GONE', pieces: '1' },
      { lot: 'F-OPEN', pieces: '3-4' },
      { lot: 'F-OLD', pieces: '1-2' },
      { lot: 'f-old', pieces: '5' },
      { lot: 'F-OLD', pieces: '90-101' },
      { lot: 'F-OLD', quantity: '5' },
      { lot: 'F-NEW', pieces: '1-5' },
      { lot: 'F-NEW', pieces: '5-6' },
    ]);
    expect(status).toBe(409);
    expect(body.reasons.map((reason) => [reason.pointer, reason.code])).toEqual([
      ['/lines/0', 'lot-expired'],
      ['/lines/1', 'lot-not-released'],
      ['/lines/2', 'pieces-not-there'],
      ['/lines/3/lot', 'lot-unknown'],
      ['/lines/4/pieces', 'pieces-outside-lot'],
      ['/lines/5/quantity', 'pieces-not-quantity'],
      ['/lines/7', 'pieces-named-twice'],
    ]);
    expect((await plant.as('auditor').get<ShipmentView[]>('/api/shipments')).body).toHaveLength(before);
  });

  it('refuses pieces that were dispatched already, saying where they are', async () => {
    const { status, body } = await ship<Refused>([{ lot: 'F-OLD', pieces: '19-22' }]);
    expect(status).toBe(409);
    expect(body.reasons[0]?.detail).toContain('19-20 dispatched in S-0001');
    expect(body.reasons[0]?.detail).toContain('21 dispatched in S-0002');
  });

  it('refuses what is said to have left before it was made, or in the time to come', async () => {
    const early = await ship<Refused>([{ lot: 'F-NEW', pieces: '1' }], { shippedAt: '2026-02-01T00:00:00.000Z' });
    expect(early.body.reasons.map((reason) => reason.code)).toEqual(['shipped-before-made']);
    const late = await ship<Refused>([{ lot: 'F-NEW', pieces: '1' }], { shippedAt: '2026-04-01T00:00:00.000Z' });
    expect(late.body.reasons.map((reason) => reason.code)).toEqual(['not-yet']);
  });

  it('D-1: ships to customers only, from known places, and a document once', async () => {
    const wrong = await ship<Refused>([{ lot: 'F-NEW', pieces: '1' }], { customer: 'S-WAX', billTo: 'C-404', location: 'MOON' });
    expect(wrong.body.reasons.map((reason) => [reason.pointer, reason.code])).toEqual([
      ['/customer', 'not-a-customer'],
      ['/billTo', 'customer-unknown'],
      ['/location', 'location-unknown'],
    ]);
    const twice = await ship<Refused>([{ lot: 'F-NEW', pieces: '1' }], { document: 'N-1' });
    expect(twice.body.reasons.map((reason) => reason.code)).toEqual(['document-booked']);
  });

  it('takes a quantity of a bulk lot off what is there, over several lines', async () => {
    const [lot] = await receiveReleased(plant, [{ item: 'WAX-BASE', quantity: '30' }]);
    await plant.as('clerk').get('/api/deliveries');
    const refused = await ship<Refused>(
      [
        { lot, quantity: '20' },
        { lot, quantity: '10.000001' },
      ],
      { location: 'DOCK' },
    );
    expect(refused.body.reasons.map((reason) => [reason.pointer, reason.code])).toEqual([['/lines/1', 'not-enough-left']]);
    const { body } = await ship(
      [
        { lot, quantity: '20' },
        { lot, quantity: '10' },
      ],
      { location: 'DOCK' },
    );
    expect(body.lines.map((line) => line.quantity)).toEqual(['20', '10']);
    expect(body.lines[0]?.lotCodeSource).toMatch(/^given here on delivery D-\d+: it came without a lot code$/);
  });

  it.each([
    ['0', 'quantity-not-positive'],
    ['-1', 'quantity-not-positive'],
  ])('refuses a quantity of %s', async (quantity, code) => {
    const { status, body } = await ship<Refused>([{ lot: 'B-1', quantity }]);
    expect(status).toBe(400);
    expect(body.reasons[0]?.code).toBe(code);
  });

  it.each([
    ['1.0000001', '/lines/0/quantity'],
    ['1e3', '/lines/0/quantity'],
    ['9999999999999', '/lines/0/quantity'],
  ])('does not understand a quantity of %s', async (quantity, pointer) => {
    const { status, body } = await ship<Refused>([{ lot: 'B-1', quantity }]);
    expect(status).toBe(400);
    expect(body.reasons[0]?.pointer).toBe(pointer);
  });

  it.each(['9-3', '1-5,4', '0-3', ''])('does not understand pieces "%s"', async (pieces) => {
    const { status, body } = await ship<Refused>([{ lot: 'F-NEW', pieces }]);
    expect(status).toBe(400);
    expect(body.reasons[0]?.pointer).toBe('/lines/0/pieces');
  });

  it('ID-8: serials become pieces of their lots, and case counts', async () => {
    const bad = await ship<Refused>([{ item: 'PUMP', serials: ['K-002', 'K-404', 'K-002'] }]);
    expect(bad.body.reasons.map((reason) => [reason.pointer, reason.code])).toEqual([
      ['/lines/0/serials/1', 'serial-unknown'],
      ['/lines/0/serials/2', 'serial-named-twice'],
    ]);
    const { body } = await ship([{ item: 'PUMP', serials: ['k-001', 'K-003', 'K-001'] }]);
    expect(body.lines.map((line) => [line.lot, line.pieces, line.serials])).toEqual([
      ['U-2', '1', ['k-001']],
      ['U-1', '1,3', ['K-001', 'K-003']],
    ]);
  });

  it('D-2: a line says what it is about in exactly one way', async () => {
    const { status, body } = await ship<Refused>([{}, { lot: 'U-1', item: 'PUMP', serials: ['K-002'] }, { item: 'PUMP' }, { lot: 'U-1' }]);
    expect(status).toBe(400);
    expect(body.reasons.map((reason) => [reason.pointer, reason.code])).toEqual([
      ['/lines/0', 'line-unclear'],
      ['/lines/1', 'line-unclear'],
      ['/lines/2/serials', 'line-unclear'],
      ['/lines/3/pieces', 'pieces-missing'],
    ]);
  });

  it('ST-8: proposes the oldest first and names what it skips', async () => {
    const { body } = await plant.as('dispatcher').get<PickView>('/api/items/WAX-250/pick?quantity=90');
    expect(body.proposed.map((line) => [line.lot, line.at, line.pieces, line.quantity])).toEqual([
      ['F-OLD', 'FG-1', '22-100', '79'],
      ['F-NEW', 'FG-1', '1-11', '11'],
    ]);
    expect(body.short).toBe('0');
    expect(body.skipped.map((line) => [line.lot, line.code])).toEqual([
      ['F-GONE', 'lot-expired'],
      ['F-OPEN', 'lot-not-released'],
    ]);
    const more = await plant.as('dispatcher').get<PickView>('/api/items/WAX-250/pick?quantity=1000&location=RACK-1');
    expect([more.body.short, more.body.proposed]).toEqual(['1000', []]);
    expect((await plant.as('dispatcher').get<Refused>('/api/items/WAX-250/pick?quantity=1.5')).status).toBe(400);
    expect((await plant.as('dispatcher').get<Refused>('/api/items/NONE/pick?quantity=1')).status).toBe(404);
  });

  it('ST-8, D-8: records when older stock is passed over', async () => {
    const { body } = await ship([{ lot: 'F-NEW', pieces: '1-2', pickReason: 'the customer asked for the new label' }]);
    expect(body.lines[0]).toMatchObject({ passedOver: ['F-OLD'], pickReason: 'the customer asked for the new label' });
    const all = await ship([
      { lot: 'F-OLD', pieces: '22-100' },
      { lot: 'F-NEW', pieces: '3' },
    ]);
    expect(all.body.lines.map((line) => line.passedOver)).toEqual([[], []]);
  });

  it('D-9: a shipment recorded in error is reversed by an entry that names it, once', async () => {
    const { body: shipped } = await ship([{ lot: 'F-NEW', pieces: '50-60' }]);
    const path = `/api/shipments/${shipped.shipment}/reversal`;
    const reversed = await plant.as('dispatcher').post<ShipmentView>(path, { reason: 'typed the wrong lot' });
    expect(reversed.status).toBe(200);
    expect(reversed.body.reversed).toEqual({ seq: shipped.seq + 1, reason: 'typed the wrong lot' });
    const again = await plant.as('dispatcher').post<Refused>(path, { reason: 'again' });
    expect(again.body.reasons[0]?.code).toBe('reversed-before');
    expect((await ship([{ lot: 'F-NEW', pieces: '50-60' }])).status).toBe(201);
    expect((await plant.as('dispatcher').post('/api/shipments/S-9999/reversal', { reason: 'no such' })).status).toBe(404);
  });

  it('SH-4, SH-7: names every business supplied with a lot in one question', async () => {
    await ship([{ lot: 'F-NEW', pieces: '70' }], { customer: 'C-002' });
    const { body } = await plant.as('auditor').get<RecipientView[]>('/api/recipients?lot=F-NEW');
    expect(body.map((row) => [row.customer, row.name, row.lots])).toEqual([
      ['C-001', 'Tumbledown Cycles', ['F-NEW']],
      ['C-002', 'Saddler and Spoke', ['F-NEW']],
    ]);
    expect((await plant.as('auditor').get<RecipientView[]>('/api/recipients?until=2026-03-01T00:00:00.000Z')).body).toEqual([]);
  });

  it('SH-7, ID-8: says that it knows no such lot, item or customer, not that nobody was supplied', async () => {
    for (const list of ['recipients', 'shipments', 'shipments.csv']) {
      const { status, body } = await plant.as('auditor').get<Refused>(`/api/${list}?lot=f-new&item=wax-250&customer=C-1`);
      expect([status, body.reasons.map((reason) => reason.code)]).toEqual([404, ['lot-unknown', 'item-unknown', 'customer-unknown']]);
    }
  });

  it('answers a retry again and ships once', async () => {
    const command = { commandId: 'cmd-77', document: 'N-77' };
    const first = await ship([{ lot: 'F-NEW', pieces: '80' }], command);
    const second = await ship([{ lot: 'F-NEW', pieces: '80' }], command);
    expect(second.body).toEqual(first.body);
  });

  it('two people want the last piece: one gets it', async () => {
    await makeLots(plant, [{ lot: 'F-LAST', item: 'WAX-250', pieces: 1, expiresOn: '2026-12-01' }]);
    const answers = await Promise.all([ship([{ lot: 'F-LAST', pieces: '1' }]), ship([{ lot: 'F-LAST', pieces: '1' }])]);
    expect(answers.map((answer) => answer.status).toSorted((a, b) => a - b)).toEqual([201, 409]);
  });

  it('ST-7, D-4, D-5: a hold reaches what was made from it, by a link recorded late too, until an urgent release sets it aside', async () => {
    const [label] = await receiveReleased(plant, [{ item: 'LBL-250', quantity: '100' }]);
    await makeLots(plant, [{ lot: 'F-HELD', item: 'WAX-250', pieces: 100, expiresOn: '2026-11-01' }]);
    const held = await plant.as('quality').post<{ hold: string }>('/api/holds', {
      parts: [{ lot: label }],
      reaches: true,
      reason: 'hazard mark missing',
      password: PASSWORD,
    });
    expect(held.status).toBe(201);
    expect((await ship([{ lot: 'F-HELD', pieces: '1' }])).status).toBe(201);

    await linkLots(plant, 'RUN-HELD', [{ from: label!, to: 'F-HELD', toSpan: [1, 50], massMicro: 0 }]);
    const refused = await ship<Refused>([
      { lot: 'F-HELD', pieces: '40-60' },
      { lot: 'F-HELD', pieces: '61-70' },
    ]);
    expect(refused.body.reasons.map((reason) => [reason.pointer, reason.code])).toEqual([['/lines/0', 'made-from-held']]);
    expect(refused.body.reasons[0]?.detail).toBe(`F-HELD was made from ${label}, which is on hold ${held.body.hold}: hazard mark missing`);
    const pick = await plant.as('dispatcher').get<PickView>('/api/items/WAX-250/pick?quantity=10');
    expect(pick.body.proposed.map((line) => [line.lot, line.pieces])).toEqual([['F-HELD', '51-60']]);
    expect(pick.body.skipped.map((line) => [line.lot, line.code, line.pieces])).toContainEqual(['F-HELD', 'made-from-held', '2-50']);

    const urgent = await plant.as('quality').post<{ urgentRelease: string }>('/api/urgent-releases', {
      lot: 'F-HELD',
      pieces: '40-50',
      setsAside: ['held'],
      reason: 'labels of these were checked by hand',
      password: PASSWORD,
    });
    expect(urgent.status).toBe(201);
    const shipped = await ship([{ lot: 'F-HELD', pieces: '40-45' }]);
    expect(shipped.body.lines[0]?.urgentReleases).toEqual([urgent.body.urgentRelease]);
  });

  it('a released lot ships, and the clerk may not ship', async () => {
    await release(plant, ['F-OPEN']);
    expect((await ship([{ lot: 'F-OPEN', pieces: '1-10' }])).status).toBe(201);
    expect((await plant.as('clerk').post('/api/shipments', {})).status).toBe(403);
  });
});
