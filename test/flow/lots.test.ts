import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { type Client, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Line {
  readonly lot: string;
  readonly onHand: string;
  readonly stamps: readonly { readonly stamp: string; readonly quantity: string | null }[];
}

describe.each(DATABASES)('lots on %s', (database) => {
  let plant: Plant;
  let auditor: Client;
  let lots: string[];
  const found = async (query: string): Promise<string[]> => {
    const answer = await auditor.get<{ total: number; lots: Line[] }>(`/api/lots?${query}`);
    expect(answer.status, JSON.stringify(answer.body)).toBe(200);
    expect(answer.body.total).toBeGreaterThanOrEqual(answer.body.lots.length);
    return answer.body.lots.map((lot) => lot.lot);
  };

  beforeAll(async () => {
    plant = await startPlant(database);
    auditor = plant.as('auditor');
    await catalogueFernhollow(plant);
    lots = await receive(plant, [
      { item: 'WAX-BASE', quantity: '100', supplierLot: '000123' },
      { item: 'OIL-40', quantity: '20.5', supplierLot: 'ab12', expiresOn: '2026-03-01' },
      { item: 'GAUGE', quantity: '2', serials: ['G_1', 'G-2'] },
    ]);
  });
  afterAll(() => plant.stop());

  it("ID-1, ID-5: a lot is found by the plant's code, the supplier's lot, or a serial", async () => {
    expect(await found(`query=${lots[0]}`)).toEqual([lots[0]]);
    expect(await found('query=000123')).toEqual([lots[0]]);
    expect(await found('query=AB12')).toEqual([lots[1]]);
    expect(await found('query=G_1')).toEqual([lots[2]]);
    expect(await found('query=%25')).toEqual([]);
    expect(await found('item=GAUGE&status=quarantine&location=DOCK')).toEqual([lots[2]]);
    expect(await found(`after=${lots.toSorted()[0]}`)).toHaveLength(2);
  });

  it('ST-1: the stamp says status, hold and expiry together', async () => {
    const quality = plant.as('quality');
    const oil = await auditor.get<{ stamps: object[] }>(`/api/lots/${lots[1]}`);
    expect(oil.body.stamps).toEqual([
      { stamp: 'QUARANTINE', pieces: null, quantity: null },
      { stamp: 'EXPIRED', pieces: null, quantity: null },
    ]);
    await quality.post('/api/holds', { password: PASSWORD, reason: 'smell', parts: [{ lot: lots[0], quantity: '5' }], reaches: false });
    expect((await auditor.get<{ stamps: object[] }>(`/api/lots/${lots[0]}`)).body.stamps).toContainEqual({ stamp: 'HELD', pieces: null, quantity: '5' });
  });

  it('RC-7: the reconciliation of a lot has no gap, now and as known before', async () => {
    const before = (await auditor.get<{ asKnownAt: number }>(`/api/lots/${lots[0]}`)).body.asKnownAt;
    await plant.as('quality').post('/api/stock/scrap', { lot: lots[0], quantity: '1.5', reason: 'spilt' });
    const now = await auditor.get<{ reconciliation: object }>(`/api/lots/${lots[0]}`);
    expect(now.body.reconciliation).toMatchObject({ quantity: '100', onHand: '98.5', scrapped: '1.5', gap: '0' });
    const then = await auditor.get<{ reconciliation: object }>(`/api/lots/${lots[0]}?asKnownAt=${before}`);
    expect(then.body.reconciliation).toMatchObject({ onHand: '100', scrapped: '0', gap: '0' });
  });

  it('RC-3: everyone who supplied an item between two dates', async () => {
    const answer = await auditor.get<object[]>('/api/items/WAX-BASE/suppliers?from=2026-01-01T00:00:00Z&to=2026-12-31T00:00:00Z');
    expect(answer.body).toEqual([expect.objectContaining({ supplier: 'S-WAX', supplierName: 'Larkbridge Waxes', lots: 1, quantity: '100' })]);
    expect((await auditor.get<object[]>('/api/items/WAX-BASE/suppliers?to=2026-01-01T00:00:00Z')).body).toEqual([]);
  });

  it('ST-8: stock lists what expires first before the rest', async () => {
    const answer = await auditor.get<{ lot: string }[]>('/api/stock?location=DOCK');
    expect(answer.body.map((line) => line.lot)).toHaveLength(3);
    expect((await auditor.get<object[]>('/api/serials/G-2')).body).toEqual([{ item: 'GAUGE', serial: 'G-2', lot: lots[2], piece: 2, fate: 'on-hand', at: 'DOCK' }]);
    expect((await auditor.get('/api/serials/G-9')).status).toBe(404);
    expect((await auditor.get('/api/lots/none')).status).toBe(404);
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
