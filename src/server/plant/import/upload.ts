import { createWriteStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { Refusal } from '../../../../shared/refusal.js';
import { brokeOff, type UploadedPart, type UploadRequest } from '../../platform/http/multipart.js';
import { IMPORT_FILES, isImportFile } from './import.files.js';

/** Largest file taken over HTTP; larger ones are brought over by the command line on the server. */
const LARGEST_FILE = 1024 ** 3;

const malformed = (code: string, detail: string): Refusal => new Refusal('malformed', [{ code, detail }]);

/**
 * Writes the files of a multipart body into a folder of their own, as they come in, hands the folder to `work`, and removes it
 * whatever happens.
 * @throws Refusal when the body breaks off, is no multipart, or holds anything but the five files
 * @see docs/rules/import.md I-16
 */
export async function withUploadedFolder<T>(request: UploadRequest, work: (dir: string) => Promise<T>): Promise<T> {
  if (request.isMultipart?.() !== true || !request.parts) {
    throw malformed('not-multipart', 'send the files as multipart/form-data, one part a file, named like the file');
  }
  const dir = await mkdtemp(join(tmpdir(), 'kinledger-import-'));
  try {
    await receive(
      request.parts({ limits: { fileSize: LARGEST_FILE, files: IMPORT_FILES.length, fields: 0, parts: IMPORT_FILES.length } }),
      dir,
    );
    return await work(dir);
  } finally {
    await rm(dir, { recursive: true, force: true });
  }
}

async function receive(parts: AsyncIterable<unknown>, dir: string): Promise<void> {
  const taken = new Set<string>();
  try {
    for await (const one of parts) {
      const part = one as UploadedPart;
      if (!part.file) throw malformed('not-a-file', `the part ${part.fieldname} is no file: each part is a file with its name`);
      const name = nameOf(part);
      if (name === null) {
        part.file.resume();
        throw malformed('unknown-file', `${part.filename ?? part.fieldname} is none of ${IMPORT_FILES.join(', ')}`);
      }
      if (taken.has(name)) {
        part.file.resume();
        throw malformed('doubled-file', `${name} was sent twice`);
      }
      taken.add(name);
      await pipeline(part.file, createWriteStream(join(dir, name), { mode: 0o600 }));
    }
  } catch (error) {
    throw refusalOf(error);
  }
  if (taken.size === 0) throw malformed('no-files', 'the body holds no file');
}

/** The part or its file is named like the file. */
const nameOf = (part: UploadedPart): string | null =>
  [part.filename, part.fieldname].find((name) => name !== undefined && isImportFile(name)) ?? null;

function refusalOf(error: unknown): unknown {
  if (!brokeOff(error)) return error;
  return malformed('upload-broke-off', 'the upload broke off before its end: nothing was brought over; send the files again');
}
