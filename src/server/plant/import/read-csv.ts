import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { pipeline } from 'node:stream/promises';
import { CsvError, parse } from 'csv-parse';
import type { ImportFile } from '../../../../shared/api/imports.js';
import type { Faults } from './faults.js';
import { COLUMNS } from './import.files.js';

/** A row longer than this is a quote that was never closed, not a row. */
const LONGEST_ROW = 64 * 1024;

interface CsvRead {
  readonly rows: number;
  readonly sha256: string;
  /** False when reading broke off: nothing can be said about what the rest of the file names. */
  readonly complete: boolean;
}

/** Takes one row: its cells in the order of `COLUMNS`, and the line it begins on. */
export type TakeRow = (cells: readonly string[], line: number) => void;

/**
 * Reads one file row by row as it streams in. A row with too few or too many cells is reported and passed over; a quote in the
 * wrong place is reported and ends the reading, since from there on nobody can tell where rows begin.
 * @see docs/rules/import.md I-2, I-3
 */
export async function readCsv(path: string, file: ImportFile, faults: Faults, take: TakeRow): Promise<CsvRead> {
  const columns: readonly string[] = COLUMNS[file];
  const hash = createHash('sha256');
  let order: readonly number[] | null = null;
  let headed = false;
  let rows = 0;
  let lastLine = 0;
  let blanks = 0;
  const onRecord = (record: string[], seen: { readonly lines: number; readonly empty_lines: number }): null => {
    const line = lastLine + 1 + (seen.empty_lines - blanks);
    lastLine = seen.lines;
    blanks = seen.empty_lines;
    if (!headed) {
      headed = true;
      order = headerOrder(record, file, columns, line, faults);
      return null;
    }
    rows += 1;
    if (order === null) return null;
    if (record.length === columns.length) take(inOrder(record, order), line);
    else faults.add({ file, line }, 'ragged-row', `the row has ${record.length} cells, the header has ${columns.length}`);
    return null; // kept nowhere: the parser has nothing to hand on
  };
  const parser = parse({
    bom: true,
    relax_column_count: true,
    skip_empty_lines: true,
    record_delimiter: ['\r\n', '\n', '\r'],
    max_record_size: LONGEST_ROW,
    on_record: onRecord,
  });
  parser.resume();
  const hashed = async function* (chunks: AsyncIterable<Buffer>): AsyncGenerator<Buffer> {
    for await (const chunk of chunks) {
      hash.update(chunk);
      yield chunk;
    }
  };
  try {
    await pipeline(createReadStream(path), hashed, parser);
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const inTheRow = error.code === 'CSV_INVALID_CLOSING_QUOTE' || error.code === 'INVALID_OPENING_QUOTE';
    const line = inTheRow ? Number((error as { lines?: unknown }).lines) : lastLine + 1;
    faults.add({ file, line }, 'bad-quoting', `${quotingFault(error)}; the rest of the file was not read`);
    return { rows, sha256: '', complete: false };
  }
  if (!headed) faults.add({ file, line: 1 }, 'no-header', `the file is empty; its first line names the columns: ${columns.join(',')}`);
  return { rows, sha256: hash.digest('hex'), complete: order !== null };
}

/** Where each column of `columns` stands in the header; null, and the faults reported, when it is not exactly those columns. */
function headerOrder(
  header: readonly string[],
  file: ImportFile,
  columns: readonly string[],
  line: number,
  faults: Faults,
): number[] | null {
  const before = faults.count;
  header.forEach((name, place) => {
    if (!columns.includes(name)) {
      faults.add(
        { file, line, column: name, value: name },
        'unknown-column',
        `${file} has no column '${name}'; its columns are ${columns.join(',')}`,
      );
    } else if (header.indexOf(name) !== place) {
      faults.add({ file, line, column: name, value: name }, 'doubled-column', `the column '${name}' stands there twice`);
    }
  });
  for (const name of columns) {
    if (!header.includes(name)) faults.add({ file, line, column: name }, 'missing-column', `the column '${name}' is missing`);
  }
  return faults.count > before ? null : columns.map((name) => header.indexOf(name));
}

const inOrder = (record: readonly string[], order: readonly number[]): readonly string[] => order.map((place) => record[place] as string);

function quotingFault(error: CsvError): string {
  switch (error.code) {
    case 'CSV_QUOTE_NOT_CLOSED':
      return 'a quote is opened and never closed';
    case 'CSV_MAX_RECORD_SIZE':
      return `a row is longer than ${LONGEST_ROW} bytes: a quote was opened and not closed`;
    case 'CSV_INVALID_CLOSING_QUOTE':
      return 'a closing quote is followed by more text; a quote inside a quoted cell is written twice';
    case 'INVALID_OPENING_QUOTE':
      return 'a quote stands inside a cell that does not begin with one';
    default:
      return 'the row cannot be read';
  }
}
