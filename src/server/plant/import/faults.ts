import type { ImportFault } from '../../../../shared/api/imports.js';
import { Refusal } from '../../../../shared/refusal.js';
import { IMPORT_FILES } from './import.files.js';

/** How many faults are kept in full; the rest are counted. */
const MOST_LISTED = 1000;
/** A wrong value is shown so far. */
const MOST_SHOWN = 100;

/** Where a fault stands. */
export interface Spot {
  readonly file: string;
  readonly line: number | null;
  readonly column?: string | undefined;
  readonly value?: string | undefined;
}

const orderOf = (file: string): number => (IMPORT_FILES as readonly string[]).indexOf(file);

/** Gathers every fault of a folder: the first thousand in full, all of them in number. @see docs/rules/import.md I-4 */
export class Faults {
  readonly #listed: ImportFault[] = [];
  #count = 0;

  get count(): number {
    return this.#count;
  }

  /** In the order of the files and their lines. */
  get listed(): readonly ImportFault[] {
    return this.#listed.toSorted((a, b) => orderOf(a.file) - orderOf(b.file) || (a.line ?? 0) - (b.line ?? 0));
  }

  add(spot: Spot, code: string, detail: string): void {
    this.#count += 1;
    if (this.#listed.length >= MOST_LISTED) return;
    const { file, line, column = null, value = null } = spot;
    const shown = value !== null && value.length > MOST_SHOWN ? `${value.slice(0, MOST_SHOWN)}…` : value;
    this.#listed.push({ code, detail, file, line, column, value: shown });
  }
}

/** The files are refused: its reasons are the listed faults. */
export class FaultyFiles extends Refusal {
  constructor(
    faults: readonly ImportFault[],
    readonly faultCount: number,
  ) {
    super(
      'faulty-file',
      faults.map((fault) => ({ ...fault })),
    );
    const listed = faultCount > faults.length ? `; the first ${faults.length} are listed` : '';
    this.message = `${faultCount} ${faultCount === 1 ? 'fault' : 'faults'} in the files: nothing was brought over${listed}`;
  }
}
