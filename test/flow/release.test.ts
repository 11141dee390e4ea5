import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MICRO } from '../../shared/quantity.js';
import { onHand } from '../../src/server/plant/stock/effects.facts.js';
import { catalogueFernhollow, receive, receiveReleased, recordFacts } from '../fernhollow.js';
import { type Answer, type Client, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { linkLots, makeLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Refused {
  readonly reasons: readonly { readonly code: string; readonly detail: string }[];
}
interface Decision {
  readonly seq: number;
  readonly decision: string;
  readonly document: string | null;
  readonly pieces: string | null;
  readonly reason: string;
  readonly signedBy: string;
  readonly signedAt: string;
  readonly meaning: string;
}
const codes = (answer: Answer<Refused>): string[] => answer.body.reasons.map((reason) => reason.code);

describe.each(DATABASES)('release on %s', (database) => {
  let plant: Plant;
  let quality: Client;
  let documents = 0;
  const signed = (more: object = {}) => ({ password: PASSWORD, reason: 'records looked through', ...more });
  const decide = <Body = Decision>(lot: string, what: string, more: object = {}, by: Client = quality) =>
    by.post<Body>(`/api/lots/${lot}/${what}`, signed(more));
  const history = async (lot: string): Promise<readonly Decision[]> =>
    (await plant.as('auditor').get<Decision[]>(`/api/lots/${lot}/decisions`)).body;
  const ship = (lot: string, part: object) =>
    plant.as('dispatcher').post<Refused & { shipment: string }>('/api/shipments', {
      customer: 'C-001',
      documentType: 'dispatch note',
      document: `N-${++documents}`,
      location: 'FG-1',
      lines: [{ lot, ...part }],
    });

  /** The lot that a run yields when it is closed, recorded by the person who closed it. */
  const closeRun = (run: string, lot: string, person: string) =>
    recordFacts(
      plant,
      [
        {
          kind: 'ClosedForTest',
          v: 1,
          born: [
            {
              lot,
              item: 'WAX-250',
              itemRevision: 1,
              unit: 'each',
              pieces: 50,
              quantityMicro: 50 * MICRO,
              origin: 'made',
              bornAt: '2026-03-02T08:00:00.000Z',
              place: onHand('FG-1'),
              status: 'quarantine',
              source: run,
            },
          ],
        },
      ],
      { person, roles: ['operator'] },
    );

  beforeAll(async () => {
    plant = await startPlant(database);
    quality = plant.as('quality');
    await catalogueFernhollow(plant);
  });
  afterAll(() => plant.stop());

  it('ST-11, RC-4: a receipt is in quarantine until quality decides; nobody else can', async () => {
    const [lot] = (await receive(plant, [{ item: 'WAX-BASE', quantity: '10' }])) as [string];
    expect(await history(lot)).toEqual([]);
    for (const role of ['clerk', 'operator', 'inspector', 'dispatcher', 'recall-lead', 'auditor', 'administrator'] as const) {
      expect([role, (await decide(lot, 'release', {}, plant.as(role))).status]).toEqual([role, 403]);
    }
    expect((await decide(lot, 'release')).status).toBe(201);
  });

  it('ST-5, RC-5: the release says what was decided, when, by whom, why and what the signature means', async () => {
    const [lot] = (await receive(plant, [{ item: 'SOLV', quantity: '10' }])) as [string];
    plant.clock.set('2026-03-02T09:30:00.000Z');
    const answer = await decide(lot, 'release', { reason: 'certificate 88 agrees' });
    expect(await history(lot)).toEqual([answer.body]);
    expect(answer.body).toEqual({
      seq: expect.any(Number),
      lot,
      decision: 'released',
      document: null,
      pieces: null,
      reason: 'certificate 88 agrees',
      signedBy: 'quality-1',
      signedAt: '2026-03-02T09:30:00.000Z',
      meaning: 'I have reviewed the record of this lot and release it for use and shipment',
    });
  });

  it('ST-4: without the work complete, the review written down, or the signature there is no release; the date is always there', async () => {
    await closeRun('RUN-4', 'F-4', 'operator-1');
    expect((await decide('F-NOT-YET', 'release')).status).toBe(404); // a lot is born when its run is closed
    expect((await quality.post('/api/lots/F-4/release', { password: PASSWORD })).status).toBe(400);
    expect((await quality.post('/api/lots/F-4/release', { password: PASSWORD, reason: '  ' })).status).toBe(400);
    expect((await quality.post('/api/lots/F-4/release', { reason: 'looked through' })).status).toBe(400);
    expect(codes(await decide<Refused>('F-4', 'release', { password: 'somebody else’s' }))).toEqual(['signature-refused']);
    expect((await ship('F-4', { pieces: '1' })).status).toBe(409);
    expect((await decide('F-4', 'release')).body.signedAt).toMatch(/^2026-03-02T/);
    expect((await ship('F-4', { pieces: '1' })).status).toBe(201);
  });

  it('QD-3: two pairs of eyes, for a release and for an urgent release', async () => {
    await closeRun('RUN-5', 'F-5', 'quality-1');
    expect(codes(await decide<Refused>('F-5', 'release'))).toEqual(['maker-cannot-release']);
    const urgent = (by: Client) => by.post<Refused>('/api/urgent-releases', signed({ lot: 'F-5', setsAside: ['quarantine'] }));
    const own = await urgent(quality);
    expect([own.status, codes(own)]).toEqual([403, ['maker-cannot-release']]);
    expect((await urgent(plant.as('quality', 2))).status).toBe(201);
    expect((await decide('F-5', 'release', {}, plant.as('quality', 2))).status).toBe(201);
  });

  it('QD-3: a clerk who may also sign for quality cannot release what she booked herself', async () => {
    const [lot] = (await receive(plant, [{ item: 'OIL-40', quantity: '10' }])) as [string];
    const roles = await plant
      .as('administrator')
      .post('/api/people/clerk-1/roles', { roles: ['clerk', 'quality'], reason: 'holiday cover' });
    expect(roles.status).toBe(200);
    const answer = await decide<Refused>(lot, 'release', {}, plant.as('clerk'));
    expect([answer.status, codes(answer)]).toEqual([403, ['maker-cannot-release']]);
  });

  it('RC-8: what is not accepted ends at the supplier or as scrap, with its quantities, and is found until then', async () => {
    const [lot] = (await receive(plant, [{ item: 'SOLV', quantity: '100' }])) as [string];
    await decide(lot, 'non-acceptance');
    const standing = async () =>
      (await quality.get<{ lots: { lot: string; onHand: string }[] }>('/api/lots?item=SOLV&status=not-accepted')).body.lots.map((one) => [
        one.lot,
        one.onHand,
      ]);
    expect(await standing()).toEqual([[lot, '100']]);
    const stock = (path: string, more: object) =>
      quality.post(`/api/stock/${path}`, { lot, from: 'DOCK', reason: 'not accepted', ...more });
    expect((await stock('supplier-returns', { quantity: '99.5', supplierDocument: 'RMA 3' })).status).toBe(201);
    expect((await stock('scrap', { quantity: '0.6' })).status).toBe(409);
    expect((await stock('scrap', { quantity: '0.5', evidence: 'leaked from the drum' })).status).toBe(201);
    const { body } = await quality.get<{ reconciliation: object }>(`/api/lots/${lot}`);
    expect(body.reconciliation).toMatchObject({ quantity: '100', onHand: '0', scrapped: '0.5', returnedToSupplier: '99.5', gap: '0' });
  });

  it('QD-2, ST-10: pieces are decided on by themselves', async () => {
    await makeLots(plant, [{ lot: 'F-6', item: 'WAX-250', pieces: 100, status: 'quarantine' }]);
    await decide('F-6', 'release', { pieces: '1-50' });
    await decide('F-6', 'non-acceptance', { pieces: '91-100' });
    expect((await ship('F-6', { pieces: '50' })).status).toBe(201);
    expect(codes(await ship('F-6', { pieces: '49,51' }))).toEqual(['lot-not-released']);
    expect(codes(await ship('F-6', { pieces: '91' }))).toEqual(['lot-not-accepted']);
    expect((await decide('F-6', 'release')).body.pieces).toBe('51-90');
    expect((await history('F-6')).map(({ decision, pieces }) => [decision, pieces])).toEqual([
      ['released', '1-50'],
      ['not accepted', '91-100'],
      ['released', '51-90'],
    ]);
  });

  it('what comes back from a customer is released again by itself', async () => {
    await makeLots(plant, [{ lot: 'F-7', item: 'WAX-250', pieces: 10 }]);
    expect((await ship('F-7', { pieces: '1-4' })).status).toBe(201);
    const back = await plant.as('clerk', 2).post('/api/returns', {
      customer: 'C-001',
      documentType: 'return note',
      document: 'R-7',
      location: 'FG-1',
      condition: 'unopened',
      lines: [{ lot: 'F-7', pieces: '2-3' }],
    });
    expect(back.status, JSON.stringify(back.body)).toBe(201);
    expect(codes(await ship('F-7', { pieces: '2' }))).toEqual(['lot-not-released']);
    expect((await decide('F-7', 'release', { pieces: '2' })).status).toBe(201);
    expect((await ship('F-7', { pieces: '2' })).status).toBe(201);
    expect(codes(await ship('F-7', { pieces: '3' }))).toEqual(['lot-not-released']);
  });

  it('QD-4: a release is refused while anything it descends from is on a reaching hold, with every reason', async () => {
    await makeLots(plant, [
      { lot: 'B-8', item: 'MIX-WAX', quantityMicro: 100 * MICRO, unit: 'kg', at: 'V-1' },
      { lot: 'F-8', item: 'WAX-250', pieces: 10, status: 'quarantine', expiresOn: '2026-01-01' },
    ]);
    await linkLots(plant, 'RUN-8', [{ from: 'B-8', to: 'F-8', toSpan: [1, 5] }]);
    const hold = await quality.post<{ hold: string }>('/api/holds', signed({ parts: [{ lot: 'B-8' }], reaches: true }));
    await quality.post('/api/holds', signed({ parts: [{ lot: 'F-8', pieces: '10' }], reaches: false }));
    expect(codes(await decide<Refused>('F-8', 'release'))).toEqual(['lot-expired', 'lot-held', 'made-from-held']);
    expect(codes(await decide<Refused>('F-8', 'release', { pieces: '6-9' }))).toEqual(['lot-expired']);
    await quality.post(`/api/holds/${hold.body.hold}/lift`, signed());
    expect(codes(await decide<Refused>('F-8', 'release', { pieces: '1-5' }))).toEqual(['lot-expired']);
  });

  it('ST-9: the history shows hold and release, lifting and urgent release, each with reason and person', async () => {
    const [lot] = (await receive(plant, [{ item: 'DYE-BLU', quantity: '5' }])) as [string];
    const hold = await quality.post<{ hold: string }>('/api/holds', signed({ parts: [{ lot }], reaches: true, reason: 'colour off' }));
    await quality.post('/api/urgent-releases', signed({ lot, setsAside: ['held', 'quarantine'], reason: 'for the trial' }));
    await plant.as('quality', 2).post(`/api/holds/${hold.body.hold}/lift`, signed({ reason: 'lamp was wrong' }));
    await decide(lot, 'release');
    expect((await history(lot)).map(({ decision, reason, signedBy }) => [decision, reason, signedBy])).toEqual([
      ['hold placed', 'colour off', 'quality-1'],
      ['urgent release opened', 'for the trial', 'quality-1'],
      ['hold lifted', 'lamp was wrong', 'quality-2'],
      ['released', 'records looked through', 'quality-1'],
    ]);
    expect((await plant.as('auditor').get<object[]>('/api/holds')).body).toContainEqual(
      expect.objectContaining({ hold: hold.body.hold, placedBy: 'quality-1', liftedBy: 'quality-2', liftReason: 'lamp was wrong' }),
    );
    expect((await plant.as('auditor').get('/api/lots/NONE/decisions')).status).toBe(404);
  });

  it('ST-3, ST-4, QD-7: what a run makes is not there before it is closed, is held back after, and waits for its yield to be explained', async () => {
    const lots = await receiveReleased(plant, [
      { item: 'WAX-BASE', quantity: '100' },
      { item: 'OIL-40', quantity: '100' },
      { item: 'SOLV', quantity: '100' },
      { item: 'DYE-BLU', quantity: '100' },
      { item: 'RUST-INH', quantity: '100' },
    ]);
    const operator = plant.as('operator');
    const post = async <Body>(path: string, body: object): Promise<Body> => {
      const answer = await operator.post<Body>(path, body);
      expect(answer.status, JSON.stringify(answer.body)).toBe(201);
      return answer.body;
    };
    const clearance = { confirmed: true, checkedBy: 'operator-1' };
    const { run } = await post<{ run: string }>('/api/runs', {
      kind: 'mixing',
      item: 'MIX-WAX',
      recipe: 'RCP-WAX',
      vessel: 'V-2',
      planned: '100',
      clearance,
    });
    const amounts = ['60', '20', '20', '0.5', '2.5'];
    for (const [i, quantity] of amounts.entries()) {
      plant.clock.set(`2026-03-03T1${i}:00:00.000Z`);
      await post(`/api/runs/${run}/charges`, { charges: [{ lot: lots[i], quantity, step: i + 1 }] });
    }
    plant.clock.set('2026-03-03T16:00:00.000Z');
    expect((await decide('B-LATE', 'release')).status).toBe(404);
    await post(`/api/runs/${run}/close`, { lot: 'B-LATE', quantity: '80' });
    expect(codes(await ship('B-LATE', { quantity: '1' }))).toContain('lot-not-released');
    expect(codes(await decide<Refused>('B-LATE', 'release'))).toEqual(['investigation-open']);
    await post(`/api/runs/${run}/explanations`, { what: 'yield', explanation: 'a valve stood open; the floor was weighed' });
    expect((await decide('B-LATE', 'release')).status).toBe(201);
  });

  it('answers a retry of the same decision again, and refuses the id for another', async () => {
    const [lot] = (await receive(plant, [{ item: 'RUST-INH', quantity: '5' }])) as [string];
    const first = await decide(lot, 'release', { commandId: 'sign-once' });
    expect((await decide(lot, 'release', { commandId: 'sign-once' })).body).toEqual(first.body);
    expect(await history(lot)).toHaveLength(1);
    expect(codes(await decide<Refused>(lot, 'non-acceptance', { commandId: 'sign-once', reason: 'other' }))).toEqual(['command-id-used']);
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
