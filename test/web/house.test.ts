import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { axeFaults, type BrowserPlant, DEMO_PASSWORD, DESKTOP, expectSound, startBrowserPlant } from './browser.js';

describe('the house of the client', () => {
  let plant: BrowserPlant;
  beforeAll(async () => {
    plant = await startBrowserPlant();
  });
  afterAll(() => plant.stop());

  it('is served by the same process, deep links too, and leaves unknown addresses of the API to the API', async () => {
    const page = await fetch(`${plant.address}/lots/R26-00001`, { headers: { accept: 'text/html' } });
    expect([page.status, page.headers.get('content-type')]).toEqual([200, 'text/html; charset=utf-8']);
    const api = await fetch(`${plant.address}/api/no-such-thing`, { headers: { accept: 'text/html' } });
    expect([api.status, api.headers.get('content-type')]).toEqual([404, 'application/problem+json; charset=utf-8']);
    const asset = await fetch(`${plant.address}/no-such-file.js`, { headers: { accept: '*/*' } });
    expect(asset.status).toBe(404);
  });

  it('signs in by keyboard alone, says what was wrong first, and comes back to the page one was on', async () => {
    const { page, faults, go, close } = await plant.desk(null);
    await go('/ledger');
    await page.keyboard.press('Tab');
    await page.getByLabel('Your code').fill('ada.clerk');
    await page.getByRole('button', { name: 'Sign in', exact: true }).click();
    await expect.poll(() => page.getByRole('alert').textContent()).toContain('Password is missing');
    expect(await page.evaluate('document.activeElement.getAttribute("role")')).toBe('alert');
    await page.getByRole('alert').getByRole('link').click();
    await page.keyboard.type('not the password');
    await page.keyboard.press('Enter');
    await expect.poll(() => page.getByRole('alert').textContent()).toContain('the code or the password is wrong');
    await page.getByLabel('Password', { exact: true }).fill(DEMO_PASSWORD);
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: 'Ledger' }).waitFor();
    expect(faults).toEqual([]);
    expect(await axeFaults(page)).toEqual([]);
    await close();
  });

  it('says that it is a demonstration on every page', async () => {
    const desk = await plant.desk('ada.clerk');
    await desk.go('/ledger');
    expect(await desk.page.getByLabel('Demonstration').textContent()).toContain('nothing here is real');
    await expectSound(desk);
    await desk.close();
  });

  it('lives on in its own days: the demonstration does not grow old, and tablets go by its time', async () => {
    const { lines } = await plant
      .ask<{ groups: { kind: string; lines: { code: string; since: string }[] }[] }>('ben.mix', '/api/today')
      .then(({ groups }) => groups.find(({ kind }) => kind === 'runs')!);
    const hours = (Date.parse(plant.now()) - Date.parse(lines[0]!.since)) / 3_600_000;
    expect(hours).toBeLessThan(24);
    const { headers } = await fetch(`${plant.address}/api/welcome`);
    expect(Math.abs(Date.parse(headers.get('date') ?? '') - Date.parse(plant.now()))).toBeLessThan(2000);
    const { page, go, close } = await plant.desk('ben.mix');
    await go('/production');
    await page
      .getByText(`, for ${Math.floor(hours)} h`)
      .first()
      .waitFor();
    await close();
  });

  it('loads less than 200 kB (gzip) for the first page, and other places when they are visited', async () => {
    const { page, close } = await plant.desk(null, { size: DESKTOP });
    const bodies: Promise<{ url: string; bytes: number }>[] = [];
    page.on('response', (response) => {
      if (/\.(js|css|html)$|\/$/.test(response.url())) {
        bodies.push(response.body().then((body) => ({ url: response.url(), bytes: gzipSync(body).length })));
      }
    });
    await page.goto('/');
    await page.getByRole('heading', { level: 1 }).waitFor();
    await page.waitForLoadState('networkidle');
    const loaded = await Promise.all(bodies);
    expect(loaded.length).toBeGreaterThan(2);
    expect(loaded.reduce((sum, { bytes }) => sum + bytes, 0)).toBeLessThan(200_000);
    expect(loaded.filter(({ url }) => /\/(trace|recall|production)-/.test(url))).toEqual([]);
    await close();
  });
});
