import { type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import chromium from '@sparticuz/chromium';
import { type Browser, chromium as playwright, type Page } from 'playwright-core';
import type { TraceAnswer } from '../../shared/api/trace.js';
import type { Bars } from './bar.js';
import { withPlant } from './bench-plant.js';
import { questionsOf } from './engine-questions.js';
import { median } from './measure.js';
import { generatePlant } from './plant-generator.js';
import { indexOfPlant } from './plant-index.js';
import { SIZES } from './plant.js';
import { startNode } from './run-node.js';

/** Chromium made for one page in one process would not be what people have. */
const NOT_OURS = ['--single-process', '--no-zygote', '--disable-web-security'];
const ROUNDS = 5;
/** A tablet's processor against this machine's. */
const SLOWDOWN = 4;

interface Started {
  readonly server: ChildProcess;
  readonly port: number;
  readonly key: string;
}

async function start(folder: string): Promise<Started> {
  const server = startNode('server.run.js', [folder, 'key'], 'pipe');
  const [said] = (await once(server.stdout!, 'data')) as [Buffer];
  return { server, ...(JSON.parse(said.toString()) as Omit<Started, 'server'>) };
}

/** A page that asks with the bench's key; whoever it is shown as does not matter to the time it takes. */
async function openPage(browser: Browser, { port, key }: Started, slowdown: number): Promise<Page> {
  const context = await browser.newContext({
    baseURL: `http://127.0.0.1:${port}`,
    viewport: { width: 1280, height: 900 },
    bypassCSP: true,
  });
  const page = await context.newPage();
  await page.setExtraHTTPHeaders({ authorization: `Bearer ${key}` });
  const me = { person: 'bench', displayName: null, roles: ['auditor'], plant: { name: 'Bench', demo: false } };
  await page.route('**/api/welcome', (route) =>
    route.fulfill({ json: { plant: 'Bench', currency: 'EUR', demo: null, hasPeople: true, me } }),
  );
  const wire = await context.newCDPSession(page);
  await wire.send('Emulation.setCPUThrottlingRate', { rate: slowdown });
  return page;
}

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

/** From the last byte of the answer until the river has been painted. */
async function wideTrace(bars: Bars, browser: Browser, started: Started): Promise<void> {
  const plant = generatePlant(SIZES.million);
  const origins = questionsOf(plant, indexOfPlant(plant)).filter(({ direction }) => direction === 'forward');
  let widest = { code: '', lots: 0 };
  for (const { lot } of origins) {
    const { code } = plant.lots[lot - 1]!;
    const response = await fetch(`http://127.0.0.1:${started.port}/api/trace?lot=${code}`, {
      headers: { authorization: `Bearer ${started.key}` },
    });
    const { totals } = (await response.json()) as TraceAnswer;
    if (totals.lots > widest.lots) widest = { code, lots: totals.lots };
  }
  const times: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const page = await openPage(browser, started, 1);
    await page.addInitScript(`new MutationObserver((_, observer) => {
      if (!document.querySelector('svg.river, .river svg')) return;
      observer.disconnect();
      requestAnimationFrame(() => setTimeout(() => { window.drawn = performance.now(); }, 0));
    }).observe(document, { childList: true, subtree: true });`);
    await page.goto(`/trace?lot=${widest.code}`);
    await page.waitForFunction('window.drawn !== undefined');
    times.push(
      await page.evaluate<number>(
        `window.drawn - Math.max(...performance.getEntriesByType('resource').filter(({ name }) => /api\\/trace\\?/.test(name)).map((one) => one.responseEnd))`,
      ),
    );
    await page.context().close();
  }
  bars.atMost(`trace of ${widest.lots} lots, from its answer to the painted river`, median(times), 1000, 'ms');
}

/** The browser client, built, served as it is to people, on the plant of a million links. */
export async function benchClient(bars: Bars, folder: string): Promise<void> {
  await withPlant(folder);
  const started = await start(folder);
  const browser = await playwright.launch({
    executablePath: await chromium.executablePath(),
    args: chromium.args.filter((argument) => !NOT_OURS.includes(argument)),
    headless: true,
  });
  try {
    await firstPage(bars, browser, started);
    await longList(bars, browser, started);
    await wideTrace(bars, browser, started);
  } finally {
    await browser.close();
    started.server.kill('SIGTERM');
    await once(started.server, 'exit');
  }
}
