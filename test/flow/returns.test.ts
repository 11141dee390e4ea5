import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ShipmentView } from '../../src/server/plant/dispatch/dispatch.dto.js';
import type { ReturnView } from '../../src/server/plant/returns/returns.dto.js';
import { TraceService } from '../../src/server/trace/trace.service.js';
import { catalogueFernhollow, receiveReleased, release } from '../fernhollow.js';
import { type Answer, DATABASES, type Plant, startPlant } from '../harness.js';
import { makeLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Refused {
  reasons: { code: string; detail: string; pointer: string }[];
}

describe.each(DATABASES)('returns on %s', (database) => {
  let plant: Plant;
  let documents = 0;

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    await makeLots(plant, [
      { lot: 'F-1', item: 'WAX-250', pieces: 100 },
      { lot: 'U-1', item: 'PUMP', pieces: 3, serials: ['K-001', 'K-002', 'K-003'] },
    ]);
  });
  afterAll(async () => {
    await expectRebuildEqual(plant);
    await plant.stop();
  });

  const ship = async (customer: string, lines: object[], more: object = {}): Promise<string> => {
    const command = { customer, documentType: 'dispatch note', document: `N-${++documents}`, location: 'FG-1', lines, ...more };
    const { status, body } = await plant.as('dispatcher').post<ShipmentView>('/api/shipments', command);
    expect({ status, body }).toMatchObject({ status: 201 });
    return body.shipment;
  };
  const bring = <Body = ReturnView>(customer: string, lines: object[], more: object = {}): Promise<Answer<Body>> =>
    plant.as('clerk').post<Body>('/api/returns', {
      customer,
      documentType: 'return note',
      document: `R-${++documents}`,
      location: 'QUAR',
      condition: 'opened, dented',
      lines,
      ...more,
    });

  it('ID-7: pieces that come back are the pieces they were, in quarantine, and who had them stays known', async () => {
    const first = await ship('C-001', [{ lot: 'F-1', pieces: '1-10' }]);
    const second = await ship('C-001', [{ lot: 'F-1', pieces: '11-20' }]);
    const { status, body } = await bring('C-001', [{ lot: 'F-1', pieces: '9-12' }]);
    expect(status).toBe(201);
    expect(body.lines.map((line) => [line.lot, line.pieces, line.shipment, line.becomes])).toEqual([
      ['F-1', '9-10', first, null],
      ['F-1', '11-12', second, null],
    ]);
    const again = await plant.as('dispatcher').post<Refused>('/api/shipments', {
      customer: 'C-002',
      documentType: 'dispatch note',
      document: 'N-again',
      location: 'QUAR',
      lines: [{ lot: 'F-1', pieces: '9' }],
    });
    expect(again.body.reasons.map((reason) => reason.code)).toEqual(['lot-not-released']);

    await release(plant, ['F-1']);
    await ship('C-002', [{ lot: 'F-1', pieces: '9-12' }], { location: 'QUAR' });
    const had = await plant.as('auditor').get<ReturnView[]>('/api/returns?lot=F-1');
    expect(had.body.map((row) => [row.customer, row.lines.map((line) => line.pieces)])).toEqual([['C-001', ['9-10', '11-12']]]);
  });

  it('D-11: refuses what that customer does not have, saying where it is', async () => {
    const { status, body } = await bring<Refused>('C-001', [
      { lot: 'F-1', pieces: '8-9' },
      { lot: 'F-1', pieces: '50' },
      { lot: 'F-1', pieces: '200' },
      { lot: 'F-404', pieces: '1' },
      { lot: 'F-1', pieces: '1', shipment: 'S-9999' },
    ]);
    expect(status).toBe(409);
    expect(body.reasons.map((reason) => [reason.pointer, reason.code])).toEqual([
      ['/lines/4/shipment', 'shipment-unknown'],
      ['/lines/0', 'not-with-customer'],
      ['/lines/1', 'not-with-customer'],
      ['/lines/2/pieces', 'pieces-outside-lot'],
      ['/lines/3/lot', 'lot-unknown'],
      ['/lines/4', 'not-with-customer'],
    ]);
    expect(body.reasons[1]?.detail).toMatch(/^pieces 9 of F-1 are not out with C-001: 9 dispatched in S-\d+$/);
    expect(body.reasons[2]?.detail).toBe('pieces 50 of F-1 are not out with C-001: 50 at FG-1');
  });

  it('D-11: refuses a piece named twice, a shipment of another, a return before the shipment or in the time to come', async () => {
    const shipment = await ship('C-002', [{ lot: 'F-1', pieces: '30-31' }]);
    const another = await bring<Refused>('C-001', [{ lot: 'F-1', pieces: '30', shipment }]);
    expect(another.body.reasons.map((reason) => reason.code)).toEqual(['shipment-of-another', 'not-with-customer']);
    const twice = await bring<Refused>('C-002', [
      { lot: 'F-1', pieces: '30' },
      { lot: 'F-1', pieces: '30-31' },
    ]);
    expect(twice.body.reasons.map((reason) => [reason.pointer, reason.code])).toEqual([['/lines/1', 'not-with-customer']]);
    const early = await bring<Refused>('C-002', [{ lot: 'F-1', pieces: '30' }], { returnedAt: '2026-03-01T00:00:00.000Z' });
    expect(early.body.reasons.map((reason) => reason.code)).toEqual(['returned-before-shipped']);
    const late = await bring<Refused>('C-002', [{ lot: 'F-1', pieces: '30' }], { returnedAt: '2026-05-01T00:00:00.000Z' });
    expect(late.body.reasons.map((reason) => reason.code)).toEqual(['not-yet']);
  });

  it('takes serials back to the lots they are of', async () => {
    await ship('C-001', [{ item: 'PUMP', serials: ['K-001', 'K-003'] }]);
    const { body } = await bring('C-001', [{ item: 'PUMP', serials: ['K-003'] }]);
    expect(body.lines.map((line) => [line.lot, line.pieces])).toEqual([['U-1', '3']]);
    const { body: refused } = await bring<Refused>('C-001', [{ item: 'PUMP', serials: ['K-002'] }]);
    expect(refused.reasons[0]?.detail).toBe('pieces 2 of U-1 are not out with C-001: 2 at FG-1');
  });

  it('D-13, ID-7: a returned quantity becomes a quarantined lot linked to the one it was of', async () => {
    const [lot] = await receiveReleased(plant, [{ item: 'OIL-40', quantity: '100', expiresOn: '2027-05-01' }]);
    const first = await ship('C-001', [{ lot, quantity: '10' }], { location: 'DOCK' });
    plant.clock.set('2026-03-03T08:00:00.000Z');
    const second = await ship('C-001', [{ lot, quantity: '5' }], { location: 'DOCK' });
    const tooMuch = await bring<Refused>('C-001', [
      { lot, quantity: '12' },
      { lot, quantity: '4' },
    ]);
    expect(tooMuch.body.reasons.map((reason) => [reason.pointer, reason.detail])).toEqual([
      ['/lines/1', `3 L of ${lot} are out with C-001, 4 said to have come back`],
    ]);

    const { status, body } = await bring('C-001', [{ lot, quantity: '12' }]);
    expect(status).toBe(201);
    expect(body.lines.map((line) => [line.shipment, line.quantity, line.shipmentNamed])).toEqual([
      [first, '10', false],
      [second, '2', false],
    ]);
    const becomes = body.lines[0]!.becomes!;
    expect(body.lines[1]!.becomes).toBe(becomes);
    const traced = await plant.app.get(TraceService).trace({ lot, whereabouts: true });
    expect(traced.lots.map((row) => [row.lot, row.affectedQuantity])).toEqual([[becomes, '12']]);
    expect(traced.whereabouts!.map((part) => [part.lot, part.fate, part.at, part.quantity])).toEqual([
      [lot, 'consumed', body.returned, '12'],
      [lot, 'dispatched', second, '3'],
      [lot, 'on-hand', 'DOCK', '85'],
      [becomes, 'on-hand', 'QUAR', '12'],
    ]);
    const refused = await plant.as('dispatcher').post<Refused>('/api/shipments', {
      customer: 'C-002',
      documentType: 'dispatch note',
      document: 'N-back',
      location: 'QUAR',
      lines: [{ lot: becomes, quantity: '1' }],
    });
    expect(refused.body.reasons.map((reason) => reason.code)).toEqual(['lot-not-released']);
  });

  it('D-9: a shipment from which goods came back cannot be reversed', async () => {
    const shipment = await ship('C-001', [{ lot: 'F-1', pieces: '60-62' }]);
    const { body } = await bring('C-001', [{ lot: 'F-1', pieces: '60' }]);
    const refused = await plant.as('dispatcher').post<Refused>(`/api/shipments/${shipment}/reversal`, { reason: 'never left' });
    expect(refused.body.reasons.map((reason) => [reason.code, reason.detail])).toEqual([
      ['returned-from', `goods of ${shipment} came back in ${body.returned}: it did go out`],
    ]);
  });

  it('D-15: a return booked in error is reversed by an entry that names it, unless the goods have gone on', async () => {
    const [oil] = await receiveReleased(plant, [{ item: 'OIL-40', quantity: '20' }]);
    const shipment = await ship('C-001', [{ lot: 'F-1', pieces: '70-75' }]);
    const bulk = await ship('C-001', [{ lot: oil, quantity: '8' }], { location: 'DOCK' });
    const { body } = await bring('C-001', [
      { lot: 'F-1', pieces: '70-72' },
      { lot: oil, quantity: '3' },
    ]);
    const becomes = body.lines[1]!.becomes!;
    const reverse = <Body = ReturnView>(returned: string) =>
      plant.as('clerk').post<Body>(`/api/returns/${returned}/reversal`, { reason: 'booked from the wrong paper' });
    const { status, body: reversed } = await reverse(body.returned);
    expect(status).toBe(200);
    expect(reversed.reversed).toEqual({ seq: body.seq + 1, reason: 'booked from the wrong paper' });
    const traced = await plant.app.get(TraceService).trace({ lot: oil, whereabouts: true });
    expect(traced.lots).toEqual([]);
    expect(traced.whereabouts!.map((part) => [part.lot, part.fate, part.at, part.quantity])).toEqual([
      [oil, 'dispatched', bulk, '8'],
      [oil, 'on-hand', 'DOCK', '12'],
    ]);
    expect((await plant.app.get(TraceService).trace({ lot: becomes, whereabouts: true })).whereabouts).toMatchObject([
      { fate: 'count-difference', at: body.returned, quantity: '3' },
    ]);
    expect((await reverse<Refused>(body.returned)).body.reasons[0]?.code).toBe('reversed-before');
    expect((await reverse('RT-9999')).status).toBe(404);

    const { body: again } = await bring('C-001', [{ lot: 'F-1', pieces: '70-72' }]);
    expect(again.lines[0]!.shipment).toBe(shipment);
    await release(plant, ['F-1']);
    expect((await reverse<Refused>(again.returned)).body.reasons.map((reason) => reason.code)).toEqual(['gone-on']);
  });

  it('books a document once, and shows one return', async () => {
    const { body } = await bring('C-001', [{ lot: 'F-1', pieces: '61' }], { document: 'R-once' });
    expect((await plant.as('auditor').get<ReturnView>(`/api/returns/${body.returned}`)).body).toEqual(body);
    const twice = await bring<Refused>('C-001', [{ lot: 'F-1', pieces: '62' }], { document: 'R-once' });
    expect(twice.body.reasons.map((reason) => reason.code)).toEqual(['document-booked']);
    expect((await plant.as('auditor').get('/api/returns/RT-9999')).status).toBe(404);
    expect((await plant.as('auditor').get('/api/returns?lot=f-1')).status).toBe(404);
  });
});
