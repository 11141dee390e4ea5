import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MICRO } from '../../shared/quantity.js';
import { onHand } from '../../src/server/plant/stock/effects.facts.js';
import { catalogueFernhollow, receive, recordFacts } from '../fernhollow.js';
import { type Client, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { linkLots, makeLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Refused {
  readonly reasons: readonly { readonly code: string; readonly detail: string }[];
}
const codes = (body: Refused): string[] => body.reasons.map((reason) => reason.code);

describe.each(DATABASES)('release and holds on %s', (database) => {
  let plant: Plant;
  let quality: Client;
  let oil: string;
  let wax: string;
  const signed = (more: object = {}) => ({ password: PASSWORD, reason: 'as the test says', ...more });
  const ship = (lot: string, more: object) =>
    plant.as('dispatcher').post<Refused>('/api/shipments', {
      customer: 'C-001',
      documentType: 'dispatch note',
      document: `N-${Math.round(performance.now() * 1000)}`,
      location: 'DOCK',
      lines: [{ lot, ...more }],
    });

  beforeAll(async () => {
    plant = await startPlant(database);
    quality = plant.as('quality');
    await catalogueFernhollow(plant);
    [oil, wax] = (await receive(plant, [
      { item: 'OIL-40', quantity: '50' },
      { item: 'WAX-BASE', quantity: '100', expiresOn: '2026-04-01' },
    ])) as [string, string];
  });
  afterAll(() => plant.stop());

  it('ST-11, ST-2: a received lot is in quarantine and cannot be shipped until quality releases it', async () => {
    expect(codes((await ship(oil, { quantity: '1' })).body)).toContain('lot-not-released');
    const released = await quality.post<{ decision: string; signedBy: string; meaning: string }>(`/api/lots/${oil}/release`, signed());
    expect(released.status, JSON.stringify(released.body)).toBe(201);
    expect(released.body).toMatchObject({ decision: 'released', signedBy: 'quality-1', meaning: expect.stringContaining('release') });
    expect((await ship(oil, { quantity: '1' })).status).toBe(201);
  });

  it('ST-5: the release names who authorised it, and why', async () => {
    const answer = await plant.as('auditor').get<object[]>(`/api/lots/${oil}/decisions`);
    expect(answer.body).toEqual([expect.objectContaining({ decision: 'released', signedBy: 'quality-1', reason: 'as the test says' })]);
  });

  it('refuses a wrong password, a clerk, and a second release of the same lot', async () => {
    expect((await quality.post(`/api/lots/${wax}/release`, signed({ password: 'not the password at all' }))).status).toBe(403);
    expect((await plant.as('clerk').post(`/api/lots/${wax}/release`, signed())).status).toBe(403);
    expect(codes((await quality.post<Refused>(`/api/lots/${oil}/release`, signed())).body)).toEqual(['not-in-quarantine']);
    expect((await quality.post<Refused>('/api/lots/NONE/release', signed())).status).toBe(404);
  });

  it('whoever booked or made a lot cannot alone release it (domain rule 7)', async () => {
    await recordFacts(
      plant,
      [
        {
          kind: 'MadeForTest',
          v: 1,
          born: [
            {
              lot: 'OWN-1',
              item: 'MIX-WAX',
              itemRevision: 1,
              unit: 'kg',
              pieces: null,
              quantityMicro: 10 * MICRO,
              origin: 'made',
              bornAt: '2026-03-02T08:00:00.000Z',
              place: onHand('V-1'),
              status: 'quarantine',
              source: 'RUN-9',
            },
          ],
        },
      ],
      { person: 'quality-1', roles: ['quality'] },
    );
    expect(codes((await quality.post<Refused>('/api/lots/OWN-1/release', signed())).body)).toEqual(['maker-cannot-release']);
    expect((await plant.as('quality', 2).post('/api/lots/OWN-1/release', signed())).status).toBe(201);
  });

  it('ST-10: a held quantity is kept back, the rest goes on', async () => {
    const placed = await quality.post<{ hold: string }>('/api/holds', signed({ parts: [{ lot: oil, quantity: '30' }], reaches: false }));
    expect(placed.status, JSON.stringify(placed.body)).toBe(201);
    expect(codes((await ship(oil, { quantity: '19.000001' })).body)).toEqual(['not-enough-left']);
    expect((await ship(oil, { quantity: '19' })).status).toBe(201);
    expect((await quality.post(`/api/holds/${placed.body.hold}/lift`, signed())).status).toBe(201);
    expect((await ship(oil, { quantity: '30' })).status).toBe(201);
  });

  it('a quantity of a bulk lot cannot reach what was made from it', async () => {
    const answer = await quality.post<Refused>(
      '/api/holds',
      signed({ parts: [{ lot: wax, quantity: '10' }], reaches: true, owner: 'nobody' }),
    );
    expect(codes(answer.body)).toEqual(['person-unknown', 'quantity-cannot-reach']);
  });

  it('ST-7, ST-9: a reaching hold stops what was made from the lot, also by a link recorded late, until it is lifted', async () => {
    await quality.post(`/api/lots/${wax}/release`, signed());
    const hold = (await quality.post<{ hold: string }>('/api/holds', signed({ parts: [{ lot: wax }], reaches: true }))).body.hold;
    expect((await ship('OWN-1', { quantity: '1' })).body.reasons).toBeDefined();
    await recordFacts(plant, [
      {
        kind: 'LinkedLateForTest',
        v: 1,
        linked: [
          {
            run: 'RUN-9',
            kind: 'mixing',
            at: '2026-03-02T08:00:00.000Z',
            links: [{ from: wax, fromSpan: null, to: 'OWN-1', toSpan: null, quantityMicro: 0, massMicro: 0, map: 'all' }],
          },
        ],
      },
    ]);
    expect(codes((await ship('OWN-1', { quantity: '1' })).body)).toContain('made-from-held');
    const reach = await plant.as('auditor').get<{ reachedLots: number; reached: object[] }>(`/api/holds/${hold}`);
    expect(reach.body).toMatchObject({ reachedLots: 1, reached: [{ lot: 'OWN-1', fate: 'on-hand', at: 'V-1', quantity: '10' }] });
    await quality.post(`/api/holds/${hold}/lift`, signed());
    expect(codes((await ship('OWN-1', { quantity: '1' })).body)).not.toContain('made-from-held');
    expect(codes((await quality.post<Refused>(`/api/holds/${hold}/lift`, signed())).body)).toEqual(['lifted-before']);
  });

  it('ST-6: an urgent release sets aside only what it says, marks what it touches, and stays listed until closed', async () => {
    const [lot] = (await receive(plant, [{ item: 'SOLV', quantity: '5' }])) as [string];
    expect(codes((await ship(lot, { quantity: '1' })).body)).toEqual(['lot-not-released']);
    const opened = await quality.post<{ urgentRelease: string }>('/api/urgent-releases', signed({ lot, setsAside: ['quarantine'] }));
    expect(opened.status, JSON.stringify(opened.body)).toBe(201);
    const { status, body: went } = await ship(lot, { quantity: '1' });
    expect(status).toBe(201);
    const listed = async () => (await plant.as('auditor').get<object[]>('/api/urgent-releases')).body;
    const { shipment } = went as unknown as { shipment: string };
    expect(await listed()).toEqual([expect.objectContaining({ lot, closedSeq: null, shipments: [shipment] })]);
    await quality.post(`/api/urgent-releases/${opened.body.urgentRelease}/close`, signed());
    expect(codes((await ship(lot, { quantity: '1' })).body)).toEqual(['lot-not-released']);
    await plant.as('dispatcher').post(`/api/shipments/${shipment}/reversal`, { reason: 'another lot was meant' });
    expect(await listed()).toEqual([expect.objectContaining({ lot, closedBy: 'quality-1', shipments: [] })]);
  });

  it('a lot that was not accepted can be used only after the decision is taken back', async () => {
    const [lot] = (await receive(plant, [{ item: 'DYE-BLU', quantity: '5' }])) as [string];
    await quality.post(`/api/lots/${lot}/non-acceptance`, signed());
    expect(codes((await ship(lot, { quantity: '1' })).body)).toEqual(['lot-not-accepted']);
    expect(codes((await quality.post<Refused>('/api/urgent-releases', signed({ lot, setsAside: ['quarantine'] }))).body)).toEqual([
      'lot-not-accepted',
    ]);
    await quality.post(`/api/lots/${lot}/reconsideration`, signed());
    await quality.post(`/api/lots/${lot}/release`, signed());
    expect((await ship(lot, { quantity: '1' })).status).toBe(201);
  });

  it('an expired lot is not released', async () => {
    const [lot] = (await receive(plant, [{ item: 'WAX-BASE', quantity: '1', expiresOn: '2026-03-01' }])) as [string];
    expect(codes((await quality.post<Refused>(`/api/lots/${lot}/release`, signed())).body)).toEqual(['lot-expired']);
  });

  describe('where what is stopped has gone', () => {
    interface Reach {
      readonly hold: string;
      readonly held: readonly object[];
      readonly reached: readonly {
        readonly lot: string;
        readonly where: string;
        readonly pieces: string | null;
        readonly customer: string | null;
      }[];
      readonly reachedLots: number;
      readonly reachedPieces: number;
      readonly where: readonly object[];
    }

    beforeAll(async () => {
      await makeLots(plant, [
        { lot: 'B-2', item: 'MIX-WAX', quantityMicro: 40 * MICRO, unit: 'kg', at: 'V-2' },
        { lot: 'B-3', item: 'MIX-WAX', quantityMicro: 50 * MICRO, unit: 'kg', at: 'V-1' },
        { lot: 'F-2', item: 'WAX-250', pieces: 200, at: 'DOCK' },
        { lot: 'F-3', item: 'WAX-250', pieces: 100, at: 'DOCK' },
      ]);
      await linkLots(plant, 'RUN-2', [{ from: 'B-2', to: 'F-2', toSpan: [101, 200] }]);
      await linkLots(plant, 'RUN-3', [{ from: 'B-2', to: 'B-3' }]);
      expect((await ship('F-2', { pieces: '91-130' })).status).toBe(201);
      expect((await ship('F-3', { pieces: '1' })).status).toBe(201);
      await quality.post('/api/stock/scrap', { lot: 'F-2', pieces: '199-200', reason: 'dented' });
    });

    it('ST-7: a hold is answered with everything it reaches, on hand, in process and with which customer, in lists and counts', async () => {
      const placed = await quality.post<Reach>('/api/holds', signed({ parts: [{ lot: 'B-2' }], reaches: true }));
      expect(placed.body.held).toEqual([expect.objectContaining({ lot: 'B-2', where: 'in process', at: 'V-2', quantity: '40' })]);
      expect(placed.body.reached.map(({ lot, where, pieces, customer }) => [lot, where, pieces, customer])).toEqual([
        ['B-3', 'in process', null, null],
        ['F-2', 'dispatched', '101-130', 'C-001'],
        ['F-2', 'on hand', '131-198', null],
        ['F-2', 'scrapped', '199-200', null],
      ]);
      expect(placed.body).toMatchObject({ reachedLots: 2, reachedPieces: 100 });
      expect(placed.body.where).toEqual([
        { where: 'dispatched', lots: 1, pieces: 30, customers: ['C-001'] },
        { where: 'in process', lots: 2, pieces: 0, customers: [] },
        { where: 'on hand', lots: 1, pieces: 68, customers: [] },
        { where: 'scrapped', lots: 1, pieces: 2, customers: [] },
      ]);
      expect(codes((await ship('F-2', { pieces: '90,131' })).body)).toEqual(['made-from-held']);
      expect((await ship('F-2', { pieces: '90' })).status).toBe(201);
      expect((await plant.as('auditor').get<Reach>(`/api/holds/${placed.body.hold}`)).body.reachedPieces).toBe(100);
      await quality.post(`/api/holds/${placed.body.hold}/lift`, signed());
    });

    it('a hold without reach stops the lot and nothing made from it', async () => {
      const placed = await quality.post<Reach>(
        '/api/holds',
        signed({ parts: [{ lot: 'B-2' }, { lot: 'F-3', pieces: '50-60' }], reaches: false }),
      );
      expect(placed.body).toMatchObject({ reached: [], reachedLots: 0, reachedPieces: 0 });
      expect(placed.body.where).toEqual([
        { where: 'in process', lots: 1, pieces: 0, customers: [] },
        { where: 'on hand', lots: 1, pieces: 11, customers: [] },
      ]);
      expect((await ship('F-2', { pieces: '140' })).status).toBe(201);
      expect(codes((await ship('F-3', { pieces: '49-50' })).body)).toEqual(['lot-held']);
      expect((await ship('F-3', { pieces: '49' })).status).toBe(201);
      const list = await plant.as('auditor').get<{ hold: string; liftedSeq: number | null; parts: object[] }[]>('/api/holds');
      expect(list.body[0]).toMatchObject({
        hold: placed.body.hold,
        liftedSeq: null,
        parts: [
          { lot: 'B-2', pieces: null },
          { lot: 'F-3', pieces: '50-60' },
        ],
      });
      const open = list.body.map(({ liftedSeq }) => liftedSeq === null);
      expect(open).toEqual(open.toSorted((a, b) => Number(b) - Number(a)));
    });

    it('refuses a hold with every fault of every part', async () => {
      const answer = await quality.post<Refused>(
        '/api/holds',
        signed({
          reaches: false,
          parts: [
            { lot: 'NONE' },
            { lot: 'F-3', pieces: '100-101' },
            { lot: 'F-2', quantity: '3' },
            { lot: 'B-3', pieces: '1' },
            { lot: 'B-2', quantity: '40.000001' },
            { lot: 'B-2', quantity: '0' },
          ],
        }),
      );
      expect(codes(answer.body)).toEqual([
        'lot-unknown',
        'pieces-outside-lot',
        'pieces-not-quantity',
        'no-pieces-here',
        'not-enough-left',
        'lot-named-twice',
        'quantity-not-positive',
      ]);
      expect((await quality.get('/api/holds/H-9999')).status).toBe(404);
    });

    it('ST-6, H-7: an open urgent release lists what was made since, not what was made before', async () => {
      const [lot] = (await receive(plant, [{ item: 'RUST-INH', quantity: '5' }])) as [string];
      await makeLots(plant, [
        { lot: 'B-OLD', item: 'MIX-WAX', quantityMicro: MICRO, unit: 'kg' },
        { lot: 'B-NEW', item: 'MIX-WAX', quantityMicro: MICRO, unit: 'kg' },
        { lot: 'F-NEW', item: 'WAX-250', pieces: 10 },
      ]);
      await linkLots(plant, 'RUN-OLD', [{ from: lot, to: 'B-OLD' }]);
      const opened = await quality.post<{ urgentRelease: string; marks: string[] }>(
        '/api/urgent-releases',
        signed({ lot, setsAside: ['quarantine'] }),
      );
      expect(opened.body.marks).toEqual([]);
      await linkLots(plant, 'RUN-NEW', [{ from: lot, to: 'B-NEW' }]);
      await linkLots(plant, 'RUN-FILL', [{ from: 'B-NEW', to: 'F-NEW', toSpan: [1, 10] }]);
      const [listed] = (await plant.as('auditor').get<{ marks: string[] }[]>('/api/urgent-releases')).body;
      expect(listed).toMatchObject({ lot, marks: ['B-NEW', 'F-NEW'], closedSeq: null });
      const close = await quality.post<object>(
        `/api/urgent-releases/${opened.body.urgentRelease}/close`,
        signed({ reason: 'results are in' }),
      );
      expect(close.body).toMatchObject({ closedBy: 'quality-1', closeReason: 'results are in', marks: [] });
      expect(codes((await quality.post<Refused>(`/api/urgent-releases/${opened.body.urgentRelease}/close`, signed())).body)).toEqual([
        'closed-before',
      ]);
    });

    it('H-9: an urgent release sets aside only what stands against the lot', async () => {
      const [lot] = (await receive(plant, [{ item: 'SOLV', quantity: '5', expiresOn: '2026-02-28' }])) as [string];
      const open = (setsAside: readonly string[]) => quality.post<Refused>('/api/urgent-releases', signed({ lot, setsAside }));
      expect(codes((await open(['held', 'expired'])).body)).toEqual(['nothing-to-set-aside']);
      expect((await open([])).status).toBe(400);
      expect((await open(['everything'])).status).toBe(400);
      expect((await open(['quarantine', 'expired'])).status).toBe(201);
      expect((await ship(lot, { quantity: '1' })).status).toBe(201);
    });
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
