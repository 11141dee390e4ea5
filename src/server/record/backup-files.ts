import { createHash, type Hash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { pathOf, storeFault } from '../plant/files/file-store.js';
import type { StoredFile } from '../plant/files/files.facts.js';
import type { Config } from '../platform/config.js';
import { broken } from './backup-fault.js';

/** A line with the next bytes of a stored file; the lines of one file follow each other. */
export interface FilePiece {
  readonly file: string;
  readonly base64: string;
}

/** A line that stands for a file which was missing or wrong when the backup was made. */
export interface FileLost {
  readonly lost: string;
  readonly why: string;
}

/** What the lines of files say, checked against the hashes. */
export type FilePart =
  | { readonly piece: { readonly sha256: string; readonly bytes: Buffer } }
  | { readonly whole: string }
  | { readonly lost: FileLost };

/** A multiple of three, so that only the last line of a file ends in padding. */
const PIECE_BYTES = 49_152;

/**
 * The lines of every file, read a piece at a time. What is not as it was stored is not carried: the rest of the record must not wait
 * for a photograph that is gone.
 */
export async function* fileLinesFor(config: Config, files: readonly StoredFile[]): AsyncGenerator<FilePiece | FileLost> {
  for (const file of files) {
    const fault = await storeFault(config, file);
    if (fault) {
      yield { lost: file.sha256, why: `${fault.what}: ${fault.detail}` };
      continue;
    }
    for await (const piece of createReadStream(pathOf(config, file.sha256), { highWaterMark: PIECE_BYTES })) {
      yield { file: file.sha256, base64: (piece as Buffer).toString('base64') };
    }
  }
}

/**
 * Reads the lines of files: every file that an entry names is there once, whole and right, or said to be lost.
 * @throws BackupFault at the first file of which that is not so
 */
export class FileLinesReader {
  readonly #named = new Set<string>();
  #open: { readonly sha256: string; readonly hash: Hash } | null = null;
  #count = 0;

  get count(): number {
    return this.#count;
  }

  /** An entry says that a file is stored. */
  name(sha256: string): void {
    this.#named.add(sha256);
  }

  *take(line: FilePiece | FileLost): Generator<FilePart> {
    if ('lost' in line) {
      yield* this.#close();
      this.#begin(line.lost);
      yield { lost: line };
      return;
    }
    if (line.file !== this.#open?.sha256) {
      yield* this.#close();
      this.#begin(line.file);
      this.#open = { sha256: line.file, hash: createHash('sha256') };
    }
    if (typeof line.base64 !== 'string') throw broken(`file ${line.file}`, 'a line without its bytes');
    const bytes = Buffer.from(line.base64, 'base64');
    this.#open.hash.update(bytes);
    yield { piece: { sha256: line.file, bytes } };
  }

  *end(): Generator<FilePart> {
    yield* this.#close();
    const [missing] = this.#named;
    if (missing !== undefined) throw broken(`file ${missing}`, 'an entry says that it is stored, and it is not in the backup');
  }

  #begin(sha256: string): void {
    if (!this.#named.delete(sha256)) throw broken(`file ${sha256}`, 'no entry says that it is stored, or it is here twice');
    this.#count += 1;
  }

  *#close(): Generator<FilePart> {
    if (!this.#open) return;
    const { sha256, hash } = this.#open;
    this.#open = null;
    const found = hash.digest('hex');
    if (found !== sha256) throw broken(`file ${sha256}`, `its content has the SHA-256 ${found}`);
    yield { whole: sha256 };
  }
}
