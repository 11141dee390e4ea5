import { stringify } from 'csv-stringify/sync';

type CsvCell = string | number | null;

/** What a spreadsheet would take for a formula; a plain number below zero is none. */
const isFormula = (text: string): boolean => /^[=+\-@\t\r]/.test(text) && !/^-\d+(\.\d+)?$/.test(text);

/** A text that a spreadsheet would take for a formula is led in by an apostrophe: codes are typed by people outside the plant. */
const guarded = (cell: CsvCell): string | number => (typeof cell === 'string' && isFormula(cell) ? `'${cell}` : (cell ?? ''));

/** A table as CSV with a header row (RFC 4180); null is an empty cell. */
export const csvTable = (columns: readonly string[], rows: readonly (readonly CsvCell[])[]): string =>
  stringify(
    rows.map((row) => row.map(guarded)),
    { header: true, columns: [...columns], record_delimiter: 'windows' },
  );
