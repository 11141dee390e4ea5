import { createWriteStream, existsSync } from 'node:fs';
import { rename, rm } from 'node:fs/promises';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { createGzip } from 'node:zlib';
import type { EntityManager } from 'typeorm';
import { Refusal } from '../../../shared/refusal.js';
import { entryPages, type Head, ledgerHead } from '../ledger/read.js';
import type { Clock } from '../platform/clock.js';
import type { Config } from '../platform/config.js';
import { safeInteger } from '../platform/database/columns.js';
import type { Value } from '../platform/database/rows.js';
import { storedFiles } from '../plant/files/files.query.js';
import type { StoredFile } from '../plant/files/files.facts.js';
import { SCHEMA } from '../schema.js';
import type { BackupEnd, BackupHead, KeptRow } from './backup-file.js';
import { checkBackup } from './backup-file.js';
import { fileLinesFor, type FileLost, type FilePiece } from './backup-files.js';
import { CARRIED } from './kept-tables.js';
import { openStanding } from './standing.js';
import { rowPages, tableColumns } from './table-rows.js';

interface BackupReport {
  readonly file: string;
  readonly entries: number;
  readonly hash: string;
  /** Stored files it carries. */
  readonly files: number;
  /** Those it does not, since they were missing or wrong when it was made: by hash, and why. */
  readonly lost: readonly FileLost[];
}

/**
 * Writes a backup of the record as it stands at this moment, while work goes on, reads it back and checks its chain and its files, and
 * only then gives it its name. It holds password hashes: the file is closed to other users of the machine.
 * @throws Refusal `backup-exists`; BackupFault when the ledger itself is broken
 */
export async function backupRecord(config: Config, clock: Clock, file: string): Promise<BackupReport> {
  if (existsSync(file)) {
    throw new Refusal('conflict', [{ code: 'backup-exists', detail: `${file} exists: a backup never replaces an older one` }]);
  }
  const unfinished = `${file}.unfinished`;
  try {
    const told: Told = { head: { seq: 0, hash: '' }, files: 0, lost: [] };
    const target = createWriteStream(unfinished, { mode: 0o600, flush: true });
    await pipeline(Readable.from(textOf(config, clock.now(), told)), createGzip(), target);
    await checkBackup(unfinished);
    await rename(unfinished, file);
    return { file, entries: told.head.seq, hash: told.head.hash, files: told.files - told.lost.length, lost: told.lost };
  } catch (error) {
    await rm(unfinished, { force: true });
    throw error;
  }
}

/** What the writing of a backup has come upon. */
interface Told {
  head: Head;
  files: number;
  readonly lost: FileLost[];
}

type Line = BackupHead | KeptRow | FilePiece | FileLost | BackupEnd;
const line = (value: Line): string => `${JSON.stringify(value)}\n`;

/** The record of one moment, then the files it names: they never change, so the moment need not be held while they are read. */
async function* textOf(config: Config, at: string, told: Told): AsyncGenerator<string> {
  const { live, close } = await openStanding(config, SCHEMA);
  let rows = 0;
  let files: StoredFile[];
  try {
    told.head = await ledgerHead(live);
    yield line({ format: 'kinledger-ledger', v: 2, at, seq: told.head.seq, hash: told.head.hash });
    for await (const page of entryPages(live)) yield page.map((entry) => `${entry.body}\n`).join('');
    for await (const page of keptRows(live)) {
      rows += page.length;
      yield page.map(line).join('');
    }
    files = await storedFiles(live);
  } finally {
    await close();
  }
  told.files = files.length;
  for await (const one of fileLinesFor(config, files)) {
    if ('lost' in one) told.lost.push(one);
    yield line(one);
  }
  yield line({ end: { entries: told.head.seq, rows, files: files.length } });
}

async function* keptRows(live: EntityManager): AsyncGenerator<KeptRow[]> {
  for (const table of tableColumns(live, CARRIED)) {
    const meta = live.connection.entityMetadatas.find((entity) => entity.tableName === table.table)!;
    const kinds = new Map(meta.columns.map((column) => [column.databaseName, column.type]));
    for await (const page of rowPages(live, table)) {
      yield page.map((row) => ({
        beside: table.table,
        row: Object.fromEntries(table.columns.map((column, i) => [column, portable(row[i]!, kinds.get(column))])),
      }));
    }
  }
}

/** The two databases answer truth values and 64-bit numbers differently; a backup of one is restored on the other. */
function portable(value: Value, kind: unknown): Value {
  if (value === null) return null;
  if (kind === 'boolean') return Boolean(value);
  return kind === 'bigint' ? safeInteger(value) : value;
}
