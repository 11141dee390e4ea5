import { sha256 } from '../ledger/append.js';
import { entryFault } from '../ledger/chain.js';
import { GENESIS } from '../ledger/fact.js';
import type { Head, StoredEntry } from '../ledger/read.js';
import type { FileStored } from '../plant/files/files.facts.js';
import type { Value } from '../platform/database/rows.js';
import { fileLines } from '../platform/lines.js';
import { BackupFault, broken } from './backup-fault.js';
import { FileLinesReader, type FileLost, type FilePart, type FilePiece } from './backup-files.js';

/**
 * A backup is text, one JSON value a line, usually compressed by gzip:
 * a head line, then the hashed text of every entry in order, then rows kept beside the ledger, then the stored files in pieces, then an
 * end line with the counts. Version 1 knew no stored files.
 * SHA-256 of an entry's line is its hash, and the next line names it: anyone can check the chain without this program.
 * @see docs/decisions/0008-a-backup-is-the-ledger-as-text.md
 */
export interface BackupHead {
  readonly format: 'kinledger-ledger';
  readonly v: 1 | 2;
  /** When it was made. */
  readonly at: string;
  /** Number of entries, and the hash of the last. */
  readonly seq: number;
  readonly hash: string;
}

/** A row of a table that is kept beside the ledger. */
export interface KeptRow {
  readonly beside: string;
  readonly row: Readonly<Record<string, Value>>;
}

export interface BackupEnd {
  readonly end: { readonly entries: number; readonly rows: number; readonly files?: number };
}

/** What a backup holds, in the order of its lines, each entry checked against the chain and each file against its hash. */
type BackupPart = { readonly head: BackupHead } | { readonly entry: StoredEntry } | { readonly kept: KeptRow } | FilePart;

/**
 * Reads a backup from its first line to its last.
 * @throws BackupFault at the first line that is wrong, or at the end when something is missing
 */
export async function* readBackup(file: string): AsyncGenerator<BackupPart> {
  let head: BackupHead | null = null;
  let at: Head = { seq: 0, hash: GENESIS };
  let rows = 0;
  const files = new FileLinesReader();
  let end: BackupEnd['end'] | null = null;
  for await (const line of fileLinesOf(file)) {
    if (end) throw broken('after the end line', 'the file goes on');
    const value = parsed(line, head === null ? 'line 1' : `after entry ${at.seq}`);
    if (head === null) {
      head = headOf(value);
      yield { head };
    } else if (at.seq < head.seq) {
      const entry = entryOf(line, value, at);
      at = entry;
      if (entry.kind === 'FileStored') files.name((value as unknown as FileStored).sha256);
      yield { entry };
    } else if ('beside' in value) {
      rows += 1;
      yield { kept: value as unknown as KeptRow };
    } else if ('file' in value || 'lost' in value) {
      yield* files.take(value as unknown as FilePiece | FileLost);
    } else if ('end' in value) {
      yield* files.end();
      end = (value as unknown as BackupEnd).end;
    } else {
      throw broken(`after entry ${at.seq}`, 'a line that is neither a kept row, nor of a file, nor the end');
    }
  }
  if (!head || !end) throw broken(head ? `after entry ${at.seq}` : 'line 1', 'the file ends before its end line');
  if (at.hash !== head.hash) throw broken(`entry ${at.seq}`, 'it has another hash than the head line says');
  if (end.entries !== at.seq || end.rows !== rows || (end.files ?? 0) !== files.count)
    throw broken('the end line', 'it counts otherwise than the lines before it');
}

/**
 * Reads a backup through, without a database, and answers how far it goes.
 * @throws BackupFault as `readBackup` does
 */
export async function checkBackup(file: string): Promise<Head> {
  let head: Head = { seq: 0, hash: GENESIS };
  for await (const part of readBackup(file)) if ('head' in part) head = { seq: part.head.seq, hash: part.head.hash };
  return head;
}

async function* fileLinesOf(file: string): AsyncGenerator<string> {
  try {
    yield* fileLines(file);
  } catch (error) {
    if (!(error as { code?: string }).code?.startsWith('Z_')) throw error;
    throw broken(file, `the compressed file is cut or damaged: ${(error as Error).message}`);
  }
}

function parsed(line: string, where: string): Readonly<Record<string, unknown>> {
  try {
    const value: unknown = JSON.parse(line);
    if (typeof value === 'object' && value !== null) return value as Record<string, unknown>;
  } catch {
    // said below, as for a line that is JSON but no object
  }
  throw broken(where, 'a line that is not a JSON object');
}

function headOf(value: Readonly<Record<string, unknown>>): BackupHead {
  const head = value as unknown as BackupHead;
  if (head.format === 'kinledger-ledger' && (head.v === 1 || head.v === 2) && Number.isSafeInteger(head.seq)) return head;
  throw broken('line 1', 'this is not a backup of a ledger, or one of a later version of this program');
}

function entryOf(line: string, value: Readonly<Record<string, unknown>>, before: Head): StoredEntry {
  const { seq, at, actor, kind, v } = value as unknown as StoredEntry;
  const entry: StoredEntry = { seq, at, actor, kind, v, body: line, hash: sha256(line) };
  const fault = entryFault(entry, before.seq + 1, before.hash);
  if (fault) throw new BackupFault(fault);
  return entry;
}
