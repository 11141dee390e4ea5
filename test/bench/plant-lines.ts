import { CANS, COMPONENTS, MIXTURES, PACKAGING, PUMP, RAWS, SUB_ASSEMBLIES } from './plant-items.js';
import type { PlantItem, PlantLot } from './plant.js';
import { DAY, MICRO, type PlantBook } from './plant-book.js';

const CONTENT_MICRO = 250_000;
const VESSELS = 6;
/** Of a batch this much is not filled: heel, loss, and what the next run's first cans take. */
const NOT_FILLED = 0.07;

interface Batch {
  readonly lot: PlantLot;
  leftMicro: number;
}

/** Mixing in six vessels with heels, and filling with changeovers. */
export class WaxLine {
  readonly filled: PlantLot[] = [];
  readonly #recipes: { mixture: PlantItem; cans: PlantItem; raws: readonly PlantItem[] }[];
  readonly #vessels: (Batch | null)[] = Array.from({ length: VESSELS }, () => null);
  #batches = 0;

  /**
   * @param rate millions of pieces a year, which sets how long a lot of a common raw material lasts
   * @param siloBatches how many batches it lasts out of a silo; undefined without one
   */
  constructor(
    readonly book: PlantBook,
    readonly rate: number,
    readonly cleaning: number,
    readonly siloBatches?: number,
  ) {
    const { random } = book;
    const common = RAWS.slice(0, 3);
    this.#recipes = MIXTURES.map((mixture, at) => ({
      mixture,
      cans: CANS[at] ?? PUMP,
      raws: [...common, ...random.some(RAWS.slice(3), random.whole(5, 9))],
    }));
  }

  /** One batch and the runs that fill it; the number of cans. */
  batch(at: number): number {
    const { random, book } = this;
    const vessel = this.#batches++ % VESSELS;
    const recipe = this.#recipes[random.whole(0, this.#recipes.length - 1)];
    if (!recipe) return 0;
    const sizes = Array.from({ length: random.whole(1, 4) }, () => random.whole(2_000, 20_000));
    const cans = sizes.reduce((sum, size) => sum + size, 0);
    const massMicro = Math.ceil((cans * CONTENT_MICRO) / (1 - NOT_FILLED));
    const lot = book.make(recipe.mixture, 'B', 0, at);
    lot.quantityMicro = massMicro;
    const batch: Batch = { lot, leftMicro: massMicro };
    const before = this.#vessels[vessel] ?? null;
    const clean = before === null || random.chance(this.cleaning);
    const reworked = this.#rework(lot, at);
    book.begin('mixing', 'MIX', at);
    const heelMicro = clean ? 0 : Math.min(before.leftMicro, Math.floor(massMicro * (0.01 + 0.04 * random.next())));
    if (before && heelMicro > 0) this.#pour(before, lot, 0, 0, heelMicro);
    this.#charge(recipe.raws, lot, at, massMicro - heelMicro - reworked);
    for (const [run, size] of sizes.entries()) this.#fill(recipe.cans, size, batch, clean ? null : before, at + DAY + run * 120);
    this.#vessels[vessel] = batch;
    return cans;
  }

  get random(): PlantBook['random'] {
    return this.book.random;
  }

  #charge(raws: readonly PlantItem[], lot: PlantLot, at: number, massMicro: number): void {
    const weights = raws.map(() => 0.2 + this.random.next());
    const whole = weights.reduce((sum, weight) => sum + weight, 0);
    let left = massMicro;
    for (const [n, raw] of raws.entries()) {
      const quantity = n === raws.length - 1 ? left : Math.floor((massMicro * (weights[n] ?? 0)) / whole);
      left -= quantity;
      const common = n < 3;
      const life = common ? () => this.siloBatches ?? 20 * Math.sqrt(this.rate) : () => this.random.whole(1, 8);
      this.book.usePerBatch(raw, 'R', lot, at, quantity, life, common && this.siloBatches !== undefined);
    }
  }

  /** Five batches in a hundred take back cans of one of the last five runs; the mass that brings. */
  #rework(lot: PlantLot, at: number): number {
    const { random, book } = this;
    if (!random.chance(0.05) || this.filled.length === 0) return 0;
    const from = this.filled[Math.max(0, this.filled.length - random.whole(1, 5))];
    const count = random.whole(24, 240);
    if (!from || from.at >= at) return 0;
    const first = random.whole(1, from.pieces - count);
    if (!book.hasPieces(from, first, first + count - 1)) return 0;
    book.begin('rework', 'RW', at);
    book.takePieces(from, first, first + count - 1, lot, 0, count * CONTENT_MICRO);
    return count * CONTENT_MICRO;
  }

  #fill(item: PlantItem, size: number, batch: Batch, before: Batch | null, at: number): void {
    const { random, book } = this;
    const run = book.make(item, 'F', size, at);
    book.begin('filling', 'FILL', at);
    const early = before && random.chance(0.1) ? Math.min(random.whole(50, 500), Math.floor(before.leftMicro / CONTENT_MICRO)) : 0;
    if (before && early > 0) this.#pour(before, run, 1, early, early * CONTENT_MICRO);
    this.#pour(batch, run, early + 1, size, (size - early) * CONTENT_MICRO);
    for (const packaging of random.some(PACKAGING, random.whole(3, 5))) {
      book.usePerPiece(packaging, 'P', run, at, () => random.whole(10_000, 200_000));
    }
    this.filled.push(run);
  }

  #pour(batch: Batch, to: PlantLot, first: number, last: number, quantityMicro: number): void {
    batch.leftMicro -= quantityMicro;
    this.book.takeQuantity(batch.lot, to, first, last, quantityMicro, true);
  }
}

/** Building of pumps from component lots and serial-numbered sub-assemblies. */
export class PumpLine {
  readonly built: PlantLot[] = [];
  readonly #ready: { lot: PlantLot; piece: number }[][] = SUB_ASSEMBLIES.map(() => []);

  constructor(readonly book: PlantBook) {}

  /** One building run; the number of units. */
  build(at: number): number {
    const { book } = this;
    const { random } = book;
    const run = book.make(PUMP, 'U', random.whole(50, 500), at);
    const kinds = random.whole(1, SUB_ASSEMBLIES.length);
    for (let kind = 0; kind < kinds; kind++) this.#stock(kind, run.pieces, at);
    book.begin('building', 'BUILD', at);
    this.#components(run, at, random.whole(12, 25));
    for (let piece = 1; piece <= run.pieces; piece++) {
      for (let kind = 0; kind < kinds; kind++) this.#fit(kind, run, piece);
    }
    if (random.chance(0.3)) this.#rework(run, at);
    this.built.push(run);
    return run.pieces;
  }

  #components(run: PlantLot, at: number, count: number): void {
    const { random } = this.book;
    for (const [place, component] of COMPONENTS.entries()) {
      if (random.next() >= count / COMPONENTS.length) continue;
      // Lives of 100 to 5,000, by item, half more or less from lot to lot.
      const life = 100 * 50 ** (place / (COMPONENTS.length - 1));
      this.book.usePerPiece(component, 'C', run, at, () => life * (0.5 + random.next()));
    }
  }

  #stock(kind: number, pieces: number, at: number): void {
    const { random } = this.book;
    const ready = this.#ready[kind];
    const item = SUB_ASSEMBLIES[kind];
    if (!ready || !item) return;
    while (ready.length < pieces + 100) {
      const early = at - DAY / 2;
      const run = this.book.make(item, 'S', random.whole(200, 1_000), early);
      this.book.begin('building', 'SUBRUN', early);
      this.#components(run, early, random.whole(3, 6));
      for (let piece = 1; piece <= run.pieces; piece++) ready.push({ lot: run, piece });
    }
  }

  /** Sub-assemblies come off the shelf in nearly the order they went on it. */
  #fit(kind: number, run: PlantLot, piece: number): void {
    const ready = this.#ready[kind];
    if (!ready) return;
    const at = this.book.random.whole(0, Math.min(99, ready.length - 1));
    const taken = ready[at];
    const first = ready[0];
    if (!taken || !first) return;
    ready[at] = first;
    ready.shift();
    this.book.takePieces(taken.lot, taken.piece, taken.piece, run, piece, 0);
  }

  /** A unit of an older run is taken apart and becomes a unit of this one. */
  #rework(run: PlantLot, at: number): void {
    const { random } = this.book;
    const from = this.built[random.whole(0, this.built.length - 1)];
    if (!from) return;
    const piece = random.whole(1, from.pieces);
    if (!this.book.hasPieces(from, piece, piece)) return;
    this.book.begin('rework', 'RW', at);
    this.book.takePieces(from, piece, piece, run, random.whole(1, run.pieces), 0);
  }
}

export const contentKg = CONTENT_MICRO / MICRO;
