import type { ImportFile } from '../../../../shared/api/imports.js';

/**
 * The files of a folder and their columns, in the order they are read: what a row names stands in a file before its own.
 * @see docs/rules/import.md I-1, I-2
 */
export const COLUMNS = {
  'parties.csv': ['code', 'name', 'role', 'gln', 'contact'],
  'items.csv': ['code', 'name', 'class', 'unit', 'gtin', 'density_kg_per_l', 'shelf_life_days'],
  'lots.csv': ['lot', 'item', 'quantity', 'pieces', 'origin', 'at', 'supplier', 'supplier_lot', 'expires_on', 'status'],
  'links.csv': ['run', 'kind', 'at', 'from_lot', 'from_first', 'from_last', 'to_lot', 'to_first', 'to_last', 'quantity', 'map'],
  'shipments.csv': ['shipment', 'customer', 'at', 'lot', 'first', 'last', 'quantity'],
} as const satisfies Record<ImportFile, readonly string[]>;

export type ColumnOf<F extends ImportFile> = (typeof COLUMNS)[F][number];

export const IMPORT_FILES = Object.keys(COLUMNS) as ImportFile[];

export const isImportFile = (name: string): name is ImportFile => Object.hasOwn(COLUMNS, name);
