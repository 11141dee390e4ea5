import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sha256 } from '../../src/server/ledger/append.js';
import { catalogueFernhollow, receive, receiveReleased, recordFacts } from '../fernhollow.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Told {
  readonly seq: number;
  readonly actor: string;
  readonly kind: string;
  readonly says: string;
  readonly effects: readonly string[];
  readonly hash: string;
}
interface Page {
  readonly entries: number;
  readonly hash: string;
  readonly told: readonly Told[];
  readonly next: number | null;
}

describe.each(DATABASES)('the record in plain words on %s (L-13)', (database) => {
  let plant: Plant;
  let wax: string;
  let gauges: string;
  const get = async <Body>(path: string): Promise<Body> => {
    const answer = await plant.as('auditor').get<Body>(`/api/ledger/${path}`);
    expect(answer.status).toBe(200);
    return answer.body;
  };
  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    [wax] = (await receiveReleased(plant, [{ item: 'WAX-BASE', quantity: '400', supplierLot: 'LW-1' }])) as [string];
    [gauges] = (await receive(plant, [{ item: 'GAUGE', quantity: '2', serials: ['G-1', 'G-2'] }])) as [string];
  });
  afterAll(() => plant.stop());

  it('tells every entry that names a lot, in order', async () => {
    const { told, next } = await get<Page>(`about?lot=${wax}`);
    expect(told.map((entry) => entry.kind)).toEqual(['DeliveryBooked', 'StatusSetForTest']);
    expect(told[0]!.says).toMatch(new RegExp(`^Delivery D-0001 from S-WAX booked by delivery note DN-\\d+: 1 lot, ${wax}$`));
    expect(told[0]!.effects).toEqual([`Lot ${wax}: 400 kg of WAX-BASE, at DOCK, in quarantine`]);
    expect(told[1]!.effects).toEqual([`${wax} is released`]);
    expect(next).toBeNull();
  });

  it.each([
    ['delivery=D-0002', 1],
    ['item=GAUGE', 3], // its revision, the bill of materials that names it, the delivery
    ['party=S-WAX', 3],
    ['location=DOCK', 3],
    ['lot=no-such-lot', 0],
  ])('tells entries about any record: %s', async (query, count) => {
    expect((await get<Page>(`about?${query}`)).told).toHaveLength(count);
  });

  it('tells codes apart by case and leading zeros', async () => {
    expect((await get<Page>(`about?lot=${wax.toLowerCase()}`)).told).toHaveLength(0);
    expect((await get<Page>(`about?lot=0${wax}`)).told).toHaveLength(0);
  });

  it('goes through the ledger page by page, the latest first when nothing is asked', async () => {
    const latest = await get<Page>('entries?limit=2');
    expect(latest.told.map((entry) => entry.seq)).toEqual([latest.entries - 1, latest.entries]);
    expect(latest.told.at(-1)!.hash).toBe(latest.hash);
    const seqs: number[] = [];
    for (let from: number | null = 1; from !== null;) {
      const page: Page = await get<Page>(`entries?from=${from}&limit=7`);
      seqs.push(...page.told.map((entry) => entry.seq));
      from = page.next;
    }
    expect(seqs).toEqual(Array.from({ length: latest.entries }, (_, i) => i + 1));
  });

  it('goes through the entries about a record page by page', async () => {
    const all = (await get<Page>('about?party=S-WAX')).told.map((entry) => entry.seq);
    const first = await get<Page>('about?party=S-WAX&from=1&limit=2');
    const second = await get<Page>(`about?party=S-WAX&from=${first.next}&limit=2`);
    expect([...first.told, ...second.told].map((entry) => entry.seq)).toEqual(all);
    expect(second.next).toBeNull();
    expect((await get<Page>('about?party=S-WAX&limit=2')).told.map((entry) => entry.seq)).toEqual(all.slice(-2));
  });

  it('shows one entry as it was hashed', async () => {
    const { seq } = (await get<Page>(`about?lot=${gauges}`)).told[0]!;
    const whole = await get<Told & { body: string; prev: string; v: number }>(`entries/${seq}`);
    expect(sha256(whole.body)).toBe(whole.hash);
    expect(JSON.parse(whole.body)).toMatchObject({ seq, prev: whole.prev, kind: 'DeliveryBooked', v: 1 });
    expect(whole.prev).toBe((await get<Told>(`entries/${seq - 1}`)).hash);
  });

  it.each([
    ['entries/999999', 404],
    ['entries/one', 400],
    ['entries?limit=201', 400],
    ['entries?from=0', 400],
    ['about', 400],
    ['about?lot=A&run=B', 400],
    ['about?colour=blue', 400],
  ])('says what is wrong with %s', async (path, status) => {
    const answer = await plant.as('auditor').get<{ reasons: { detail: string }[] }>(`/api/ledger/${path}`);
    expect(answer.status).toBe(status);
    expect(answer.body.reasons[0]!.detail.length).toBeGreaterThan(5);
  });

  it('cuts a page short when entries are large, and goes on from there', async () => {
    const many = (part: number) => Array.from({ length: 5000 }, (_, i) => `L-${part}-${i}-${'x'.repeat(40)}`);
    for (let part = 0; part < 40; part += 1) await recordFacts(plant, [{ kind: 'LotsAdmired', v: 1, passedOver: many(part) } as never]);
    const { entries } = await get<Page>('entries?limit=1');
    const page = await get<Page>(`entries?from=${entries - 39}&limit=200`);
    expect(page.told.length).toBeLessThan(40);
    expect(page.next).toBe(entries - 39 + page.told.length);
    expect(page.told[0]!.says).toMatch(/^LotsAdmired: lot L-0-0-x+, .* and 4988 more$/);
  });

  it('leaves a record that a rebuild makes again', () => expectRebuildEqual(plant));
});
