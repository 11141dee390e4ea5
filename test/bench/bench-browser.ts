import { type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import chromium from '@sparticuz/chromium';
import { type Browser, chromium as playwright, type Page } from 'playwright-core';
import { startNode } from './run-node.js';

/** Chromium made for one page in one process would not be what people have. */
const NOT_OURS = ['--single-process', '--no-zygote', '--disable-web-security'];

/** A server of its own, and a key to ask it with. */
export interface Started {
  readonly server: ChildProcess;
  readonly port: number;
  readonly key: string;
}

export async function startServer(folder: string): Promise<Started> {
  const server = startNode('server.run.js', [folder, 'key'], 'pipe');
  const [said] = (await once(server.stdout!, 'data')) as [Buffer];
  return { server, ...(JSON.parse(said.toString()) as Omit<Started, 'server'>) };
}

export async function stopServer({ server }: Started): Promise<void> {
  server.kill('SIGTERM');
  await once(server, 'exit');
}

export const launchBrowser = async (): Promise<Browser> =>
  playwright.launch({
    executablePath: await chromium.executablePath(),
    args: chromium.args.filter((argument) => !NOT_OURS.includes(argument)),
    headless: true,
  });

/** A page that asks with the bench's key; whoever it is shown as does not matter to the time it takes. */
export async function openPage(browser: Browser, { port, key }: Started, slowdown: number): Promise<Page> {
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
