import { execFile } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ImportReport } from '../../shared/api/imports.js';
import type { TraceAnswer } from '../../shared/api/trace.js';
import { pathOf } from '../../src/server/plant/files/file-store.js';
import { startPlant } from '../harness.js';
import { pdf, sendFile } from '../send-file.js';

/** Inside the project, so that the program finds its packages. */
const BUILT = `node_modules/.cache/kinledger-cli-${process.pid}`;

interface Ran {
  readonly status: number;
  readonly out: string;
  readonly said: string;
}

describe('the command line', () => {
  const folder = mkdtempSync(join(tmpdir(), 'kinledger-cli-'));
  const data = join(folder, 'plant');

  /** Runs the program as a person would. */
  const kinledger = (...args: string[]): Promise<Ran> =>
    new Promise((resolve) => {
      const env = { ...process.env, DATABASE_URL: undefined };
      execFile(process.execPath, [`${BUILT}/main.js`, '--data', data, ...args], { env }, (error, out, said) =>
        resolve({ status: error ? Number(error.code) : 0, out, said }),
      );
    });

  beforeAll(async () => {
    mkdirSync(BUILT, { recursive: true });
    await build({
      configFile: false,
      logLevel: 'error',
      build: {
        ssr: 'src/server/cli/main.ts',
        outDir: BUILT,
        target: 'node20',
        rollupOptions: { output: { format: 'es', entryFileNames: 'main.js' } },
      },
    });
  });
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
    rmSync(BUILT, { recursive: true, force: true });
  });

  it.each([
    ['no such command', ['nonsense']],
    ['nothing to trace', ['trace', '--direction', 'forward']],
    ['spans that run backwards', ['trace', '--lot', 'X', '--pieces', '5-1']],
    ['a direction there is none of', ['trace', '--lot', 'X', '--direction', 'sideways']],
    ['no file for the report', ['recall', 'report', 'RC-0001']],
    ['a role there is none of', ['key', 'create', '--person', 'ERP', '--role', 'wizard']],
    ['a lot size that is no number', ['plan', '--lot-size', 'many', '--level', 'II', '--aql', '1.0']],
    ['a plan for no level', ['plan', '--lot-size', '1200', '--aql', '1.0']],
  ])('ends with 2 at wrong usage, and says it on stderr: %s', async (_what, args) => {
    const { status, out, said } = await kinledger(...args);
    expect([status, out]).toEqual([2, '']);
    expect(said).toMatch(/^error: /);
  });

  it('says a sampling plan without a plant, in words and as JSON (RC-6)', async () => {
    const asked = ['plan', '--lot-size', '1200', '--level', 'II', '--aql', '1.0'];
    const { status, out, said } = await kinledger(...asked);
    expect([status, said]).toEqual([0, '']);
    expect(out).toMatch(/^ISO 2859-1:1999, single plan, normal inspection/);
    expect(out).toContain('Take 80 items: letter J, n 80, Ac 2, Re 3.');
    const json = await kinledger(...asked, '--severity', 'tightened', '--json');
    expect(JSON.parse(json.out)).toMatchObject({ edition: 'ISO 2859-1:1999', plan: { letter: 'J', n: 80, ac: 1, re: 2 } });
  });

  it.each([
    ['an AQL of 1.1', ['--aql', '1.1'], 'the nearest are 1.0 and 1.5 (aql-unknown)'],
    ['multiple plans', ['--aql', '1.0', '--type', 'multiple'], 'no source of the tables of multiple plans could be found'],
  ])('refuses with the reason, and ends with 1: %s', async (_what, args, reason) => {
    const { status, out, said } = await kinledger('plan', '--lot-size', '1200', '--level', 'II', ...args);
    expect([status, out]).toEqual([1, '']);
    expect(said).toContain(reason);
  });

  it('makes no plant where a folder is mistyped', async () => {
    expect(await kinledger('trace', '--lot', 'X')).toMatchObject({
      status: 1,
      said: expect.stringContaining('there is no plant in') as string,
    });
  });

  it('ends with 1 at a file with faults, with all of them on stdout as JSON', async () => {
    const { status, out } = await kinledger('import', 'fixtures/imports/bad/spans-wrong', '--json');
    const report = JSON.parse(out) as ImportReport;
    expect([status, report.ok, report.import]).toEqual([1, false, null]);
    expect(report.faultCount).toBe(report.faults.length);
    expect(report.faults[0]).toMatchObject({ file: expect.any(String) as string, line: expect.any(Number) as number });
  });

  it('only checks with --dry-run; then brings the folder over, once', async () => {
    expect(await kinledger('import', 'fixtures/imports/good', '--dry-run')).toMatchObject({
      status: 0,
      out: expect.stringContaining('nothing was written') as string,
    });
    expect(await kinledger('import', 'fixtures/imports/good')).toMatchObject({
      status: 0,
      out: expect.stringMatching(/^IM-0001: 5 parties/) as string,
    });
    const again = await kinledger('import', 'fixtures/imports/good');
    expect([again.status, again.out]).toEqual([1, '']);
    expect(again.said).toContain('brought over before: by import IM-0001');
  });

  it('answers a trace as JSON of the shape that other programs rely on', async () => {
    const lots = readFileSync('fixtures/imports/good/lots.csv', 'utf8')
      .split('\n')
      .slice(1)
      .map((row) => row.split(',')[0]!);
    const { status, out, said } = await kinledger('trace', '--lot', lots[0]!, '--direction', 'forward', '--json');
    expect([status, said]).toEqual([0, '']);
    const answer = JSON.parse(out) as TraceAnswer;
    expect(Object.keys(answer)).toEqual(expect.arrayContaining(['direction', 'asKnownAt', 'origin', 'lots', 'consignees', 'totals']));
    expect(answer).toMatchObject({ direction: 'forward', origin: [{ lot: lots[0], spans: null }] });
    expect(await kinledger('trace', '--lot', 'NO-SUCH', '--json')).toMatchObject({ status: 1, said: '' });
  });

  it('says what the record does not know, verifies it, and keeps no report of a recall there is none of', async () => {
    expect(await kinledger('recall', 'report', 'RC-0009', '--out', join(folder, 'x.pdf'))).toEqual({
      status: 1,
      out: '',
      said: 'refused: no recall RC-0009 (recall-unknown)\n',
    });
    const { status, out } = await kinledger('verify', '--json');
    expect([status, JSON.parse(out)]).toMatchObject([0, { ok: true, faults: [] }]);
  });

  it('verifies the record against a checkpoint that was kept, and tells one that was changed (L-11, L-16)', async () => {
    const plant = await startPlant('sqlite');
    const { body: note } = await plant.as('auditor').get<string>('/api/ledger/checkpoint.txt');
    await plant.app.close();
    const there = ['--data', plant.config.dataDir, '--checkpoint', join(folder, 'kept.txt')];
    writeFileSync(join(folder, 'kept.txt'), note);
    expect(await kinledger('verify', ...there)).toMatchObject({ status: 0, out: expect.stringContaining('the record is whole'), said: '' });
    writeFileSync(join(folder, 'kept.txt'), note.replace(/\n\d+\n/, '\n9999\n'));
    expect(await kinledger('verify', ...there)).toMatchObject({ status: 1, out: '', said: expect.stringContaining('checkpoint-changed') });
    writeFileSync(join(folder, 'kept.txt'), note.split('\n\n')[0]!.replace(/\n\d+\n/, '\n9999\n'));
    expect(await kinledger('verify', ...there)).toMatchObject({
      status: 1,
      out: expect.stringContaining('history-cut entry 9999'),
      said: 'the checkpoint bears no signature\n',
    });
    rmSync(plant.config.dataDir, { recursive: true });
  });

  it('verifies, backs up and restores stored files, and says which are lost (FI-7)', async () => {
    const plant = await startPlant('sqlite');
    const { sha256 } = (await sendFile(plant, 'certificate.pdf', pdf('certificate'))).body;
    const kept = (await sendFile(plant, 'report.txt', 'sound')).body;
    await plant.app.close();
    const there = ['--data', plant.config.dataDir];
    expect(await kinledger('verify', ...there)).toMatchObject({
      status: 0,
      out: expect.stringMatching(/whole: .*, and 2 stored files\n$/),
    });
    expect(await kinledger('backup', join(folder, 'all.gz'), ...there)).toMatchObject({
      status: 0,
      out: expect.stringMatching(/, with 2 stored files\n$/),
      said: '',
    });
    rmSync(pathOf(plant.config, sha256));
    expect(await kinledger('verify', ...there)).toMatchObject({
      status: 1,
      out: expect.stringContaining(`file-missing file ${sha256}: certificate.pdf: it is not there`),
    });
    expect(await kinledger('backup', join(folder, 'rest.gz'), ...there)).toMatchObject({
      status: 1,
      out: expect.stringMatching(/, with 1 stored file\n$/),
      said: `not in it: stored file ${sha256}: file-missing: it is not there\n`,
    });
    rmSync(plant.config.dataDir, { recursive: true });
    const restored = await kinledger('restore', join(folder, 'rest.gz'), ...there);
    expect(restored).toMatchObject({ status: 1, said: expect.stringContaining(`file-missing file ${sha256}`) });
    expect(readFileSync(pathOf(plant.config, kept.sha256), 'utf8')).toBe('sound');
    rmSync(plant.config.dataDir, { recursive: true });
    expect(await kinledger('restore', join(folder, 'all.gz'), ...there)).toMatchObject({ status: 0 });
    rmSync(plant.config.dataDir, { recursive: true });
  });
});
