import type { ImportFile } from '../../../../shared/api/imports.js';
import { codeFault, textFault } from '../../../../shared/plain-text.js';
import { parseQuantity } from '../../../../shared/quantity.js';
import { MAX_PIECE } from '../../../../shared/spans.js';
import { dateFault, toInstant } from '../../../../shared/time.js';
import type { Faults } from './faults.js';
import { type ColumnOf, COLUMNS } from './import.files.js';

/** What a decoder leaves where bytes are not UTF-8. */
const NOT_UTF8 = '\ufffd';

/**
 * The cells of one row after another, each read as what its column holds. A cell that is wrong is reported and answers undefined,
 * and the row counts as faulty; an empty cell is "not known".
 */
export class Cells<F extends ImportFile> {
  readonly #place = new Map<string, number>();
  #cells: readonly string[] = [];
  #line = 0;
  #sound = true;

  constructor(
    readonly file: F,
    private readonly faults: Faults,
  ) {
    COLUMNS[file].forEach((column, place) => this.#place.set(column, place));
  }

  begin(cells: readonly string[], line: number): void {
    this.#cells = cells;
    this.#line = line;
    this.#sound = true;
  }

  get line(): number {
    return this.#line;
  }

  /** False once a cell of this row was found wrong. */
  get sound(): boolean {
    return this.#sound;
  }

  text(column: ColumnOf<F>): string {
    return this.#cells[this.#place.get(column) as number] as string;
  }

  fault(column: ColumnOf<F>, code: string, detail: string): undefined {
    this.#sound = false;
    const value = this.text(column);
    this.faults.add({ file: this.file, line: this.#line, column, value: value === '' ? undefined : value }, code, detail);
    return undefined;
  }

  /** @see docs/rules/import.md I-5: a code is text, kept as it stands */
  code(column: ColumnOf<F>): string | undefined {
    const text = this.text(column);
    if (text === '') return this.fault(column, 'missing', `${column} is needed`);
    return this.#checked(column, text, codeFault(text));
  }

  optionalCode(column: ColumnOf<F>): string | undefined {
    return this.text(column) === '' ? undefined : this.code(column);
  }

  plainText(column: ColumnOf<F>, max: number): string | undefined {
    const text = this.text(column);
    if (text === '') return this.fault(column, 'missing', `${column} is needed`);
    return this.#checked(column, text, textFault(text, max));
  }

  optionalText(column: ColumnOf<F>, max: number): string | undefined {
    return this.text(column) === '' ? undefined : this.plainText(column, max);
  }

  oneOf<Word extends string>(column: ColumnOf<F>, words: readonly Word[]): Word | undefined {
    const text = this.text(column);
    if (text === '') return this.fault(column, 'missing', `${column} is needed: ${words.join(', ')}`);
    if ((words as readonly string[]).includes(text)) return text as Word;
    return this.fault(column, 'not-one-of', `'${text.slice(0, 40)}' is none of ${words.join(', ')}`);
  }

  /** In millionths, more than nothing; undefined when empty. */
  quantity(column: ColumnOf<F>): number | undefined {
    const text = this.text(column);
    if (text === '') return undefined;
    let micro: number;
    try {
      micro = parseQuantity(text);
    } catch (error) {
      return this.fault(column, 'bad-quantity', (error as Error).message);
    }
    if (micro > 0) return micro;
    return this.fault(
      column,
      'not-positive',
      micro === 0 ? 'a quantity of nothing; leave the cell empty when it is not known' : 'a quantity is never negative',
    );
  }

  /** A whole number of 1 or more, undefined when empty. */
  count(column: ColumnOf<F>, most: number = MAX_PIECE): number | undefined {
    const text = this.text(column);
    if (text === '') return undefined;
    if (!/^\d{1,10}$/.test(text)) return this.fault(column, 'not-whole', `'${text.slice(0, 40)}' is not a whole number`);
    const count = Number(text);
    if (count >= 1 && count <= most) return count;
    return this.fault(column, 'out-of-range', count < 1 ? 'counting begins at 1' : `more than ${most}`);
  }

  instant(column: ColumnOf<F>): string | undefined {
    const text = this.text(column);
    if (text === '') return this.fault(column, 'missing', `${column} is needed`);
    try {
      return toInstant(text);
    } catch (error) {
      return this.fault(column, 'bad-instant', (error as Error).message);
    }
  }

  date(column: ColumnOf<F>): string | undefined {
    const text = this.text(column);
    if (text === '') return undefined;
    const fault = dateFault(text);
    return fault === null ? text : this.fault(column, 'bad-date', fault);
  }

  #checked(column: ColumnOf<F>, text: string, fault: string | null): string | undefined {
    if (text.includes(NOT_UTF8)) return this.fault(column, 'not-utf8', 'holds bytes that are not UTF-8: save the file as UTF-8');
    return fault === null ? text : this.fault(column, 'bad-text', fault);
  }
}
