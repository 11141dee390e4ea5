import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import chromium from '@sparticuz/chromium';
import { type Browser, chromium as playwright, type Page, type Route } from 'playwright-core';
import { expect, inject } from 'vitest';
import { createApp } from '../../src/server/app.js';
import { DEMO_PASSWORD } from '../../src/server/plant/people/demo-password.js';
import { Clock } from '../../src/server/platform/clock.js';
import { readConfig } from '../../src/server/platform/config.js';

export { DEMO_PASSWORD };

const AXE = createRequire(import.meta.url).resolve('axe-core');
/** WCAG 2.2 AA and what axe calls good practice. */
const AXE_TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

export const DESKTOP = { width: 1280, height: 900 };
export const TABLET = { width: 820, height: 1180 };

export interface Visit {
  readonly theme?: 'light' | 'dark';
  readonly size?: { width: number; height: number };
}

/** Somebody's tablet or desk: a browser of their own, signed in, and everything the console said. */
export interface Desk {
  readonly page: Page;
  /** What went wrong in the page so far. A refusal's own answer (4xx) is logged by the browser and is no fault of the page. */
  readonly faults: readonly string[];
  readonly go: (path: string) => Promise<void>;
  /** Types as a hand scanner does: faster than a person, ended by Enter. GS is sent as Ctrl and ]. */
  readonly scan: (code: string) => Promise<void>;
  /** Takes the connection away, or gives it back: no request comes through, and the browser knows. */
  readonly connect: (connected: boolean) => Promise<void>;
  readonly close: () => Promise<void>;
}

/** The invented plant, served as it is to people, on a copy of its own. */
export interface BrowserPlant {
  readonly address: string;
  readonly app: NestFastifyApplication;
  /** What time it is in the plant: its record goes on from where it ended. */
  now(): string;
  /** Opens a browser as somebody. `null`: nobody is signed in. */
  desk(person: string | null, visit?: Visit): Promise<Desk>;
  /** Asks the API as somebody, outside the browser. */
  ask<Body = never>(person: string, path: string): Promise<Body>;
  bytes(person: string, path: string): Promise<Buffer>;
  stop(): Promise<void>;
}

async function cookieOf(address: string, person: string): Promise<string> {
  const response = await fetch(`${address}/api/sign-in`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ person, password: DEMO_PASSWORD }),
  });
  if (!response.ok) throw new Error(`${person} cannot sign in: ${await response.text()}`);
  return response.headers.getSetCookie()[0]?.split(';')[0] ?? '';
}

/** Starts the plant and a browser; stop it in `afterAll`. */
export async function startBrowserPlant(): Promise<BrowserPlant> {
  const folder = mkdtempSync(join(tmpdir(), 'kinledger-web-'));
  cpSync(inject('demoData'), folder, { recursive: true });
  const over = { dataDir: folder, demo: true, plantName: 'Fernhollow Works', logLevel: 'error' };
  const app = await createApp(readConfig({}, { ...over, requestsPerMinute: 1_000_000, triesPerMinute: 1_000_000 }));
  await app.listen(0, '127.0.0.1');
  const address = await app.getUrl();
  const browser = await launch();
  const cookies = new Map<string, string>();
  const cookie = async (person: string): Promise<string> => {
    const known = cookies.get(person) ?? (await cookieOf(address, person));
    cookies.set(person, known);
    return known;
  };
  const answer = async (person: string, path: string): Promise<Response> => {
    const response = await fetch(`${address}${path}`, { headers: { cookie: await cookie(person) } });
    if (!response.ok) throw new Error(`${path} answers ${response.status}: ${await response.text()}`);
    return response;
  };
  return {
    address,
    app,
    now: () => app.get(Clock).now(),
    desk: async (person, visit) => openDesk(browser, address, person === null ? null : await cookie(person), visit),
    ask: async <Body>(person: string, path: string) => (await (await answer(person, path)).json()) as Body,
    bytes: async (person, path) => Buffer.from(await (await answer(person, path)).arrayBuffer()),
    async stop() {
      await browser.close();
      await app.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Made for one page in one process, which ends when that page is closed, and for pages that trust every other: not what people have. */
const NOT_OURS = ['--single-process', '--no-zygote', '--disable-web-security'];

export const launch = async (): Promise<Browser> =>
  playwright.launch({
    executablePath: await chromium.executablePath(),
    args: chromium.args.filter((argument) => !NOT_OURS.includes(argument)),
    headless: true,
  });

const cutOff = (route: Route): Promise<void> => route.abort('internetdisconnected');

async function openDesk(
  browser: Browser,
  address: string,
  cookie: string | null,
  { theme = 'light', size = DESKTOP }: Visit = {},
): Promise<Desk> {
  const context = await browser.newContext({ viewport: size, colorScheme: theme, baseURL: address, bypassCSP: true });
  if (cookie !== null) {
    const [name = '', value = ''] = cookie.split('=');
    await context.addCookies([{ name, value, url: address }]);
  }
  const page = await context.newPage();
  const faults: string[] = [];
  page.on('console', (message) => {
    const ofRefusal = /status of 4\d\d|ERR_INTERNET_DISCONNECTED|ERR_FAILED/.test(message.text());
    if (['error', 'warning'].includes(message.type()) && !ofRefusal) faults.push(message.text());
  });
  page.on('pageerror', (error) => faults.push(error.message));
  return {
    page,
    faults,
    async go(path) {
      await page.goto(path);
      await page.locator('h1').first().waitFor();
      await page.waitForLoadState('networkidle');
    },
    scan: (code) => scanAt(page, code),
    // The browser's own switch lets requests to this very machine through, so they are cut off beside it.
    async connect(connected) {
      if (connected) await context.unroute('**/*', cutOff);
      else await context.route('**/*', cutOff);
      await context.setOffline(!connected);
    },
    close: () => context.close(),
  };
}

/** Seconds between two characters of a scanner: the events carry their own times, so that a busy machine does not slow it down. */
const SCANNER_GAP_S = 0.005;

async function scanAt(page: Page, code: string): Promise<void> {
  const wire = await page.context().newCDPSession(page);
  const began = Date.now() / 1000;
  const keys = [...code, '\r'];
  await Promise.all(
    keys.flatMap((character, i) => {
      const timestamp = began + i * SCANNER_GAP_S;
      if (character === '\u001d') {
        const key = { key: ']', code: 'BracketRight', windowsVirtualKeyCode: 221, modifiers: 2, timestamp };
        return [
          wire.send('Input.dispatchKeyEvent', { type: 'rawKeyDown', ...key }),
          wire.send('Input.dispatchKeyEvent', { type: 'keyUp', ...key }),
        ];
      }
      const key = character === '\r' ? { key: 'Enter', code: 'Enter', windowsVirtualKeyCode: 13 } : { key: character };
      return [
        wire.send('Input.dispatchKeyEvent', { type: 'keyDown', text: character, ...key, timestamp }),
        wire.send('Input.dispatchKeyEvent', { type: 'keyUp', ...key, timestamp }),
      ];
    }),
  );
  await wire.detach();
}

/** What axe finds wrong with the page as it is, a line each. */
export async function axeFaults(page: Page): Promise<string[]> {
  if (!(await page.evaluate<boolean>(`'axe' in window`))) await page.addScriptTag({ path: AXE });
  const found = await page.evaluate<{ id: string; nodes: { target: string[]; failureSummary: string }[] }[]>(
    `axe.run(document, { runOnly: ${JSON.stringify(AXE_TAGS)} }).then(({ violations }) => violations)`,
  );
  return found.flatMap(({ id, nodes }) => nodes.map(({ target, failureSummary }) => `${id}: ${target.join(' ')}: ${failureSummary}`));
}

/** Controls a gloved finger would miss: lower or narrower than 44 px, other than links within a sentence. */
export async function smallTargets(page: Page): Promise<string[]> {
  return page.evaluate<string[]>(`[...document.querySelectorAll('a[href], button, input, select, textarea, summary')]
    .filter((one) => one.checkVisibility() && !one.closest('label') && !['checkbox', 'radio', 'range'].includes(one.type) && one.ariaHidden !== 'true' && !one.matches('[type=file].hidden-but-read'))
    .filter((one) => !(one.tagName === 'A' && one.closest('p, li, .sub, .crumb, .skip, dd, small')) && !one.classList.contains('skip'))
    .map((one) => [one, one.getBoundingClientRect()])
    .filter(([, box]) => box.width > 0 && (box.height < 43.5 || box.width < 43.5))
    .map(([one, box]) => one.tagName + ' ' + (one.textContent || one.name).slice(0, 40) + ' ' + Math.round(box.width) + ' x ' + Math.round(box.height))`);
}

/** How far the page runs out of its width, in pixels; 0 when all is in sight. */
export async function runsOut(page: Page): Promise<number> {
  return page.evaluate<number>('Math.max(0, document.documentElement.scrollWidth - window.innerWidth)');
}

/** The page has no fault in the console and none that axe knows of. */
export async function expectSound({ page, faults }: Desk): Promise<void> {
  expect(faults).toEqual([]);
  expect(await axeFaults(page)).toEqual([]);
}
