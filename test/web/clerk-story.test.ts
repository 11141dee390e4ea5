import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readScan } from '../../shared/scan/read-scan.js';
import { readSymbols } from '../read-symbols.js';
import { type BrowserPlant, type Desk, expectSound, startBrowserPlant, TABLET } from './browser.js';

const WAX = '09506000135014';
/** The label of a drum: GTIN, use by, 25 kg, supplier's lot. */
const drum = (lot: string): string => `]C101${WAX}17280630310000002510${lot}`;

interface Delivery {
  readonly delivery: string;
  readonly document: string;
  readonly receivedAt: string;
  readonly lines: readonly {
    readonly lot: string;
    readonly item: string;
    readonly quantity: string;
    readonly supplierLot: string;
    readonly containers: number;
  }[];
}

/** How many commands wait in the browser's own database, refused ones included. */
const keptInBrowser = `new Promise((resolve, reject) => {
  const opening = indexedDB.open('kinledger');
  opening.onerror = () => reject(opening.error);
  opening.onsuccess = () => {
    const count = opening.result.transaction('kept').objectStore('kept').count();
    count.onsuccess = () => { opening.result.close(); resolve(count.result); };
  };
})`;

describe('the clerk logs a delivery', () => {
  let plant: BrowserPlant;
  let desk: Desk;
  beforeAll(async () => {
    plant = await startBrowserPlant();
    desk = await plant.desk('ada.clerk', { size: TABLET });
  });
  afterAll(() => plant.stop());

  const booked = async (document: string): Promise<Delivery[]> =>
    (await plant.ask<Delivery[]>('ada.clerk', '/api/deliveries')).filter((one) => one.document === document);
  const header = async (document: string): Promise<void> => {
    const { page } = desk;
    await page.getByLabel('Its number').fill(document);
    await page.getByLabel('Condition on arrival').fill('sound');
    await page.keyboard.press('Escape');
  };

  it('by scanner: each scan is shown before it acts, and the next one takes it', async () => {
    const { page } = desk;
    await desk.go('/receiving');
    await desk.scan('S-LARK');
    await page.getByRole('heading', { name: 'Supplier: S-LARK' }).waitFor();
    expect(await page.getByLabel('Supplier', { exact: true }).inputValue()).toBe('');
    await desk.scan('DOCK');
    expect(await page.getByLabel('Supplier', { exact: true }).inputValue()).toBe('S-LARK');
    await desk.scan(drum('LW-9001'));
    const shown = page.getByLabel('What was scanned');
    await shown.getByRole('heading', { name: 'Line 1: WAX-BASE' }).waitFor();
    expect(await shown.textContent()).toContain('LW-9001');
    expect(await page.getByRole('group', { name: /^Line 1/ }).count()).toBe(0);
    await desk.scan(drum('LW-9001'));
    await shown.getByRole('heading', { name: 'Another container of line 1: then 50 in 2 containers' }).waitFor();
    await page.getByRole('button', { name: 'Take it' }).click();
    const line = page.getByRole('group', { name: /^Line 1/ });
    expect(await line.getByLabel('Quantity (kg)').inputValue()).toBe('50');
    expect(await line.getByLabel('Expires').inputValue()).toBe('2028-06-30');
    await expectSound(desk);
  });

  it('loses nothing by a reload, corrects a line, hears every fault at once, and books', async () => {
    const { page } = desk;
    await page.reload();
    const line = page.getByRole('group', { name: /^Line 1/ });
    await line.getByLabel('Quantity (kg)').fill('49.5');
    await page.getByRole('button', { name: 'Book 1 line' }).click();
    const summary = page.getByRole('alert');
    await summary.getByText('Its number is missing').waitFor();
    expect(await summary.textContent()).toContain('Condition on arrival is missing');
    expect(await page.evaluate('document.activeElement.getAttribute("role")')).toBe('alert');
    await header('DN 9001');
    await page.getByRole('button', { name: 'Book 1 line' }).click();
    await page.getByRole('heading', { name: /^Booked: delivery/ }).waitFor();
    const [delivery] = await booked('DN 9001');
    expect(delivery?.lines).toMatchObject([{ item: 'WAX-BASE', quantity: '49.5', supplierLot: 'LW-9001', containers: 2 }]);
    expect(await page.getByLabel('Booked', { exact: true }).textContent()).toContain(delivery?.lines[0]?.lot);
    await expectSound(desk);
  });

  it('gets labels that a scanner reads back as the lot', async () => {
    const { page } = desk;
    const [delivery] = await booked('DN 9001');
    const href = await page.getByRole('link', { name: 'Labels for the label printer' }).getAttribute('href');
    const pages = await readSymbols(await plant.bytes('ada.clerk', href ?? ''));
    expect(pages.map((symbols) => symbols.length)).toEqual([1]);
    const scan = readScan(pages[0]?.[0]?.scan ?? '', '2026-11-25');
    expect(scan).toMatchObject({ kind: 'gs1', lot: delivery?.lines[0]?.lot });
  });

  it('goes offline and back: what was typed and booked meanwhile is sent once, with the time it was logged', async () => {
    const { page } = desk;
    await desk.go('/receiving');
    await desk.connect(false);
    await desk.scan('S-LARK');
    await desk.scan('DOCK');
    await desk.scan(drum('LW-9002'));
    await page.getByRole('button', { name: 'Take it' }).click();
    await header('DN 9002');
    const logged = plant.now();
    await page.getByRole('button', { name: 'Book 1 line' }).click();
    await page.getByText('There is no connection').waitFor();
    await page.getByText('Delivery DN 9002 from S-LARK').waitFor();
    expect(await booked('DN 9002')).toEqual([]);
    await desk.connect(true);
    await expect.poll(() => page.evaluate(keptInBrowser), { timeout: 20_000 }).toBe(0);
    const deliveries = await booked('DN 9002');
    expect(deliveries.map(({ lines }) => lines.length)).toEqual([1]);
    expect(Math.abs(Date.parse(deliveries[0]?.receivedAt ?? '') - Date.parse(logged))).toBeLessThan(5000);
    await page.getByRole('cell', { name: 'delivery note DN 9002' }).waitFor();
  });

  it('is not booked twice when the server did it and its answer was lost', async () => {
    const { page } = desk;
    await desk.go('/receiving');
    await desk.scan('S-LARK');
    await desk.scan('DOCK');
    await desk.scan(drum('LW-9003'));
    await page.getByRole('button', { name: 'Take it' }).click();
    await header('DN 9003');
    let lost = 0;
    await page.route('**/api/deliveries', async (route) => {
      if (route.request().method() !== 'POST' || lost > 0) return route.fallback();
      lost++;
      await route.fetch();
      return route.abort();
    });
    await page.getByRole('button', { name: 'Book 1 line' }).click();
    await page.getByText('There is no connection').waitFor();
    await expect.poll(() => page.evaluate(keptInBrowser), { timeout: 20_000 }).toBe(0);
    await page.getByRole('cell', { name: 'delivery note DN 9003' }).waitFor();
    expect(lost).toBe(1);
    expect((await booked('DN 9003')).length).toBe(1);
    await page.unroute('**/api/deliveries');
  });

  it('takes a delivery back into the form that was kept and then refused', async () => {
    const { page } = desk;
    await desk.go('/receiving');
    await desk.connect(false);
    await desk.scan('S-LARK');
    await desk.scan('DOCK');
    await desk.scan(drum('LW-9004'));
    await page.getByRole('button', { name: 'Take it' }).click();
    await header('DN 9003'); // this paper is booked already
    await page.getByRole('button', { name: 'Book 1 line' }).click();
    await page.getByText('There is no connection').waitFor();
    await desk.connect(true);
    await page.getByRole('link', { name: 'Correct it' }).click();
    await expect.poll(() => page.getByLabel('Its number').inputValue(), { timeout: 10_000 }).toBe('DN 9003');
    await page.getByLabel('Its number').fill('DN 9004');
    await page.getByRole('button', { name: 'Book 1 line' }).click();
    await page.getByRole('heading', { name: /^Booked: delivery/ }).waitFor();
    expect((await booked('DN 9004'))[0]?.lines).toMatchObject([{ supplierLot: 'LW-9004' }]);
    expect(desk.faults).toEqual([]);
  });
});
