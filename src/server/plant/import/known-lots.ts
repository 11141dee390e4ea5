import type { Item } from '../catalogue/catalogue.facts.js';
import type { Folder } from './folder.js';
import type { PlantState } from './import.query.js';

/** In place of a number of pieces: a row of lots.csv that has faults, and a code that is found nowhere. */
const FAULTY = -1;
const NOWHERE = -2;

type KnownItem = Pick<Item, 'code' | 'class' | 'unit' | 'densityMicro' | 'contentMicro'> & { readonly revision: number };

/** The lots that rows name, by their number in the folder: their own and the plant's alike. */
export class KnownLots {
  readonly #byCode = new Map<string, KnownItem>();
  readonly #pieces: Int32Array;
  readonly #bornAt: string[] = [];
  readonly #items: (KnownItem | undefined)[] = [];

  constructor(
    readonly folder: Folder,
    readonly plant: PlantState,
  ) {
    const count = folder.lotNames.count;
    this.#pieces = new Int32Array(count);
    for (let lot = 0; lot < count; lot++) {
      const own = folder.lots[lot];
      const known = own ?? plant.lots.get(folder.lotNames.text(lot));
      this.#pieces[lot] = known === undefined ? NOWHERE : own?.sound === false ? FAULTY : (known.pieces ?? 0);
      this.#bornAt.push(own ? own.at : (plant.lots.get(folder.lotNames.text(lot))?.bornAt ?? ''));
      this.#items.push(known === undefined ? undefined : this.item(known.item));
    }
  }

  /** An item of the files or of the plant; undefined when neither has it. */
  item(code: string): KnownItem | undefined {
    const known = this.#byCode.get(code);
    if (known !== undefined) return known;
    const own = this.folder.items.get(code);
    const item = own ? { ...own.item, revision: 1 } : this.plant.items.get(code);
    if (item !== undefined) this.#byCode.set(code, item);
    return item;
  }

  /** Marks a lot whose row was found wrong. */
  setFaulty(lot: number): void {
    this.#pieces[lot] = FAULTY;
  }

  isNowhere(lot: number): boolean {
    return this.#pieces[lot] === NOWHERE;
  }

  /** False when nothing can be said of rows that name the lot, since its own row is wrong or missing. */
  isSound(lot: number): boolean {
    return (this.#pieces[lot] as number) >= 0;
  }

  /** N of a numbered lot, 0 for a bulk one. */
  pieces(lot: number): number {
    return this.#pieces[lot] as number;
  }

  bornAt(lot: number): string {
    return this.#bornAt[lot] as string;
  }

  itemOf(lot: number): KnownItem {
    return this.#items[lot] as KnownItem;
  }

  code(lot: number): string {
    return this.folder.lotNames.text(lot);
  }
}
