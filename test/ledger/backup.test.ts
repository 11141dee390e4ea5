import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sha256 } from '../../src/server/ledger/append.js';
import { backupRecord } from '../../src/server/record/backup.js';
import { checkBackup } from '../../src/server/record/backup-file.js';
import { CARRIED, LEFT_BEHIND } from '../../src/server/record/kept-tables.js';
import { restoreRecord } from '../../src/server/record/restore.js';
import { KEPT } from '../../src/server/schema.js';
import { createApp } from '../../src/server/app.js';
import { SetClock } from '../../src/server/platform/clock.js';
import { catalogueFernhollow, receive, receiveReleased } from '../fernhollow.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';
import { place } from './place.js';

const folder = mkdtempSync(join(tmpdir(), 'kinledger-backup-'));
const clock = new SetClock('2026-03-06T12:00:00.000Z');
afterAll(() => rmSync(folder, { recursive: true }));

const book = (plant: Plant, document: string) =>
  plant.as('clerk').post<{ delivery: string }>('/api/deliveries', {
    commandId: `book-${document}`,
    supplier: 'S-WAX',
    documentType: 'delivery note',
    document,
    location: 'DOCK',
    condition: 'sound',
    lines: [{ item: 'WAX-BASE', quantity: '1' }],
  });

describe.each(DATABASES)('a backup made on %s', (database) => {
  const file = join(folder, `${database}.gz`);
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    await receiveReleased(plant, [{ item: 'WAX-BASE', quantity: '400' }]);
    await receive(plant, [{ item: 'GAUGE', quantity: '2', serials: ['G-1', 'G-2'] }]);
    await book(plant, 'BEFORE');
  });
  afterAll(() => plant.stop());

  it('is made while commands go on, and holds whole commands only', async () => {
    const during = Array.from({ length: 30 }, (_, i) => book(plant, `DURING-${i}`));
    const report = await backupRecord(plant.config, clock, file);
    expect((await Promise.all(during)).every((answer) => answer.status === 201)).toBe(true);
    expect(await checkBackup(file)).toEqual({ seq: report.entries, hash: report.hash });
    expect(readdirSync(folder).filter((name) => name.includes('unfinished'))).toEqual([]);
  });

  it('is closed to other users of the machine: it holds password hashes', () => {
    expect(statSync(file).mode & 0o077).toBe(0);
    expect(gunzipSync(readFileSync(file)).toString()).toContain('scrypt$');
  });

  it('has the hash of each entry in reach of anyone: SHA-256 of its line', () => {
    const lines = gunzipSync(readFileSync(file)).toString().split('\n');
    const { seq, hash } = JSON.parse(lines[0]!) as { seq: number; hash: string };
    expect(sha256(lines[seq]!)).toBe(hash);
    expect((JSON.parse(lines[2]!) as { prev: string }).prev).toBe(sha256(lines[1]!));
  });

  it('never replaces an older one', async () => {
    await expect(backupRecord(plant.config, clock, file)).rejects.toMatchObject({ reasons: [{ code: 'backup-exists' }] });
  });

  it.each(DATABASES)('is restored on %s: equal entries, equal rows beside them', async (target) => {
    const restored = await place(target);
    expect(await restoreRecord(restored.config, file)).toMatchObject({ ok: true, entries: (await checkBackup(file)).seq });
    const app = await createApp(restored.config, clock);
    await app.init();
    try {
      const again = join(folder, `${database}-${target}.gz`);
      await backupRecord(restored.config, clock, again);
      expect(gunzipSync(readFileSync(again)).equals(gunzipSync(readFileSync(file)))).toBe(true);
    } finally {
      await app.close();
      restored.remove();
    }
  });

  it('is not restored over a record that is there', async () => {
    await expect(restoreRecord(plant.config, file)).rejects.toMatchObject({ reasons: [{ code: 'not-empty' }] });
  });

  it.each<[string, (lines: string[]) => string[], RegExp]>([
    ['an entry changed', (lines) => lines.with(3, lines[3]!.replace('sound', 'damp').replace('"v":1', '"v":2')), /entry 4/],
    ['an entry taken out', (lines) => lines.toSpliced(2, 1), /entry 2/],
    ['the end cut off', (lines) => lines.slice(0, -2), /ends before its end line/],
    ['a kept row taken out', (lines) => lines.toSpliced(-3, 1), /counts otherwise/],
    ['lines after the end', (lines) => [...lines.slice(0, -1), '{}'], /goes on/],
    ['another file', () => ['code,name', 'X,Y'], /line 1/],
    ['another format', () => ['{"format":"other"}'], /not a backup/],
  ])('is refused and leaves nothing behind: %s', async (name, spoil, why) => {
    const spoilt = join(folder, `${database}-${name}.gz`);
    const lines = gunzipSync(readFileSync(file)).toString().split('\n');
    writeFileSync(spoilt, gzipSync(spoil(lines).join('\n')));
    const target = await place(database);
    await expect(restoreRecord(target.config, spoilt)).rejects.toThrow(why);
    expect(readdirSync(target.config.dataDir)).toEqual([]);
    expect(await restoreRecord(target.config, file)).toMatchObject({ ok: true }); // and the place is still good for the right one
    target.remove();
  });

  it('is refused when its compressed bytes are cut or damaged', async () => {
    const bytes = readFileSync(file);
    for (const spoil of [bytes.subarray(0, bytes.length - 40), Buffer.from(bytes).fill(0x55, 400, 420)]) {
      const spoilt = join(folder, `${database}-damaged.gz`);
      writeFileSync(spoilt, spoil);
      await expect(checkBackup(spoilt)).rejects.toThrow(/cut or damaged|entry|line/);
    }
  });
});

it('every table beside the ledger is either carried by a backup or left behind on purpose', () => {
  expect(new Set([...CARRIED, ...LEFT_BEHIND])).toEqual(new Set<Function>(KEPT));
  expect(existsSync(folder)).toBe(true);
});
