import { execFile } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ImportReport } from '../../shared/api/imports.js';
import type { TraceAnswer } from '../../shared/api/trace.js';

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
  ])('ends with 2 at wrong usage, and says it on stderr: %s', async (_what, args) => {
    const { status, out, said } = await kinledger(...args);
    expect([status, out]).toEqual([2, '']);
    expect(said).toMatch(/^error: /);
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
});
