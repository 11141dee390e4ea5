import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MICRO } from '../../shared/quantity.js';
import { onHand } from '../../src/server/plant/stock/effects.facts.js';
import { catalogueFernhollow, receive, recordFacts } from '../fernhollow.js';
import { type Client, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { linkLots, makeLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Line {
  readonly lot: string;
  readonly onHand: string;
  readonly stamps: readonly { readonly stamp: string; readonly quantity: string | null }[];
}

interface LotPage {
  readonly asKnownAt: number;
  readonly stamps: readonly { readonly stamp: string; readonly pieces: string | null; readonly quantity: string | null }[];
  readonly holds: readonly object[];
  readonly madeFrom: readonly object[];
  readonly reconciliation: { readonly usedBy: readonly object[] };
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
    expect(new Set(await found(`lots=${lots[2]}&lots=${lots[0]}&lots=nope`))).toEqual(new Set([lots[0], lots[2]]));
    expect(await found(`lots=${lots[1]}`)).toEqual([lots[1]]);
  });

  it('ST-1: the stamp says status, hold and expiry together', async () => {
    const quality = plant.as('quality');
    const oil = await auditor.get<{ stamps: object[] }>(`/api/lots/${lots[1]}`);
    expect(oil.body.stamps).toEqual([
      { stamp: 'QUARANTINE', pieces: null, quantity: null },
      { stamp: 'EXPIRED', pieces: null, quantity: null },
    ]);
    await quality.post('/api/holds', { password: PASSWORD, reason: 'smell', parts: [{ lot: lots[0], quantity: '5' }], reaches: false });
    expect((await auditor.get<{ stamps: object[] }>(`/api/lots/${lots[0]}`)).body.stamps).toContainEqual({
      stamp: 'HELD',
      pieces: null,
      quantity: '5',
    });
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
    expect(answer.body).toEqual([
      expect.objectContaining({ supplier: 'S-WAX', supplierName: 'Larkbridge Waxes', lots: 1, quantity: '100' }),
    ]);
    expect((await auditor.get<object[]>('/api/items/WAX-BASE/suppliers?to=2026-01-01T00:00:00Z')).body).toEqual([]);
    expect((await auditor.get('/api/items/wax-base/suppliers')).status).toBe(404);
    expect((await auditor.get('/api/stock?item=wax-base')).status).toBe(404);
  });

  it('ST-8: stock lists by item and location what expires first, then what came first, with its stamp', async () => {
    const [later, soon, never, sooner] = (await receive(plant, [
      { item: 'SOLV', quantity: '1', expiresOn: '2026-09-01' },
      { item: 'SOLV', quantity: '2', expiresOn: '2026-05-01' },
      { item: 'SOLV', quantity: '3' },
      { item: 'SOLV', quantity: '4', expiresOn: '2026-02-01' },
    ])) as [string, string, string, string];
    await plant.as('quality').post('/api/stock/moves', { lot: later, quantity: '0.25', to: 'RACK-1', reason: 'space' });
    const answer =
      await auditor.get<{ lot: string; location: string; quantity: string; stamps: { stamp: string }[] }[]>('/api/stock?item=SOLV');
    expect(answer.body.map(({ location, lot, quantity }) => [location, lot, quantity])).toEqual([
      ['DOCK', sooner, '4'],
      ['DOCK', soon, '2'],
      ['DOCK', later, '0.75'],
      ['DOCK', never, '3'],
      ['RACK-1', later, '0.25'],
    ]);
    expect(answer.body[0]!.stamps.map(({ stamp }) => stamp)).toEqual(['QUARANTINE', 'EXPIRED']);
    expect(await found('item=SOLV&status=expired')).toEqual([sooner]);
    expect((await auditor.get<object[]>('/api/stock?location=RACK-1')).body).toHaveLength(1);
  });

  it('a serial is found in every item that has one like it; nothing else is', async () => {
    await makeLots(plant, [{ lot: 'U-1', item: 'PUMP', pieces: 3, serials: ['K-1', 'G-2', 'g-2'] }]);
    expect((await auditor.get<object[]>('/api/serials/G-2')).body).toEqual([
      { item: 'GAUGE', serial: 'G-2', lot: lots[2], piece: 2, fate: 'on-hand', at: 'DOCK', customer: null },
      { item: 'PUMP', serial: 'G-2', lot: 'U-1', piece: 2, fate: 'on-hand', at: 'FG-1', customer: null },
    ]);
    expect((await auditor.get('/api/serials/G-9')).status).toBe(404);
    expect((await auditor.get('/api/lots/none')).status).toBe(404);
  });

  describe('a lot that is made from a held one', () => {
    let hold: string;
    let beforeLink: number;
    let afterLink: number;
    const lot = async (code: string, seq?: number) =>
      (await auditor.get<LotPage>(`/api/lots/${code}${seq === undefined ? '' : `?asKnownAt=${seq}`}`)).body;
    const signed = (more: object) => ({ password: PASSWORD, reason: 'as the test says', ...more });

    beforeAll(async () => {
      await makeLots(plant, [
        { lot: 'B-1', item: 'MIX-WAX', quantityMicro: 100 * MICRO, unit: 'kg', at: 'V-1' },
        { lot: 'F-1', item: 'WAX-250', pieces: 100 },
      ]);
      await recordFacts(plant, [
        {
          kind: 'ChargedForTest',
          v: 1,
          moved: [{ lot: 'B-1', spans: null, quantityMicro: 25 * MICRO, from: onHand('V-1'), to: { fate: 'consumed', at: 'RUN-F' } }],
        },
      ]);
      hold = (await plant.as('quality').post<{ hold: string }>('/api/holds', signed({ parts: [{ lot: 'B-1' }], reaches: true }))).body.hold;
      beforeLink = (await lot('F-1')).asKnownAt;
      await linkLots(plant, 'RUN-F', [{ from: 'B-1', to: 'F-1', toSpan: [11, 60], quantityMicro: 20 * MICRO }]);
      afterLink = (await lot('F-1')).asKnownAt;
    });

    it('ST-7: bears the stamp on exactly the pieces it reaches, and is found among the held', async () => {
      expect((await lot('F-1')).stamps).toEqual([
        { stamp: 'RELEASED', pieces: '1-100', quantity: null },
        { stamp: 'HELD', pieces: '11-60', quantity: null },
      ]);
      expect((await lot('F-1')).holds).toEqual([
        { hold, lot: 'B-1', inherited: true, pieces: '11-60', quantity: null, reason: 'as the test says', reaches: true },
      ]);
      expect((await lot('B-1')).holds).toEqual([expect.objectContaining({ hold, inherited: false, pieces: null })]);
      expect(await found('status=held')).toEqual(expect.arrayContaining(['B-1', 'F-1']));
      expect(await found('status=held&item=PUMP')).toEqual([]);
    });

    it('is shown as it was known before the link was recorded, and after the hold is lifted as it was before', async () => {
      expect((await lot('F-1', beforeLink)).holds).toEqual([]);
      expect((await lot('F-1', beforeLink)).madeFrom).toEqual([]);
      await plant.as('quality').post(`/api/holds/${hold}/lift`, signed({}));
      expect((await lot('F-1')).stamps.map(({ stamp }) => stamp)).toEqual(['RELEASED']);
      expect((await lot('F-1', afterLink)).holds).toHaveLength(1);
      expect((await auditor.get('/api/lots/F-1?asKnownAt=999999')).status).toBe(404);
      expect((await auditor.get('/api/lots/F-1?asKnownAt=1')).status).toBe(404);
      expect((await auditor.get('/api/lots/F-1?asKnownAt=-1')).status).toBe(400);
    });

    it('RC-7: use is reconciled by run, and what is taken and not yet in any product is shown as a gap', async () => {
      const { reconciliation } = await lot('B-1');
      expect(reconciliation).toMatchObject({ quantity: '100', onHand: '75', consumed: '25', gap: '0' });
      expect(reconciliation.usedBy).toEqual([{ run: 'RUN-F', kind: 'filling', consumed: '25', linked: '20', gap: '5', made: ['F-1'] }]);
      await linkLots(plant, 'RUN-F', [{ from: 'B-1', to: 'F-1', toSpan: [61, 70], quantityMicro: 5 * MICRO }]);
      expect((await lot('B-1')).reconciliation.usedBy).toEqual([expect.objectContaining({ linked: '25', gap: '0' })]);
      expect((await lot('B-1', afterLink)).reconciliation.usedBy).toEqual([expect.objectContaining({ gap: '5' })]);
    });

    it('names who recorded it, the arrivals before it, open urgent releases and how long its record is kept', async () => {
      const again = await receive(plant, [{ item: 'WAX-BASE', quantity: '1', supplierLot: '000123' }]);
      await plant.as('quality').post('/api/urgent-releases', signed({ lot: again[0], setsAside: ['quarantine'] }));
      expect(await lot(again[0]!)).toMatchObject({
        bornBy: 'clerk-1',
        earlier: [lots[0]],
        recordKeptUntil: '2028-03-01',
        urgentReleases: [{ pieces: null, setsAside: ['quarantine'], signedBy: 'quality-1' }],
      });
    });
  });

  it('an expiry is judged by the day of the entry a page is asked for', async () => {
    const [short] = (await receive(plant, [{ item: 'DYE-BLU', quantity: '1', expiresOn: '2026-03-10' }])) as [string];
    const before = (await auditor.get<LotPage>(`/api/lots/${short}`)).body.asKnownAt;
    plant.clock.set('2026-03-11T08:00:00.000Z');
    const stamps = async (query: string) =>
      (await auditor.get<LotPage>(`/api/lots/${short}${query}`)).body.stamps.map(({ stamp }) => stamp);
    expect(await stamps('')).toEqual(['QUARANTINE', 'EXPIRED']);
    expect(await stamps(`?asKnownAt=${before}`)).toEqual(['QUARANTINE']);
  });

  it('LT-10: a list goes on from any position, by code, the newest first or what expires first, and says how many there are', async () => {
    await makeLots(
      plant,
      Array.from({ length: 30 }, (_, i) => ({
        lot: `Z-${String(i).padStart(2, '0')}`,
        item: i % 2 === 0 ? 'HOSE' : 'FOOT',
        pieces: 2,
        bornAt: `2026-01-${String(30 - i).padStart(2, '0')}T08:00:00.000Z`,
        ...(i % 3 === 0 ? { expiresOn: `2027-01-${String(30 - i).padStart(2, '0')}` } : {}),
      })),
    );
    const code = (i: number): string => `Z-${String(i).padStart(2, '0')}`;
    const all = await found('query=z-&limit=500');
    expect(all).toEqual(Array.from({ length: 30 }, (_, i) => code(i)));
    expect(await found('query=z-&limit=4&offset=26')).toEqual([26, 27, 28, 29].map(code));
    expect(await found('query=z-&limit=4&offset=28')).toEqual([28, 29].map(code));
    expect(await found('query=z-&offset=30')).toEqual([]);
    expect(await found('query=z-&sort=-bornAt&limit=3&offset=1')).toEqual([1, 2, 3].map(code));
    expect(await found('query=z-&sort=expiresOn&limit=12')).toEqual([27, 24, 21, 18, 15, 12, 9, 6, 3, 0, 1, 2].map(code));
    expect(await found('query=z-&class=component&item=HOSE&offset=13')).toEqual([26, 28].map(code));
    expect(await found('query=z-&class=mixture')).toEqual([]);
    expect(await found('query=z-&origin=received')).toEqual([]);
    expect(await found(`origin=received&after=${all[0]}`)).toEqual([]);
    expect(await found('query=z-&origin=made&location=FG-1&status=released&offset=29')).toEqual([code(29)]);
    const page = (await auditor.get<{ total: number; lots: { itemName: string }[] }>('/api/lots?query=z-&limit=1&offset=29')).body;
    expect([page.total, page.lots[0]!.itemName]).toEqual([30, 'Pump foot, machined']);
    for (const wrong of ['offset=-1', 'offset=x', 'sort=bornAt', 'origin=stolen', 'class=toy']) {
      expect([wrong, (await auditor.get(`/api/lots?${wrong}`)).status]).toEqual([wrong, 400]);
    }
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
