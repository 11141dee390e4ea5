import type { ImportFile } from '../../../shared/api/imports.js';

/** The files that can be brought over, in the order in which they rest on each other, with what they hold. @see docs/rules/import.md */
export const IMPORT_FILES: readonly { readonly name: ImportFile; readonly holds: string; readonly columns: readonly string[] }[] = [
  { name: 'parties.csv', holds: 'suppliers and customers', columns: ['code', 'name', 'role', 'gln', 'contact'] },
  { name: 'items.csv', holds: 'items', columns: ['code', 'name', 'class', 'unit', 'gtin', 'density_kg_per_l', 'shelf_life_days'] },
  {
    name: 'lots.csv',
    holds: 'lots: received, made, or there at the opening',
    columns: ['lot', 'item', 'quantity', 'pieces', 'origin', 'at', 'supplier', 'supplier_lot', 'expires_on', 'status'],
  },
  {
    name: 'links.csv',
    holds: 'what went into what, by run',
    columns: ['run', 'kind', 'at', 'from_lot', 'from_first', 'from_last', 'to_lot', 'to_first', 'to_last', 'quantity', 'map'],
  },
  { name: 'shipments.csv', holds: 'what went to whom', columns: ['shipment', 'customer', 'at', 'lot', 'first', 'last', 'quantity'] },
];

/** Files chosen for an import: those that have one of the five names, and the names of those that have not. */
export interface Chosen {
  readonly files: ReadonlyMap<ImportFile, File>;
  readonly strangers: readonly string[];
}

/** Sorts chosen files by their names; a later choice replaces the file of that name. */
export function chosenWith(before: Chosen, files: readonly File[]): Chosen {
  const known = new Map(before.files);
  const strangers: string[] = [];
  for (const file of files) {
    const one = IMPORT_FILES.find(({ name }) => name === file.name);
    if (one) known.set(one.name, file);
    else strangers.push(file.name);
  }
  return { files: known, strangers };
}

/** What tells one choice of files from another: what was checked is what is brought over. */
export const markOf = ({ files }: Chosen): string =>
  [...files.values()]
    .map(({ name, size, lastModified }) => `${name} ${size} ${lastModified}`)
    .toSorted()
    .join('\n');

const UNITS = ['B', 'kB', 'MB', 'GB'];

/** The size of a file: `12.3 kB`. */
export function writtenSize(bytes: number): string {
  let size = bytes;
  let unit = 0;
  while (size >= 1000 && unit < UNITS.length - 1) {
    size /= 1000;
    unit += 1;
  }
  return `${unit === 0 ? size : size.toFixed(1)}\u00a0${UNITS[unit]}`;
}
