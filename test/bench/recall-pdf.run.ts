import { createWriteStream } from 'node:fs';
import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { writeSheetPdf } from '../../src/server/documents/pdf/write-sheet.js';
import { recallSheet } from '../../src/server/documents/recall-report.model.js';
import { manyConsignees } from './example-recall.js';

/** Run as a process of its own, so that the peak is that of the report and of nothing before it. Prints one line of JSON. */
const folder = await mkdtemp(join(tmpdir(), 'kinledger-bench-'));
try {
  const path = join(folder, 'recall.pdf');
  const report = manyConsignees(Number(process.argv[2]));
  const begun = performance.now();
  const { pages } = await writeSheetPdf(recallSheet(report), createWriteStream(path));
  const seconds = (performance.now() - begun) / 1000;
  const { size } = await stat(path);
  console.log(JSON.stringify({ pages, seconds, peakMegabytes: process.resourceUsage().maxRSS / 1024, fileMegabytes: size / 1e6 }));
} finally {
  await rm(folder, { recursive: true });
}
