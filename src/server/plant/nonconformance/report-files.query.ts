import type { EntityManager } from 'typeorm';
import { createHash } from 'node:crypto';
import type { ReportFile } from '../../documents/nonconformance.types.js';
import { pictureOf } from '../../documents/pdf/picture.js';
import type { StoredFileView } from '../files/files.dto.js';
import { storedFile } from '../files/files.query.js';
import type { Report } from './report-state.facts.js';

/** Reads the content of a stored file; null when it is gone or not as long as it was. */
type ReadFile = (file: StoredFileView) => Promise<Buffer | null>;

/** More would make a document that nobody opens; the rest is listed by name and hash. */
const MOST_PRINTED = 40;

/**
 * The files a report names, each once, with what it belongs to. Pictures are read and checked here, before the first page is begun.
 * @see docs/rules/nonconformance.md NR-53
 */
export async function reportFiles(from: EntityManager, report: Report, read: ReadFile): Promise<ReportFile[]> {
  const files: ReportFile[] = [];
  let printed = 0;
  for (const [sha256, of] of named(report)) {
    const stored = await storedFile(from, sha256);
    if (!stored) throw new Error(`the ledger names file ${sha256} that no entry stored`);
    const file = await reportFile(stored, of, printed < MOST_PRINTED ? read : null);
    if (file.picture !== null) printed += 1;
    files.push(file);
  }
  return files;
}

/** Hashes in the order they were named. */
function named({ raised, dispositions, actions, effectiveness }: Report): Map<string, string> {
  const found = new Map<string, string>();
  const add = (files: readonly string[], of: string): void => {
    for (const file of files) if (!found.has(file)) found.set(file, of);
  };
  add(raised.fact.files, 'what was found');
  for (const one of dispositions) add(one.carriedOut?.fact.evidence.files ?? [], `disposition ${one.disposition}`);
  for (const one of actions) add(one.done?.fact.files ?? [], `action ${one.planned.fact.action}`);
  add(effectiveness?.checked?.fact.files ?? [], 'the check of effectiveness');
  return found;
}

async function reportFile(stored: StoredFileView, of: string, read: ReadFile | null): Promise<ReportFile> {
  const { sha256, name, mediaType, bytes } = stored;
  const file = { sha256, name, mediaType, bytes, of };
  if (!mediaType.startsWith('image/')) return { ...file, picture: null, notPrinted: 'is no picture' };
  if (read === null) return { ...file, picture: null, notPrinted: `comes after the ${MOST_PRINTED} that are printed` };
  const picture = await checked(stored, read);
  if (typeof picture === 'string') return { ...file, picture: null, notPrinted: picture };
  const { width, height } = picture;
  return {
    ...file,
    notPrinted: null,
    picture: {
      width,
      height,
      // Read again when its page is reached: forty photographs need not be in memory together.
      async read(): Promise<Uint8Array> {
        const again = await checked(stored, read);
        if (typeof again === 'string') throw new Error(`${name} ${again}`);
        return again.bytes;
      },
    },
  };
}

async function checked(stored: StoredFileView, read: ReadFile): Promise<ReturnType<typeof pictureOf>> {
  if (stored.mediaType !== 'image/jpeg' && stored.mediaType !== 'image/png') return pictureOf(new Uint8Array(), stored.mediaType);
  const bytes = await read(stored);
  if (bytes === null) return 'is gone from the store of files';
  // What is printed as evidence is what was kept, or nothing.
  if (createHash('sha256').update(bytes).digest('hex') !== stored.sha256) return 'is not what was stored under its hash';
  return pictureOf(bytes, stored.mediaType);
}
