import type { ImportCounts, ImportedFile } from '../../../../shared/api/imports.js';
import type { LinkGroup, LotBorn, Movement, PlantFact } from '../stock/effects.facts.js';

/** The location where lots brought over stand until somebody moves them: older records do not say where. */
export const BROUGHT_OVER = 'BROUGHT-OVER';

/** A part of the lots of an import come into being. */
export type LotsBroughtOver = PlantFact & {
  readonly kind: 'LotsBroughtOver';
  readonly v: 1;
  readonly import: string;
  readonly born: readonly LotBorn[];
};

/** A part of the links of an import, whole runs, with what they took. */
export type LinksBroughtOver = PlantFact & {
  readonly kind: 'LinksBroughtOver';
  readonly v: 1;
  readonly import: string;
  readonly linked: readonly LinkGroup[];
  readonly moved: readonly Movement[];
};

/** All of the folder is in the record. */
export type ImportFinished = PlantFact & {
  readonly kind: 'ImportFinished';
  readonly v: 1;
  readonly import: string;
  readonly files: readonly ImportedFile[];
  readonly counts: ImportCounts;
};
