import { appendFileSync, existsSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { pathOf } from '../../src/server/plant/files/file-store.js';
import { SetClock } from '../../src/server/platform/clock.js';
import { backupRecord } from '../../src/server/record/backup.js';
import { checkBackup } from '../../src/server/record/backup-file.js';
import { restoreRecord } from '../../src/server/record/restore.js';
import { type Progress, verifyRecord } from '../../src/server/record/verify.js';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';
import { pdf, sendFile, type Stored } from '../send-file.js';
import { place } from './place.js';

const clock = new SetClock('2026-03-06T12:00:00.000Z');
const folder = mkdtempSync(join(tmpdir(), 'kinledger-backup-'));
afterAll(() => rmSync(folder, { recursive: true }));

const linesOf = (file: string): string[] => gunzipSync(readFileSync(file)).toString().split('\n');

describe.each(DATABASES)('stored files and the record, on %s (FI-7)', (database) => {
  let plant: Plant;
  let certificate: Stored;
  let picture: Stored;
  const file = join(folder, `${database}.gz`);
  const photograph = Buffer.concat([
    Buffer.from([0xff, 0xd8, 0xff, 0xe0]),
    Buffer.from(Array.from({ length: 200_000 }, (_, i) => (i * 7919) % 251)),
  ]);
  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    const [lot] = await receive(plant, [{ item: 'WAX-BASE', quantity: '400' }]);
    certificate = (await sendFile(plant, 'certificate.pdf', pdf('certificate'))).body;
    picture = (await sendFile(plant, 'dent.jpg', photograph)).body;
    await plant.as('clerk').post(`/api/lots/${lot}/files`, { file: certificate.sha256, what: 'certificate' });
  });
  afterAll(() => plant.stop());

  it('verify counts them and says how far it is', async () => {
    const steps: Progress[] = [];
    const report = await verifyRecord(plant.config, { onProgress: (progress) => steps.push({ ...progress }) });
    expect(report).toMatchObject({ ok: true, files: 2, faults: [] });
    expect(steps.filter(({ step }) => step === 'files')).toEqual([
      { step: 'files', done: 0, of: 2 },
      { step: 'files', done: 1, of: 2 },
    ]);
  });

  it('a check started through the API says how many it read', async () => {
    const { body } = await plant.as('auditor').post<{ verification: string }>('/api/ledger/verifications');
    await expect
      .poll(async () => (await plant.as('auditor').get(`/api/ledger/verifications/${body.verification}`)).body, { timeout: 20_000 })
      .toMatchObject({ state: 'sound', files: 2 });
  });

  describe('somebody has the folder in his hands', () => {
    afterEach(async () => {
      writeFileSync(pathOf(plant.config, picture.sha256), photograph);
      expect((await verifyRecord(plant.config)).faults).toEqual([]);
    });

    it.each<[string, (path: string) => void, string, RegExp]>([
      [
        'one byte changed',
        (path) => writeFileSync(path, Buffer.from(photograph).fill(0, 150_000, 150_001)),
        'file-changed',
        /its content has the SHA-256/,
      ],
      ['a byte added', (path) => appendFileSync(path, 'x'), 'file-changed', /has 200005 bytes, and had 200004/],
      ['taken away', (path) => rmSync(path), 'file-missing', /not there/],
      ['another put in its place', (path) => writeFileSync(path, pdf('certificate')), 'file-changed', /bytes/],
    ])('%s: verify names it', async (_what, spoil, what, detail) => {
      spoil(pathOf(plant.config, picture.sha256));
      const { ok, files, faults } = await verifyRecord(plant.config);
      expect({ ok, files, faults }).toMatchObject({ ok: false, files: 2, faults: [{ what, where: `file ${picture.sha256}` }] });
      expect(faults).toHaveLength(1);
      expect(faults[0]!.detail).toMatch(detail);
      expect(faults[0]!.detail).toMatch(/^dent\.jpg: /);
    });
  });

  it('a backup made while files are sent carries each that its entries name, and reads back', async () => {
    const during = Array.from({ length: 20 }, (_, i) => sendFile(plant, `during ${i}.csv`, `piece,net g\n${i},250\n`));
    const report = await backupRecord(plant.config, clock, file);
    for (const { status } of await Promise.all(during)) expect(status).toBe(201);
    expect(report.lost).toEqual([]);
    expect(report.files).toBeGreaterThanOrEqual(2);
    expect(linesOf(file).filter((line) => line.includes('"kind":"FileStored"'))).toHaveLength(report.files);
    expect(await checkBackup(file)).toEqual({ seq: report.entries, hash: report.hash });
  });

  it.each(DATABASES)('is restored on %s with its files, and a backup of that is the same', async (target) => {
    const restored = await place(target);
    const report = await restoreRecord(restored.config, file);
    expect(report).toMatchObject({ ok: true, faults: [] });
    expect(readFileSync(pathOf(restored.config, picture.sha256)).equals(photograph)).toBe(true);
    expect(readFileSync(pathOf(restored.config, certificate.sha256), 'utf8')).toBe(pdf('certificate'));
    const again = join(folder, `${database}-${target}.gz`);
    await backupRecord(restored.config, clock, again);
    expect(linesOf(again)).toEqual(linesOf(file));
    restored.remove();
  });

  it.each<[string, (lines: string[], at: number) => string[], RegExp]>([
    [
      'a byte of a file changed',
      (lines, at) => lines.with(at, lines[at]!.replace(/"base64":"..../, '"base64":"AAAA')),
      /its content has the SHA-256/,
    ],
    ['a piece of a file taken out', (lines, at) => lines.toSpliced(at, 1), /its content has the SHA-256|not in the backup/],
    ['a whole file taken out', (lines, at) => lines.filter((line) => !line.startsWith(lines[at]!.slice(0, 75))), /it is not in the backup/],
    [
      'a file twice',
      (lines, at) =>
        lines.toSpliced(
          at,
          0,
          lines[at]!,
          lines.findLast((line) => line.startsWith('{"file"'))!,
        ),
      /here twice|SHA-256/,
    ],
    [
      'a file nobody stored',
      (lines, at) => lines.toSpliced(at, 0, JSON.stringify({ file: '0'.repeat(64), base64: 'AAAA' })),
      /no entry says/,
    ],
    ['a line without bytes', (lines, at) => lines.with(at, lines[at]!.replace('base64', 'base32')), /without its bytes/],
    ['a name that is a path', (lines, at) => lines.with(at, lines[at]!.replace(/"file":"[^"]+"/, '"file":"../../x"')), /no entry says/],
  ])('a backup is refused and leaves nothing behind: %s', async (name, spoil, why) => {
    const lines = linesOf(file);
    const spoilt = join(folder, `${database}-${name}.gz`);
    writeFileSync(
      spoilt,
      gzipSync(
        spoil(
          lines,
          lines.findIndex((line) => line.startsWith('{"file"')),
        ).join('\n'),
      ),
    );
    await expect(checkBackup(spoilt)).rejects.toThrow(why);
    const target = await place(database);
    await expect(restoreRecord(target.config, spoilt)).rejects.toThrow(why);
    expect(await restoreRecord(target.config, file)).toMatchObject({ ok: true }); // the place is still good for the right one
    target.remove();
  });

  it('a file that is gone keeps nothing else from being backed up, and is said to be lost: here, in the backup, and after a restore', async () => {
    const path = pathOf(plant.config, picture.sha256);
    renameSync(path, `${path}.away`);
    const without = join(folder, `${database}-without.gz`);
    const report = await backupRecord(plant.config, clock, without);
    renameSync(`${path}.away`, path);
    expect(report.lost).toEqual([{ lost: picture.sha256, why: 'file-missing: it is not there' }]);
    expect(report.files).toBeGreaterThan(0);
    const restored = await place(database);
    const { ok, faults } = await restoreRecord(restored.config, without);
    expect({ ok, faults }).toMatchObject({ ok: false, faults: [{ what: 'file-missing', where: `file ${picture.sha256}` }] });
    expect(existsSync(pathOf(restored.config, certificate.sha256))).toBe(true);
    restored.remove();
  });

  it('a backup of the first version, which knew no files, is restored as before', async () => {
    const old = await startPlant(database);
    await catalogueFernhollow(old);
    await receive(old, [{ item: 'WAX-BASE', quantity: '1' }]);
    const made = join(folder, `${database}-first.gz`);
    await backupRecord(old.config, clock, made);
    await old.stop();
    const lines = linesOf(made);
    expect(lines[0]).toContain('"v":2');
    const first = lines.with(0, lines[0]!.replace('"v":2', '"v":1')).with(lines.length - 2, lines.at(-2)!.replace(',"files":0', ''));
    expect(first.join('\n')).not.toContain('files');
    writeFileSync(made, gzipSync(first.join('\n')));
    const restored = await place(database);
    expect(await restoreRecord(restored.config, made)).toMatchObject({ ok: true, files: 0 });
    restored.remove();
  });
});
