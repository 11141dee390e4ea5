import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';

const LINES = 10_000;
const MOST_SECONDS = 5;
const MOST_MEGABYTES = 400;

interface Outcome {
  readonly pages: number;
  readonly seconds: number;
  readonly peakMegabytes: number;
  readonly fileMegabytes: number;
}

/**
 * Writes a recall report with 10,000 consignee lines, each for a consignee of its own, to a file in a fresh process, and prints
 * seconds and peak memory.
 */
export async function benchRecallPdf(print: (line: string) => void): Promise<void> {
  const run = fileURLToPath(new URL('recall-pdf.run.js', import.meta.url));
  const { stdout } = await promisify(execFile)(process.execPath, [run, `${LINES}`]);
  const { pages, seconds, peakMegabytes, fileMegabytes } = JSON.parse(stdout) as Outcome;
  const verdict = seconds < MOST_SECONDS && peakMegabytes < MOST_MEGABYTES ? 'within' : 'BEYOND';
  print(
    `recall PDF, ${LINES} consignee lines: ${seconds.toFixed(2)} s, peak ${peakMegabytes.toFixed(0)} MB, ${pages} pages, ` +
      `${fileMegabytes.toFixed(1)} MB on disk (${verdict} ${MOST_SECONDS} s and ${MOST_MEGABYTES} MB)`,
  );
}
