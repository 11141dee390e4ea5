import { existsSync, readdirSync, rmSync } from 'node:fs';
import type { EntityManager } from 'typeorm';
import { Refusal } from '../../../shared/refusal.js';
import { lockHead, recorded } from '../ledger/append.js';
import { ledgerHead, type StoredEntry } from '../ledger/read.js';
import type { Config } from '../platform/config.js';
import { openWriter } from '../platform/database/data-source.js';
import { CommandGate } from '../platform/database/gate.js';
import { insertRows, queryRows } from '../platform/database/rows.js';
import { FileWriter } from '../plant/files/file-store.js';
import { project } from '../plant/project.js';
import { SCHEMA } from '../schema.js';
import { type KeptRow, readBackup } from './backup-file.js';
import type { FilePart } from './backup-files.js';
import { CARRIED } from './kept-tables.js';
import { tableColumns } from './table-rows.js';
import { verifyRecord, type VerifyReport } from './verify.js';

/** Entries written together: an import has entries of a megabyte. */
const BATCH_BYTES = 4_000_000;
const BATCH_ENTRIES = 1000;

/**
 * Makes a record from a backup by replaying it: all of it or nothing, into an empty place only, and verified before it is called done.
 * The backup may come from either database.
 * @throws Refusal `not-empty`; BackupFault naming the first line that is wrong
 */
export async function restoreRecord(config: Config, file: string): Promise<VerifyReport> {
  const made = refuseFull(config);
  try {
    const writer = await openWriter(config, SCHEMA);
    try {
      await new CommandGate(writer, lockHead).run((tx) => replayBackup(config, tx, file));
    } finally {
      await writer.destroy();
    }
    return await verifyRecord(config);
  } catch (error) {
    if (made) for (const name of readdirSync(config.dataDir)) rmSync(`${config.dataDir}/${name}`, { recursive: true });
    throw error;
  }
}

/** Answers whether the data folder's content will be of this restore's own making. */
function refuseFull(config: Config): boolean {
  if (config.databaseUrl) return false;
  if (existsSync(config.dataDir) && readdirSync(config.dataDir).length > 0) throw notEmpty(`the folder ${config.dataDir}`);
  return true;
}

const notEmpty = (what: string): Refusal =>
  new Refusal('conflict', [{ code: 'not-empty', detail: `${what} is not empty: a backup is restored into an empty place only` }]);

async function replayBackup(config: Config, tx: EntityManager, file: string): Promise<void> {
  const kept = tableColumns(tx, CARRIED);
  if ((await ledgerHead(tx)).seq > 0) throw notEmpty('the database');
  for (const { table } of kept) {
    if ((await queryRows(tx, `SELECT 1 AS "one" FROM "${table}" LIMIT 1`)).length > 0) throw notEmpty(`the table ${table}`);
  }
  let entries: StoredEntry[] = [];
  let bytes = 0;
  let rows: KeptRow[] = [];
  const write = async (): Promise<void> => {
    await writeEntries(tx, entries);
    for (const { table, columns } of kept) {
      const own = rows.filter((row) => row.beside === table);
      await insertRows(
        tx,
        table,
        columns,
        own.map(({ row }) => columns.map((column) => row[column] ?? null)),
      );
    }
    [entries, bytes, rows] = [[], 0, []];
  };
  const files = new FilesBack(config);
  try {
    for await (const part of readBackup(file)) {
      if ('entry' in part) {
        entries.push(part.entry);
        bytes += part.entry.body.length;
      } else if ('kept' in part) {
        rows.push(part.kept);
      } else if ('piece' in part || 'whole' in part) {
        await files.take(part);
      }
      if (bytes > BATCH_BYTES || entries.length + rows.length >= BATCH_ENTRIES) await write();
    }
    await write();
  } finally {
    await files.discard();
  }
}

/** Puts the files of a backup into the store, durable before the command that names them is committed. */
class FilesBack {
  #writer: FileWriter | null = null;

  constructor(private readonly config: Config) {}

  async take(part: Extract<FilePart, { readonly piece: object } | { readonly whole: string }>): Promise<void> {
    if ('piece' in part) {
      this.#writer ??= await FileWriter.begin(this.config);
      await this.#writer.write(part.piece.bytes);
    } else {
      await this.#writer?.keep();
      this.#writer = null;
    }
  }

  async discard(): Promise<void> {
    await this.#writer?.discard();
  }
}

async function writeEntries(tx: EntityManager, entries: readonly StoredEntry[]): Promise<void> {
  const last = entries.at(-1);
  if (!last) return;
  await insertRows(
    tx,
    'ledger_entry',
    ['seq', 'at', 'actor', 'kind', 'v', 'body', 'hash'],
    entries.map((entry) => [entry.seq, entry.at, entry.actor, entry.kind, entry.v, entry.body, entry.hash]),
  );
  await queryRows(tx, 'UPDATE "ledger_head" SET "seq" = ?, "hash" = ? WHERE "id" = 1', [last.seq, last.hash]);
  for (const entry of entries) await project(tx, recorded(entry));
}
