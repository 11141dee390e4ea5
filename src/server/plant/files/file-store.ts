import { createHash, randomUUID } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { type FileHandle, mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Config } from '../../platform/config.js';

/**
 * Files by SHA-256 of their content, beside the database: `files/ab/abcdef…`. A file is written under another name, made durable and
 * then given its own, so under a hash there is never half a file. Nothing here is ever changed or taken away.
 * @see docs/rules/files.md FI-1
 */
const folderOf = (config: Config): string => join(config.dataDir, 'files');

export const pathOf = (config: Config, sha256: string): string => join(folderOf(config), sha256.slice(0, 2), sha256);

const UNFINISHED = '.unfinished';
/** An unfinished file that nobody has written to for so long is left over from a process that is gone. */
const ABANDONED_MS = 3_600_000;

/** Takes in one file, from first byte to last; then keep it or discard it. */
export class FileWriter {
  readonly #hash = createHash('sha256');
  #bytes = 0;

  private constructor(
    private readonly config: Config,
    private readonly unfinished: string,
    private readonly handle: FileHandle,
  ) {}

  static async begin(config: Config): Promise<FileWriter> {
    const folder = folderOf(config);
    await makeFolder(folder);
    const unfinished = join(folder, `${randomUUID()}${UNFINISHED}`);
    const handle = await open(unfinished, 'wx', 0o600);
    await sweep(folder, (await handle.stat()).mtimeMs);
    return new FileWriter(config, unfinished, handle);
  }

  get bytes(): number {
    return this.#bytes;
  }

  async write(chunk: Buffer): Promise<void> {
    this.#hash.update(chunk);
    this.#bytes += chunk.length;
    await this.handle.writeFile(chunk); // goes on where the last one ended, and until all of it is written
  }

  /** Makes the file durable under its hash and answers it. One that stands there already is replaced by the same bytes, sound ones. */
  async keep(): Promise<string> {
    const sha256 = this.#hash.digest('hex');
    await this.handle.sync();
    await this.handle.close();
    const path = pathOf(this.config, sha256);
    await makeFolder(dirname(path));
    await rename(this.unfinished, path);
    await syncFolder(dirname(path));
    return sha256;
  }

  /** Leaves nothing behind. Harmless after `keep`. */
  async discard(): Promise<void> {
    await this.handle.close().catch(() => undefined);
    await rm(this.unfinished, { force: true });
  }
}

async function makeFolder(folder: string): Promise<void> {
  if ((await mkdir(folder, { recursive: true, mode: 0o700 })) !== undefined) await syncFolder(dirname(folder));
}

/** A new name is durable when its folder is. Windows has no such thing, and needs none: its names are journalled. */
async function syncFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return;
  const handle = await open(folder);
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** @param now by the clock of the disk, which is the one the other files' times are of */
async function sweep(folder: string, now: number): Promise<void> {
  for (const name of await readdir(folder)) {
    if (!name.endsWith(UNFINISHED)) continue;
    const path = join(folder, name);
    const found = await stat(path).catch(() => null); // another upload may be done in this moment
    if (found && now - found.mtimeMs > ABANDONED_MS) await rm(path, { force: true });
  }
}

/** What is wrong with a stored file. */
interface StoreFault {
  readonly what: 'file-missing' | 'file-changed' | 'file-unreadable';
  readonly detail: string;
}

/** Reads a stored file through, a piece at a time, and says what is wrong with it, or null. */
export async function storeFault(config: Config, file: { readonly sha256: string; readonly bytes: number }): Promise<StoreFault | null> {
  const hash = createHash('sha256');
  let bytes = 0;
  try {
    for await (const chunk of createReadStream(pathOf(config, file.sha256), { highWaterMark: 1 << 18 })) {
      hash.update(chunk as Buffer);
      bytes += (chunk as Buffer).length;
    }
  } catch (error) {
    return unreadable(error);
  }
  if (bytes !== file.bytes) return { what: 'file-changed', detail: `it has ${bytes} bytes, and had ${file.bytes} when it was stored` };
  const found = hash.digest('hex');
  return found === file.sha256 ? null : { what: 'file-changed', detail: `its content has the SHA-256 ${found}` };
}

/**
 * Opens a stored file for reading, without checking its content: that is `verify`'s.
 * @returns what is wrong with it instead, when it is gone or not as long as it was
 */
export async function openStored(
  config: Config,
  file: { readonly sha256: string; readonly bytes: number },
): Promise<FileHandle | StoreFault> {
  let handle: FileHandle | null = null;
  try {
    handle = await open(pathOf(config, file.sha256));
    const { size } = await handle.stat();
    if (size === file.bytes) return handle;
    await handle.close();
    return { what: 'file-changed', detail: `it has ${size} bytes, and had ${file.bytes} when it was stored` };
  } catch (error) {
    await handle?.close();
    return unreadable(error);
  }
}

function unreadable(error: unknown): StoreFault {
  const { code } = error as { code?: string };
  if (code === undefined) throw error;
  return code === 'ENOENT'
    ? { what: 'file-missing', detail: 'it is not there' }
    : { what: 'file-unreadable', detail: `it cannot be read: ${code}` };
}
