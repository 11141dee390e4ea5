import { type PlantItem, PlantLinks, type PlantLot, type PlantRun, type RunKind } from './plant.js';
import type { PlantRandom } from './plant-random.js';

export const MICRO = 1_000_000;
export const DAY = 24 * 60;

const numbered = (prefix: string, number: number, digits: number): string => `${prefix}-${String(number).padStart(digits, '0')}`;

/** The lot of a bought item now in use, and how much longer it lasts (batches or pieces). */
interface InUse {
  lot: PlantLot;
  left: number;
}

/** What a plant writes down as it works: lots, runs and links, and which lot of each bought item is open. */
export class PlantBook {
  readonly lots: PlantLot[] = [];
  readonly runs: PlantRun[] = [];
  readonly links: PlantLinks = new PlantLinks();
  readonly suppliers: readonly string[] = Array.from({ length: 20 }, (_, n) => numbered('SUP', n + 1, 3));
  readonly #inUse = new Map<string, InUse>();
  readonly #serials = new Map<string, number>();

  constructor(readonly random: PlantRandom) {}

  receive(item: PlantItem, prefix: string, before: number): PlantLot {
    const supplier = this.suppliers[this.random.whole(0, this.suppliers.length - 1)] ?? '';
    return this.#open(item, prefix, 0, true, before - this.random.whole(DAY, 5 * DAY), supplier);
  }

  make(item: PlantItem, prefix: string, pieces: number, at: number): PlantLot {
    return this.#open(item, prefix, pieces, false, at, '');
  }

  begin(kind: RunKind, prefix: string, at: number): void {
    this.runs.push({ code: this.#code(prefix), kind, at, firstLink: this.links.count });
  }

  /** A quantity of a bulk lot goes into pieces of another lot (0, 0: into the whole of a bulk one). */
  takeQuantity(from: PlantLot, to: PlantLot, first: number, last: number, quantityMicro: number, blends: boolean): void {
    from.usedMicro += quantityMicro;
    this.links.push([from.id, 0, 0], [to.id, first, last], quantityMicro, blends ? quantityMicro : 0);
  }

  /** Pieces of a numbered lot go into pieces of another one, each into its own, or into a bulk lot. */
  takePieces(from: PlantLot, first: number, last: number, to: PlantLot, toFirst: number, massMicro: number): void {
    const count = last - first + 1;
    from.usedPieces.push(first, last);
    from.usedMicro += count * MICRO;
    const toLast = to.pieces === 0 ? 0 : toFirst + count - 1;
    this.links.push([from.id, first, last], [to.id, toFirst, toLast], count * MICRO, massMicro, to.pieces > 0);
  }

  /** True if no piece of the span has been taken yet. */
  hasPieces(lot: PlantLot, first: number, last: number): boolean {
    for (let at = 0; at < lot.usedPieces.length; at += 2) {
      if ((lot.usedPieces[at] ?? 0) <= last && (lot.usedPieces[at + 1] ?? 0) >= first) return false;
    }
    return true;
  }

  /** Uses one of an item per piece, opening a new lot wherever the one in use runs out: a changeover. */
  usePerPiece(item: PlantItem, prefix: string, to: PlantLot, at: number, life: () => number): void {
    let first = 1;
    while (first <= to.pieces) {
      const open = this.#current(item, prefix, at, life);
      const last = Math.min(to.pieces, first + open.left - 1);
      this.takeQuantity(open.lot, to, first, last, (last - first + 1) * MICRO, false);
      open.left -= last - first + 1;
      first = last + 1;
    }
  }

  /** Uses a quantity of an item for one batch; sometimes the lot in use gives way to the next inside it, unless it is used to its end. */
  usePerBatch(
    item: PlantItem,
    prefix: string,
    to: PlantLot,
    at: number,
    quantityMicro: number,
    life: () => number,
    toItsEnd = false,
  ): void {
    const open = this.#current(item, prefix, at, life);
    const changes = !toItsEnd && this.random.chance(0.1) && quantityMicro >= 2;
    const fromFirst = changes ? this.random.whole(1, quantityMicro - 1) : quantityMicro;
    this.takeQuantity(open.lot, to, 0, 0, fromFirst, true);
    open.left -= 1;
    if (!changes) return;
    open.left = 0;
    const next = this.#current(item, prefix, at, life);
    this.takeQuantity(next.lot, to, 0, 0, quantityMicro - fromFirst, true);
  }

  /** Received lots turn out to have held a little more than was used of them. */
  settleReceived(): void {
    for (const lot of this.lots) {
      if (!lot.received) continue;
      const spare = Math.floor(lot.usedMicro * 0.03 * this.random.next());
      lot.quantityMicro = lot.usedMicro + (lot.usedMicro % MICRO === 0 ? Math.ceil(spare / MICRO) * MICRO : spare);
    }
  }

  #current(item: PlantItem, prefix: string, at: number, life: () => number): InUse {
    let open = this.#inUse.get(item.code);
    if (!open || open.left <= 0) {
      open = { lot: this.receive(item, prefix, at), left: Math.max(1, Math.round(life())) };
      this.#inUse.set(item.code, open);
    }
    return open;
  }

  #open(item: PlantItem, prefix: string, pieces: number, received: boolean, at: number, supplier: string): PlantLot {
    const lot: PlantLot = {
      id: this.lots.length + 1,
      code: this.#code(prefix),
      item: item.code,
      pieces,
      received,
      at,
      supplier,
      quantityMicro: pieces * MICRO,
      usedMicro: 0,
      usedPieces: [],
    };
    this.lots.push(lot);
    return lot;
  }

  #code(prefix: string): string {
    const serial = (this.#serials.get(prefix) ?? 0) + 1;
    this.#serials.set(prefix, serial);
    return numbered(prefix, serial, 6);
  }
}
