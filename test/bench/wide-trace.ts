import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import type { TraceAnswer } from '../../shared/api/trace.js';
import type { Bars } from './bar.js';
import { openPage, type Started, startServer, stopServer } from './bench-browser.js';
import { median } from './measure.js';
import { mustRunNode } from './run-node.js';

const ROUNDS = 5;
const LEAST_LOTS = 5000;
/** The first lot that the plant's silo was filled with. */
const ORIGIN = 'R-000001';
/** What the page asks for it. */
const ASKED = `/api/trace?lot=${ORIGIN}&direction=forward&scope=both&whereabouts=true&links=true&inputs=true`;

/** A plant beside the large one, in which one lot out of a silo reaches more than 5,000 others. */
async function withSilo(folder: string): Promise<string> {
  const silo = join(folder, 'silo');
  if (!existsSync(join(silo, 'data', 'genealogy.snapshot'))) await mustRunNode('silo.run.js', [silo]);
  return silo;
}

/** Tells when the first river stands in the page and the frame that shows it has been made. */
const WATCH = `new MutationObserver((_, observer) => {
  if (!document.querySelector('.river svg')) return;
  observer.disconnect();
  requestAnimationFrame(() => setTimeout(() => { window.drawn = performance.now(); }, 0));
}).observe(document, { childList: true, subtree: true });`;

/** When the last byte of the page's trace had come. */
const ANSWERED = `Math.max(...performance.getEntriesByType('resource').filter(({ name }) => /api\\/trace\\?/.test(name)).map((one) => one.responseEnd))`;

/** From the last byte of the answer until the river has been painted. */
async function paintings(browser: Browser, started: Started, slowdown: number): Promise<number[]> {
  const times: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const page = await openPage(browser, started, slowdown);
    await page.addInitScript(WATCH);
    await page.goto(`/trace?lot=${ORIGIN}`, { timeout: 120_000 });
    await page.waitForFunction('window.drawn !== undefined', undefined, { timeout: 120_000 });
    times.push(await page.evaluate<number>(`window.drawn - ${ANSWERED}`));
    await page.context().close();
  }
  return times;
}

/** A trace of more than 5,000 lots as the page asks it, painted; on a tablet's processor for information. */
export async function benchWideTrace(bars: Bars, browser: Browser, folder: string, slowdown: number): Promise<void> {
  const started = await startServer(await withSilo(folder));
  try {
    const response = await fetch(`http://127.0.0.1:${started.port}${ASKED}`, { headers: { authorization: `Bearer ${started.key}` } });
    const body = await response.text();
    const { totals, flow } = JSON.parse(body) as TraceAnswer;
    bars.atLeast('lots the widest trace reaches', totals.lots, LEAST_LOTS, 'lots');
    bars.note('links it is drawn from', flow?.links.length ?? 0, 'links');
    bars.note('its answer', body.length / 1e6, 'MB');
    const times = await paintings(browser, started, 1);
    bars.atMost(`trace of ${totals.lots} lots, from its answer to the painted river`, median(times), 1000, 'ms');
    bars.note('the slowest of them', Math.max(...times), 'ms');
    bars.note(`the same, ${slowdown} times slowed down`, median(await paintings(browser, started, slowdown)), 'ms');
  } finally {
    await stopServer(started);
  }
}
