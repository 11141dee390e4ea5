import 'reflect-metadata';
import { mkdtempSync, rmSync } from 'node:fs';
import { availableParallelism, cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { Bars } from './bar.js';
import { benchClient } from './client.bench.js';
import { benchCommands } from './commands.bench.js';
import { benchEngine } from './engine.bench.js';
import { benchHoldCheck } from './hold-check.bench.js';
import { benchImport } from './import.bench.js';
import { benchRecallPdf } from './recall-pdf.bench.js';
import { runNode } from './run-node.js';
import { benchStart, benchTrace } from './server.bench.js';
import { benchSuspects } from './suspects.bench.js';
import { benchVerify } from './verify.bench.js';

/** In the order they run: the first brings the plant over that the next ask. */
const BENCHES: Readonly<Record<string, (bars: Bars, folder: string) => Promise<void>>> = {
  import: benchImport,
  start: benchStart,
  trace: benchTrace,
  'hold-check': benchHoldCheck,
  verify: benchVerify,
  commands: benchCommands,
  'recall-pdf': (bars) => benchRecallPdf((line) => bars.said(line)),
  suspects: benchSuspects,
  client: benchClient,
  engine: (bars) => benchEngine(bars.print),
};

const { values } = parseArgs({ options: { only: { type: 'string' }, folder: { type: 'string' } } });

/** Runs one bench in this process, and answers whether it kept its bars. */
async function runOne(name: string, folder: string): Promise<boolean> {
  const bench = BENCHES[name];
  if (!bench) throw new Error(`no bench '${name}': there are ${Object.keys(BENCHES).join(', ')}`);
  console.log(`\n${name}`);
  const bars = new Bars((line) => console.log(`  ${line}`));
  await bench(bars, folder);
  return bars.missed === 0;
}

/** Every bench in a process of its own, so that none inherits the heap or the caches of another. */
async function runAll(folder: string): Promise<boolean> {
  console.log(`${availableParallelism()} cores of ${cpus()[0]?.model ?? 'an unknown kind'}, Node ${process.version}`);
  const missed: string[] = [];
  for (const name of Object.keys(BENCHES)) {
    if ((await runNode('main.js', ['--only', name, '--folder', folder])) !== 0) missed.push(name);
  }
  console.log(missed.length === 0 ? '\nall bars kept' : `\nbars missed: ${missed.join(', ')}`);
  return missed.length === 0;
}

const folder = values.folder ?? mkdtempSync(join(tmpdir(), 'kinledger-bench-'));
try {
  const kept = await (values.only === undefined ? runAll(folder) : runOne(values.only, folder));
  process.exitCode = kept ? 0 : 1;
} finally {
  if (values.folder === undefined) rmSync(folder, { recursive: true, force: true });
}
