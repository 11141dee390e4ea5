import { verifyRecord } from '../../src/server/record/verify.js';
import type { Bars } from './bar.js';
import { withPlant } from './bench-plant.js';
import { milliseconds } from './measure.js';

/** The whole record checked: chain, replay into empty tables, comparison, conservation. */
export async function benchVerify(bars: Bars, folder: string): Promise<void> {
  const config = await withPlant(folder);
  let entries = 0;
  const took = await milliseconds(async () => {
    const report = await verifyRecord(config);
    if (!report.ok) throw new Error(`the record is not whole: ${JSON.stringify(report.faults.slice(0, 3))}`);
    ({ entries } = report);
  });
  bars.note(`a million links verified, ${entries} entries`, took / 1000, 's');
  bars.note('peak memory of the whole process', process.resourceUsage().maxRSS / 1024, 'MB');
}
