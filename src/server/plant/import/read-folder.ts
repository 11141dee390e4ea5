import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { ImportFile } from '../../../../shared/api/imports.js';
import { Refusal } from '../../../../shared/refusal.js';
import type { Faults } from './faults.js';
import { Folder } from './folder.js';
import { IMPORT_FILES, isImportFile } from './import.files.js';
import { itemRows, partyRows } from './read-catalogue-rows.js';
import { readCsv, type TakeRow } from './read-csv.js';
import { lotRows } from './read-lot-rows.js';
import { linkRows, shipmentRows } from './read-use-rows.js';

/** Tells how far an import has come. */
interface ImportProgress {
  readonly step: 'reading' | 'checking' | 'writing';
  readonly file: ImportFile;
  /** Rows done of this file in this step. */
  readonly rows: number;
}

export type OnProgress = (progress: ImportProgress) => void;

const PROGRESS_EVERY = 10_000;

const READERS: Readonly<Record<ImportFile, (folder: Folder, faults: Faults) => TakeRow>> = {
  'parties.csv': partyRows,
  'items.csv': itemRows,
  'lots.csv': lotRows,
  'links.csv': linkRows,
  'shipments.csv': shipmentRows,
};

/**
 * Reads every file of the folder and reports what is wrong with a row in itself. What rows name is looked up afterwards.
 * @throws Refusal when there is no such folder
 * @see docs/rules/import.md I-1 to I-3
 */
export async function readFolder(dir: string, faults: Faults, onProgress: OnProgress): Promise<Folder> {
  const folder = new Folder();
  const names = await namesIn(dir);
  for (const name of names) {
    if (!name.toLowerCase().endsWith('.csv') || isImportFile(name)) continue;
    faults.add({ file: name, line: null }, 'unknown-file', `the folder may hold ${IMPORT_FILES.join(', ')}; ${name} is none of them`);
  }
  for (const file of IMPORT_FILES.filter((known) => names.includes(known))) {
    const take = READERS[file](folder, faults);
    let rows = 0;
    const read = await readCsv(join(dir, file), file, faults, (cells, line) => {
      take(cells, line);
      if (++rows % PROGRESS_EVERY === 0) onProgress({ step: 'reading', file, rows });
    });
    onProgress({ step: 'reading', file, rows: read.rows });
    if (!read.complete) folder.brokenOff.add(file);
    folder.files.push({ file, rows: read.rows, sha256: read.sha256 });
  }
  if (folder.files.length === 0 && faults.count === 0) {
    faults.add({ file: '', line: null }, 'nothing-to-import', `the folder holds none of ${IMPORT_FILES.join(', ')}`);
  }
  return folder;
}

async function namesIn(dir: string): Promise<string[]> {
  try {
    return (await readdir(dir)).toSorted();
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code !== 'ENOENT' && code !== 'ENOTDIR') throw error;
    throw new Refusal('unknown', [{ code: 'folder-unknown', detail: `there is no folder ${dir}` }]);
  }
}
