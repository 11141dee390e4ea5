import { rmSync } from 'node:fs';
import { setInterval } from 'node:timers';
import { ImportService } from '../../src/server/plant/import/import.service.js';
import type { Bars } from './bar.js';
import { benchConfig, openApp, withFiles } from './bench-plant.js';
import { milliseconds } from './measure.js';

const TICK = 10;

/** A million links from CSV files into an empty plant. */
export async function benchImport(bars: Bars, folder: string): Promise<void> {
  const files = await withFiles(folder);
  const config = benchConfig(folder);
  rmSync(config.dataDir, { recursive: true, force: true });
  const app = await openApp(config);
  let longest = 0;
  let last = performance.now();
  const watch = setInterval(() => {
    const now = performance.now();
    longest = Math.max(longest, now - last - TICK);
    last = now;
  }, TICK);
  let links = 0;
  const took = await milliseconds(async () => {
    const report = await app.get(ImportService).importFolder(files, { actor: { person: 'bench', roles: ['administrator'] } });
    if (!report.ok) throw new Error(`the files have faults: ${JSON.stringify(report.faults.slice(0, 3))}`);
    ({ links } = report.counts);
  });
  clearInterval(watch);
  bars.atLeast('links brought over', links, 1_000_000, 'links');
  bars.atMost('import', took / 1000, 240, 's');
  bars.atMost('peak memory of the whole process', process.resourceUsage().maxRSS / 1024, 1536, 'MB');
  bars.note('longest wait of the event loop', longest, 'ms');
  await app.close();
}
