import type { Browser } from 'playwright-core';
import type { Bars } from './bar.js';
import { launchBrowser, openPage, type Started, startServer, stopServer } from './bench-browser.js';
import { withPlant } from './bench-plant.js';
import { median } from './measure.js';
import { benchWideTrace } from './wide-trace.js';

const ROUNDS = 5;
/** A tablet's processor against this machine's. */
const SLOWDOWN = 4;

/** From the start of the navigation until what waits stands on the page and can be pressed. */
async function firstPage(bars: Bars, browser: Browser, started: Started): Promise<void> {
  const times: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const page = await openPage(browser, started, SLOWDOWN);
    await page.goto('/', { waitUntil: 'commit' });
    await page.getByRole('heading', { level: 1, name: 'Today' }).waitFor();
    times.push(await page.evaluate<number>('performance.now()'));
    await page.context().close();
  }
  bars.atMost(`first page, ${SLOWDOWN} times slowed down`, median(times), 2000, 'ms');
}

/** Wheels down a list of all lots: how long frames take, and whether rows stand in sight in the end. */
async function longList(bars: Bars, browser: Browser, started: Started): Promise<void> {
  const page = await openPage(browser, started, 1);
  await page.goto('/lots');
  const list = page.getByRole('table').first();
  await list.getByRole('row').nth(5).waitFor();
  const rows = Number(await list.getAttribute('aria-rowcount'));
  await list.hover();
  await page.evaluate(`{
    window.frames = []; let last = performance.now();
    const tick = (now) => { window.frames.push(now - last); last = now; requestAnimationFrame(tick); };
    requestAnimationFrame(tick);
  }`);
  for (let turn = 0; turn < 120; turn++) await page.mouse.wheel(0, 400);
  await page.waitForTimeout(500);
  const frames = (await page.evaluate<number[]>('window.frames.slice(2)')).toSorted((a, b) => a - b);
  bars.note('lots in the list', rows, 'rows');
  bars.atMost('scrolling: frame at the 95th percentile', frames[Math.floor(frames.length * 0.95)] ?? Infinity, 50, 'ms');
  await page.context().close();
}

/** The browser client, built, served as it is to people, on the plant of a million links and on one with a very wide trace. */
export async function benchClient(bars: Bars, folder: string): Promise<void> {
  await withPlant(folder);
  const browser = await launchBrowser();
  try {
    const started = await startServer(folder);
    try {
      await firstPage(bars, browser, started);
      await longList(bars, browser, started);
    } finally {
      await stopServer(started);
    }
    await benchWideTrace(bars, browser, folder, SLOWDOWN);
  } finally {
    await browser.close();
  }
}
