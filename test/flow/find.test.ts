import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { type Client, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { makeLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Found {
  readonly text: string;
  readonly total: number;
  readonly found: readonly {
    readonly kind: string;
    readonly code: string;
    readonly of: string | null;
    readonly lot: string | null;
    readonly piece: number | null;
    readonly says: string;
    readonly exact: boolean;
  }[];
}

describe.each(DATABASES)('finding anything on %s', (database) => {
  let plant: Plant;
  let clerk: Client;
  let lots: string[];
  const find = async (query: string): Promise<Found> => {
    const answer = await clerk.get<Found>(`/api/find?${query}`);
    expect(answer.status, JSON.stringify(answer.body)).toBe(200);
    return answer.body;
  };
  const brief = async (query: string) => (await find(query)).found.map(({ kind, code, of, exact }) => [kind, code, of, exact]);
  const gtinOf = async (item: string) => (await clerk.get<{ gtin: string }>(`/api/items/${item}`)).body.gtin;

  beforeAll(async () => {
    plant = await startPlant(database);
    clerk = plant.as('clerk');
    await catalogueFernhollow(plant);
    lots = await receive(plant, [
      { item: 'WAX-BASE', quantity: '100', supplierLot: 'LX%7' },
      { item: 'OIL-40', quantity: '20', supplierLot: 'lx%7' },
      { item: 'WAX-BASE', quantity: '5', supplierLot: 'LX%7' },
    ]);
    await makeLots(plant, [
      { lot: 'U-1', item: 'PUMP', pieces: 3, serials: ['K-1', 'K-2', 'k-1'] },
      { lot: 'F-1', item: 'WAX-250', pieces: 10 },
      { lot: 'F-10', item: 'WAX-250', pieces: 1 },
      { lot: 'LX%7', item: 'PUMP', pieces: 1, serials: ['K-9'] },
    ]);
    const body = { password: PASSWORD, reason: 'dented', parts: [{ lot: 'F-1' }, { lot: 'F-10' }], reaches: false };
    expect((await plant.as('quality').post('/api/holds', body)).status).toBe(201);
  });
  afterAll(() => plant.stop());

  it('LT-9, ID-1: a lot by its code, in any case, exactly so first', async () => {
    expect(await brief('text=F-1')).toEqual([
      ['lot', 'F-1', 'WAX-250', true],
      ['lot', 'F-10', 'WAX-250', false],
    ]);
    expect((await find('text=%20f-1%20')).found[0]).toEqual({
      kind: 'lot',
      code: 'F-1',
      of: 'WAX-250',
      lot: 'F-1',
      supplier: null,
      piece: null,
      says: '10 pieces Chain wax, can 250 g, made 20\u00a0Feb\u00a02026, RUN-F-1',
      exact: true,
    });
    expect((await find('text=f-10')).found[0]!.says).toContain('1 piece Chain wax');
  });

  it("ID-1: a unit by its serial with lot and piece, a supplier's lot with the plant's own", async () => {
    expect((await brief('text=K-1')).filter(([, , , exact]) => exact)).toEqual([
      ['serial', 'K-1', 'U-1', true],
      ['serial', 'k-1', 'U-1', true],
    ]);
    expect((await find('text=k-1')).found[0]).toMatchObject({ code: 'k-1', piece: 3, says: 'Track pump, piece 3 of lot U-1' });
    const marked = await find('text=LX%257');
    expect(marked.found.map(({ kind, code }) => [kind, code])).toEqual([
      ['lot', 'LX%7'],
      ['supplier-lot', 'LX%7'],
      ['supplier-lot', 'lx%7'],
    ]);
    expect(marked.found[1]).toMatchObject({
      of: lots[2],
      supplier: 'S-WAX',
      lot: lots[2],
      lots: [lots[2], lots[0]],
      says: `Paraffin wax base of S-WAX, here ${lots[2]}, ${lots[0]}`,
    });
  });

  it('documents, places, people and items, by code or by name', async () => {
    expect((await find('text=d-0001')).found).toEqual([
      expect.objectContaining({ kind: 'delivery', code: 'D-0001', of: 'S-WAX', lot: null, exact: true }),
    ]);
    expect((await find('text=H-0001')).found).toEqual([
      expect.objectContaining({ kind: 'hold', of: 'F-1', lot: null, says: 'on F-1 and 1 more, in force: dented', exact: true }),
    ]);
    expect(await brief('text=kettle')).toEqual([
      ['vessel', 'V-1', null, false],
      ['vessel', 'V-2', null, false],
    ]);
    expect(await brief('text=tumbledown')).toEqual([['party', 'C-001', null, false]]);
    expect(await brief('text=quality-1')).toEqual([['person', 'quality-1', null, true]]);
    expect(await brief('text=carrier+oil')).toEqual([['item', 'OIL-40', null, false]]);
  });

  it('a GTIN with or without the zero before it', async () => {
    const gtin = await gtinOf('PUMP');
    expect(await brief(`text=${gtin}`)).toEqual([['gtin', gtin, 'PUMP', true]]);
    expect(await brief(`text=${gtin.replace(/^0/, '')}`)).toEqual([['gtin', gtin, 'PUMP', true]]);
  });

  it('ID-5: what a label says, of its item only and exactly', async () => {
    const [pump, can] = [await gtinOf('PUMP'), await gtinOf('WAX-250')];
    expect(await brief(`gtin=${pump}&serial=K-2&lot=U-1`)).toEqual([
      ['lot', 'U-1', 'PUMP', true],
      ['serial', 'K-2', 'U-1', true],
      ['item', 'PUMP', null, true],
    ]);
    expect(await brief(`gtin=${can}&lot=U-1`)).toEqual([['item', 'WAX-250', null, true]]);
    expect(await brief(`gtin=${can}&lot=f-1`)).toEqual([['item', 'WAX-250', null, true]]);
    expect(await brief('gtin=00000000&lot=U-1')).toEqual([]);
    expect(await brief('lot=lx%257')).toEqual([['supplier-lot', 'lx%7', lots[1], true]]);
  });

  it('says how many there are, and that nothing was asked', async () => {
    const { found, total } = await find('text=1&limit=3');
    expect(found).toHaveLength(3);
    expect(total).toBeGreaterThan(10);
    expect(await find('text=nothing-like-it')).toEqual({ text: 'nothing-like-it', found: [], total: 0 });
    const none = await clerk.get<{ reasons: { code: string }[] }>('/api/find?limit=5');
    expect([none.status, none.body.reasons[0]!.code]).toEqual([400, 'nothing-to-find']);
    expect((await clerk.get('/api/find?text=%20')).status).toBe(400);
    expect((await clerk.get('/api/find?gtin=12')).status).toBe(400);
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
