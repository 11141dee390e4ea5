import chromium from '@sparticuz/chromium';
import { type Browser, chromium as playwright, type ConsoleMessage, type Page, type Request } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Plant, startPlant } from '../harness.js';

/** The page draws what is in sight only, so it is read as a person does: down to its end. */
async function pathsWhileScrolling(page: Page): Promise<Set<string>> {
  const shown = new Set<string>();
  const atEnd = 'window.scrollY + window.innerHeight >= document.documentElement.scrollHeight - 2';
  for (let screens = 0; screens < 200; screens++) {
    for (const path of await page
      .locator('.opblock-summary-path')
      .evaluateAll((nodes) => nodes.map((node) => node.getAttribute('data-path') ?? ''))) {
      shown.add(path);
    }
    if (await page.evaluate<boolean>(atEnd)) return shown;
    await page.mouse.wheel(0, 500);
    await page.waitForTimeout(60);
  }
  return shown;
}

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
    await page.locator('.opblock').first().waitFor();
    const { paths } = (await (await fetch(`${address}/api/openapi.json`)).json()) as { paths: Record<string, object> };
    const shown = await pathsWhileScrolling(page);
    expect([...shown].toSorted()).toEqual(Object.keys(paths).toSorted());
    expect(messages).toEqual([]);
    expect([...hosts].filter((host) => host !== 'data')).toEqual([new URL(address).host]);
  });

  it('opens on a tablet without anything running out of the page', async () => {
    const page = await browser.newPage({ viewport: { width: 820, height: 1180 } });
    await page.goto(`${address}/api/docs`);
    await page.locator('.opblock').first().waitFor();
    const width = await page.evaluate<number>('document.documentElement.scrollWidth');
    expect(width).toBeLessThanOrEqual(820);
  });
});
