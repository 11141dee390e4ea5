/** A lot the story may use: what is left of it, in thousandths of its unit, and, of a numbered lot, its next free piece. */
export interface Shelf {
  readonly lot: string;
  readonly item: string;
  left: number;
  nextPiece: number;
}

export const MILLI = 1000;

/** Thousandths as a decimal: 12500 is "12.5". */
export const decimal = (milli: number): string => String(milli / MILLI);

/** What the people of the story know to be on the shelves, oldest first. The server knows better, and refuses what is wrong. */
export class Pantry {
  readonly #shelves: Shelf[] = [];

  add(lot: string, item: string, milli: number): void {
    this.#shelves.push({ lot, item, left: milli, nextPiece: 1 });
  }

  /** A stretch of pieces of a numbered lot. */
  addPieces(lot: string, item: string, first: number, last: number): void {
    this.#shelves.push({ lot, item, left: (last - first + 1) * MILLI, nextPiece: first });
  }

  of(item: string): Shelf[] {
    return this.#shelves.filter((shelf) => shelf.item === item && shelf.left > 0);
  }

  /** Takes from the oldest lots on; answers a part of each. */
  take(item: string, milli: number): { shelf: Shelf; milli: number }[] {
    const taken: { shelf: Shelf; milli: number }[] = [];
    let missing = milli;
    for (const shelf of this.of(item)) {
      const part = Math.min(missing, shelf.left);
      if (part === 0) break;
      shelf.left -= part;
      missing -= part;
      taken.push({ shelf, milli: part });
    }
    if (missing > 0) throw new Error(`the story runs out of ${item}: ${decimal(missing)} missing`);
    return taken;
  }

  /** The next pieces of numbered lots, oldest lots first, as spans. */
  takePieces(item: string, pieces: number): { shelf: Shelf; first: number; last: number }[] {
    return this.take(item, pieces * MILLI).map(({ shelf, milli }) => {
      const first = shelf.nextPiece;
      shelf.nextPiece += milli / MILLI;
      return { shelf, first, last: shelf.nextPiece - 1 };
    });
  }
}
