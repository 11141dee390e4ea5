import chromium from '@sparticuz/chromium';
import { type Browser, chromium as playwright, type ConsoleMessage, type Request } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Plant, startPlant } from '../harness.js';

/** The page people read the API on, in a real browser: the client of its own comes later. */
describe('the readable API page', () => {
  let plant: Plant;
  let browser: Browser;
  let address: string;

  beforeAll(async () => {
    plant = await startPlant('sqlite');
    await plant.app.listen(0, '127.0.0.1');
    address = await plant.app.getUrl();
    browser = await playwright.launch({ executablePath: await chromium.executablePath(), args: chromium.args, headless: true });
  });
  afterAll(async () => {
    await browser.close();
    await plant.stop();
  });

  it('shows the operations, asks no other host, and says nothing in the console', async () => {
    const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
    const messages: string[] = [];
    const hosts = new Set<string>();
    page.on('console', (message: ConsoleMessage) => messages.push(message.text()));
    page.on('pageerror', (error: Error) => messages.push(error.message));
    page.on('request', (request: Request) => hosts.add(new URL(request.url()).protocol === 'data:' ? 'data' : new URL(request.url()).host));
    await page.goto(`${address}/api/docs`);
    await page.getByText('/api/deliveries', { exact: true }).first().waitFor();
    expect(await page.locator('.opblock').count()).toBeGreaterThan(60);
    expect(messages).toEqual([]);
    expect([...hosts].filter((host) => host !== 'data')).toEqual([new URL(address).host]);
  });

  it('opens on a tablet without anything running out of the page', async () => {
    const page = await browser.newPage({ viewport: { width: 820, height: 1180 } });
    await page.goto(`${address}/api/docs`);
    await page.getByText('/api/deliveries', { exact: true }).first().waitFor();
    const width = await page.evaluate<number>('document.documentElement.scrollWidth');
    expect(width).toBeLessThanOrEqual(820);
  });
});
