import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ImportReport } from '../../shared/api/imports.js';
import type { TraceAnswer } from '../../shared/api/trace.js';
import { MICRO } from '../../shared/quantity.js';
import { Refusal } from '../../shared/refusal.js';
import { ImportService } from '../../src/server/plant/import/import.service.js';
import { Reader } from '../../src/server/platform/database/reader.js';
import { queryRows } from '../../src/server/platform/database/rows.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';
import { expectRebuildEqual } from '../rebuild.js';

const FIXTURES = 'fixtures/imports';
const GOOD = join(FIXTURES, 'good');
const ACTOR = { person: 'administrator-1', roles: ['administrator' as const] };

const importInto = (plant: Plant, dir: string, dryRun = false): Promise<ImportReport> =>
  plant.app.get(ImportService).importFolder(dir, { actor: ACTOR, dryRun });

const trace = async (plant: Plant, query: string): Promise<TraceAnswer> => {
  const answer = await plant.as('auditor').get<TraceAnswer>(`/api/trace?${query}`);
  expect(answer.status).toBe(200);
  return answer.body;
};

const reached = (answer: TraceAnswer) => answer.lots.map((lot) => [lot.lot, lot.spans]);
const shippedTo = (answer: TraceAnswer) => answer.consignees.map((one) => [one.customer, one.affectedPieces]);

/** How much the plant holds of what an import could have written. */
async function extent(plant: Plant) {
  const lots = await plant.as('auditor').get<unknown[]>('/api/imports');
  return lots.body;
}

describe.each(DATABASES)('bringing records over on %s', (database) => {
  let plant: Plant;
  let report: ImportReport;
  beforeAll(async () => {
    plant = await startPlant(database);
    report = await importInto(plant, GOOD);
  });
  afterAll(() => plant.stop());

  it('I-15 brings the whole folder over as one command and says how much it was', () => {
    expect(report).toMatchObject({ import: 'IM-0001', ok: true, faultCount: 0, faults: [] });
    expect(report.counts).toEqual({ parties: 5, items: 8, lots: 16, links: 15, runs: 7, shipments: 3, shipmentLines: 5 });
  });

  it('ID-8 keeps codes that differ by case or leading zeros apart', async () => {
    const codes = ['000123', '123', 'AB12', 'ab12'];
    const found = await queryRows<{ code: string; quantity: unknown }>(
      plant.app.get(Reader).manager,
      `SELECT "code", "quantity" FROM "lot" WHERE "code" IN (${codes.map(() => '?').join(',')}) ORDER BY "id"`,
      codes,
    );
    expect(found.map((row) => [row.code, Number(row.quantity) / MICRO])).toEqual([
      ['000123', 5],
      ['123', 6],
      ['ab12', 7],
      ['AB12', 8],
    ]);
    for (const lot of codes) expect((await trace(plant, `lot=${lot}`)).origin).toEqual([{ lot, spans: null }]);
  });

  it('traces forward from a raw material through a heel, filling and repacking to the customers', async () => {
    const answer = await trace(plant, 'lot=R-1');
    expect(reached(answer)).toEqual([
      ['B-1', null],
      ['B-2', null],
      ['F-1', [[1, 300]]],
      ['F-1R', [[1, 100]]],
      ['F-2', [[1, 300]]],
    ]);
    expect(shippedTo(answer)).toEqual([
      ['C-001', 120],
      ['C-002', 200],
    ]);
  });

  it('works shares out from the masses of that time', async () => {
    const shares = new Map((await trace(plant, 'lot=R-1')).lots.map((lot) => [lot.lot, lot.share]));
    expect(shares.get('B-1')).toBeCloseTo(60 / (60 + 40 * 0.85), 9);
    expect(shares.get('F-1')).toBeCloseTo(60 / (60 + 40 * 0.85), 9);
  });

  it('keeps to the pieces: one pallet of cans, one gauge', async () => {
    expect(reached(await trace(plant, 'lot=P-1'))).toEqual([['F-1', [[1, 200]]]]);
    expect(reached(await trace(plant, 'lot=P-2'))).toEqual([
      ['F-1', [[201, 300]]],
      ['F-1R', [[1, 100]]],
      ['F-2', [[1, 300]]],
    ]);
    const gauge = await trace(plant, 'lot=G-1&pieces=9');
    expect(reached(gauge)).toEqual([['U-1', [[3, 3]]]]);
    expect(shippedTo(gauge)).toEqual([['C-001', 1]]);
  });

  it('traces backward from one can', async () => {
    const answer = await trace(plant, 'lot=F-2&pieces=100&direction=backward');
    expect(reached(answer).map(([lot]) => lot)).toEqual(['B-1', 'B-2', 'P-2', 'R-1', 'R-2']);
  });

  it('answers as known at any entry of the import', async () => {
    const last = report.seq!;
    const after = async (back: number) => trace(plant, `lot=R-1&asKnownAt=${last - back}`);
    expect(reached(await after(3))).toEqual([]); // lots stand, links do not yet
    const linked = await after(2);
    expect(reached(linked)).toHaveLength(5);
    expect(shippedTo(linked)).toEqual([]);
    expect(shippedTo(await after(1))).toHaveLength(2);
  });

  it('takes what the files say from what is on hand', async () => {
    const parts = (await trace(plant, 'lot=R-1&whereabouts=true')).whereabouts!.filter((part) => part.lot === 'B-1');
    expect(parts.map(({ fate, at, quantity }) => [fate, at, quantity])).toEqual([
      ['consumed', 'FL-1', '75'],
      ['consumed', 'FL-2', '20'],
      ['consumed', 'MX-2', '2'],
      ['on-hand', 'BROUGHT-OVER', '3'],
    ]);
  });

  it('finds what a run made', async () => {
    expect((await trace(plant, 'run=FL-1')).origin).toEqual([{ lot: 'F-1', spans: null }]);
  });

  it('I-14 refuses the same files again and says when they came and by which import', async () => {
    const again = importInto(plant, GOOD);
    await expect(again).rejects.toThrow(Refusal);
    await expect(importInto(plant, GOOD)).rejects.toMatchObject({
      kind: 'conflict',
      reasons: [
        { code: 'imported-before', import: 'IM-0001', files: ['items.csv', 'links.csv', 'lots.csv', 'parties.csv', 'shipments.csv'] },
      ],
    });
  });

  it('I-14 reports codes the plant has already when the files differ', async () => {
    const dir = mkdtempSync(join(tmpdir(), 'kinledger-test-'));
    for (const file of readdirSync(GOOD)) writeFileSync(join(dir, file), `${readFileSync(join(GOOD, file), 'utf8')}\n`);
    const second = await importInto(plant, dir);
    rmSync(dir, { recursive: true });
    expect(second.ok).toBe(false);
    expect(new Set(second.faults.map((fault) => fault.code))).toEqual(new Set(['exists']));
    expect(second.faultCount).toBe(5 + 8 + 16 + 7 + 3);
  });

  it('lists the imports', async () => {
    expect(await extent(plant)).toMatchObject([{ import: 'IM-0001', by: 'administrator-1', seq: report.seq, counts: report.counts }]);
  });

  it('leaves a record that a rebuild gives again', async () => {
    await expect(expectRebuildEqual(plant)).resolves.toBeUndefined();
  });
});

describe('faults in the files', () => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant('sqlite');
  });
  afterAll(() => plant.stop());

  it.each(readdirSync(join(FIXTURES, 'bad')))('I-4 %s is reported where it stands, and nothing is written', async (trick) => {
    const dir = join(FIXTURES, 'bad', trick);
    const expected = JSON.parse(readFileSync(join(dir, 'expected.json'), 'utf8')) as unknown[];
    const report = await importInto(plant, dir);
    expect(report.faults.map(({ file, line, column, code }) => ({ file, line, column, code }))).toEqual(expected);
    expect(report).toMatchObject({ ok: false, import: null, seq: null, faultCount: expected.length });
    for (const fault of report.faults) expect(fault.detail.length).toBeGreaterThan(10);
    expect(await extent(plant)).toEqual([]);
    expect((await plant.as('auditor').get('/api/trace?lot=R-1')).status).toBe(404);
  });

  it('a dry run finds nothing wrong with good files, and writes nothing', async () => {
    expect(await importInto(plant, GOOD, true)).toMatchObject({ ok: true, dryRun: true, import: null, counts: { links: 15 } });
    expect(await extent(plant)).toEqual([]);
  });

  it('takes a byte order mark and line ends of other systems', async () => {
    const dir = mkdtempSync(join(tmpdir(), 'kinledger-test-'));
    cpSync(GOOD, dir, { recursive: true });
    for (const file of readdirSync(dir)) {
      writeFileSync(join(dir, file), `\ufeff${readFileSync(join(dir, file), 'utf8').replaceAll('\n', '\r\n')}`);
    }
    expect(await importInto(plant, dir, true)).toMatchObject({ ok: true, faultCount: 0 });
    rmSync(dir, { recursive: true });
  });

  it('a folder that is not there is refused', async () => {
    await expect(importInto(plant, join(FIXTURES, 'nowhere'))).rejects.toMatchObject({ reasons: [{ code: 'folder-unknown' }] });
  });

  it('an empty folder is no import', async () => {
    const dir = mkdtempSync(join(tmpdir(), 'kinledger-test-'));
    expect((await importInto(plant, dir)).faults).toMatchObject([{ code: 'nothing-to-import' }]);
    rmSync(dir, { recursive: true });
  });

  it('a million rows with one bad one report exactly that one', async () => {
    const dir = mkdtempSync(join(tmpdir(), 'kinledger-test-'));
    cpSync(GOOD, dir, { recursive: true });
    const header = 'lot,item,quantity,pieces,origin,at,supplier,supplier_lot,expires_on,status\n';
    const row = (n: number) => `R-${n},WAX-BASE,${n === 777_777 ? '12,5' : '12.5'},,received,2025-09-01T08:00:00Z,S-WAX,,,released\n`;
    const parts = [header];
    for (let start = 1; start <= 1_000_000; start += 10_000) {
      parts.push(Array.from({ length: 10_000 }, (_, i) => row(start + i).replace('12,5', '"12,5"')).join(''));
    }
    writeFileSync(join(dir, 'lots.csv'), parts.join(''));
    rmSync(join(dir, 'links.csv'));
    rmSync(join(dir, 'shipments.csv'));
    const report = await importInto(plant, dir);
    rmSync(dir, { recursive: true });
    expect(report.counts.lots).toBe(1_000_000);
    expect(report.faults).toMatchObject([{ file: 'lots.csv', line: 777_778, column: 'quantity', value: '12,5', code: 'bad-quantity' }]);
    expect(report.faultCount).toBe(1);
  }, 180_000);
});
