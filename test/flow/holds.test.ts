import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MICRO } from '../../shared/quantity.js';
import { onHand } from '../../src/server/plant/stock/effects.facts.js';
import { catalogueFernhollow, receive, recordFacts } from '../fernhollow.js';
import { type Client, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
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
    const answer = await quality.post<Refused>('/api/holds', signed({ parts: [{ lot: wax, quantity: '10' }], reaches: true, owner: 'nobody' }));
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
    expect((await ship(lot, { quantity: '1' })).status).toBe(201);
    expect((await plant.as('auditor').get<object[]>('/api/urgent-releases')).body).toEqual([expect.objectContaining({ lot, closedSeq: null })]);
    await quality.post(`/api/urgent-releases/${opened.body.urgentRelease}/close`, signed());
    expect(codes((await ship(lot, { quantity: '1' })).body)).toEqual(['lot-not-released']);
  });

  it('a lot that was not accepted can be used only after the decision is taken back', async () => {
    const [lot] = (await receive(plant, [{ item: 'DYE-BLU', quantity: '5' }])) as [string];
    await quality.post(`/api/lots/${lot}/non-acceptance`, signed());
    expect(codes((await ship(lot, { quantity: '1' })).body)).toEqual(['lot-not-accepted']);
    expect(codes((await quality.post<Refused>('/api/urgent-releases', signed({ lot, setsAside: ['quarantine'] }))).body)).toEqual(['lot-not-accepted']);
    await quality.post(`/api/lots/${lot}/reconsideration`, signed());
    await quality.post(`/api/lots/${lot}/release`, signed());
    expect((await ship(lot, { quantity: '1' })).status).toBe(201);
  });

  it('an expired lot is not released', async () => {
    const [lot] = (await receive(plant, [{ item: 'WAX-BASE', quantity: '1', expiresOn: '2026-03-01' }])) as [string];
    expect(codes((await quality.post<Refused>(`/api/lots/${lot}/release`, signed())).body)).toEqual(['lot-expired']);
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
