import { meetsFlat } from '../flat-spans.js';
import type { Genealogy } from '../genealogy.js';
import { LOT_MASK, STRIDE } from '../link-table.js';
import type { Traced } from '../traced.js';

/** The rows of the links by which one lot leads on towards the population, by first piece. */
interface Outlets {
  readonly rows: readonly number[];
  /** By place in `rows`: the greatest last piece up to there, so that those ending before a piece are passed over by bisection. */
  readonly lasts: readonly number[];
}

/** Looks up the links out of a lot that matter, once a lot. */
export class LotOutlets {
  readonly #byLot = new Map<number, Outlets>();
  readonly #limit: number;

  /** @param reached the backward trace from the population: a link into a lot or pieces that are not in it leads nowhere */
  constructor(
    readonly genealogy: Genealogy,
    readonly reached: Traced,
  ) {
    this.#limit = genealogy.countKnownAt(reached.asKnownAt);
  }

  of(lot: number): Outlets {
    const known = this.#byLot.get(lot);
    if (known !== undefined) return known;
    const rows: number[] = [];
    this.genealogy.eachRow(lot, 'out', (row) => {
      if (row < this.#limit && this.#matters(row)) rows.push(row);
    });
    const { words } = this.genealogy.table;
    const firstOf = (row: number): number => words[row * STRIDE + 1] ?? 0;
    rows.sort((a, b) => firstOf(a) - firstOf(b) || a - b);
    const lasts: number[] = [];
    for (const row of rows) lasts.push(Math.max(lasts.at(-1) ?? 0, words[row * STRIDE + 2] ?? 0));
    const outlets = { rows, lasts };
    this.#byLot.set(lot, outlets);
    return outlets;
  }

  /** The rows whose from-span meets the pieces `first` to `last`; of a bulk lot, 0 and 0, all. */
  *meeting(lot: number, first: number, last: number): Generator<number, void> {
    const { rows, lasts } = this.of(lot);
    const { words } = this.genealogy.table;
    let [low, high] = [0, rows.length];
    while (low < high) {
      const mid = (low + high) >>> 1;
      if ((lasts[mid] ?? 0) < first) low = mid + 1;
      else high = mid;
    }
    for (let at = low; at < rows.length; at++) {
      const row = rows[at] ?? 0;
      if ((words[row * STRIDE + 1] ?? 0) > last) return;
      if ((words[row * STRIDE + 2] ?? 0) >= first) yield row;
    }
  }

  #matters(row: number): boolean {
    if (this.genealogy.isVoid(row, this.reached.asKnownAt)) return false;
    const { words } = this.genealogy.table;
    const to = this.reached.get((words[row * STRIDE + 3] ?? 0) & LOT_MASK);
    if (to === undefined) return false;
    return to.known === null || meetsFlat(to.known, words[row * STRIDE + 4] ?? 0, words[row * STRIDE + 5] ?? 0);
  }
}
