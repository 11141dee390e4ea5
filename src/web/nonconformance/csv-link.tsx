import { inWords } from '../../../shared/written.js';
/** A time asked for, as the API takes it. */
export interface Period {
  readonly from?: string;
  readonly to?: string;
}

/** The same figures for a spreadsheet. */
export function CsvLink({ file, query = {} }: { file: string; query?: Readonly<Record<string, string | undefined>> }) {
  const asked = new URLSearchParams(Object.entries(query).flatMap(([key, value]) => (value === undefined ? [] : [[key, value]])));
  return (
    <a className="button" href={`/api/figures/${file}.csv${asked.size === 0 ? '' : `?${asked.toString()}`}`} download>
      As CSV<span className="hidden-but-read">: {inWords(file)}</span>
    </a>
  );
}
