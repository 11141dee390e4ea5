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
import { SCHEMA } from '../schema.js';
import type { BackupEnd, BackupHead, KeptRow } from './backup-file.js';
import { checkBackup } from './backup-file.js';
import { CARRIED } from './kept-tables.js';
import { onStanding } from './standing.js';
import { rowPages, tableColumns } from './table-rows.js';

export interface BackupReport {
  readonly file: string;
  readonly entries: number;
  readonly hash: string;
}

/**
 * Writes a backup of the record as it stands at this moment, while work goes on, reads it back and checks its chain, and only then
 * gives it its name. It holds password hashes: the file is closed to other users of the machine.
 * @throws Refusal `backup-exists`; BackupFault when the ledger itself is broken
 */
export async function backupRecord(config: Config, clock: Clock, file: string): Promise<BackupReport> {
  if (existsSync(file)) {
    throw new Refusal('conflict', [{ code: 'backup-exists', detail: `${file} exists: a backup never replaces an older one` }]);
  }
  const unfinished = `${file}.unfinished`;
  try {
    const head = await onStanding(config, SCHEMA, async (live) => {
      const standing = await ledgerHead(live);
      const target = createWriteStream(unfinished, { mode: 0o600, flush: true });
      await pipeline(Readable.from(textOf(live, standing, clock.now())), createGzip(), target);
      return standing;
    });
    await checkBackup(unfinished);
    await rename(unfinished, file);
    return { file, entries: head.seq, hash: head.hash };
  } catch (error) {
    await rm(unfinished, { force: true });
    throw error;
  }
}

async function* textOf(live: EntityManager, { seq, hash }: Head, at: string): AsyncGenerator<string> {
  const line = (value: BackupHead | KeptRow | BackupEnd): string => `${JSON.stringify(value)}\n`;
  yield line({ format: 'kinledger-ledger', v: 1, at, seq, hash });
  for await (const page of entryPages(live)) yield page.map((entry) => `${entry.body}\n`).join('');
  let rows = 0;
  for (const table of tableColumns(live, CARRIED)) {
    const meta = live.connection.entityMetadatas.find((entity) => entity.tableName === table.table)!;
    const kinds = new Map(meta.columns.map((column) => [column.databaseName, column.type]));
    for await (const page of rowPages(live, table)) {
      rows += page.length;
      const named = page.map((row) => Object.fromEntries(table.columns.map((column, i) => [column, portable(row[i]!, kinds.get(column))])));
      yield named.map((row) => line({ beside: table.table, row })).join('');
    }
  }
  yield line({ end: { entries: seq, rows } });
}

/** The two databases answer truth values and 64-bit numbers differently; a backup of one is restored on the other. */
function portable(value: Value, kind: unknown): Value {
  if (value === null) return null;
  if (kind === 'boolean') return Boolean(value);
  return kind === 'bigint' ? safeInteger(value) : value;
}
