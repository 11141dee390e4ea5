import type { SpanSet } from '../../../../shared/spans.js';
import { firstEnding, type FlatSpans, meetsFlat, toFlat } from '../flat-spans.js';

/** Pieces of one numbered lot, by the lot's database id. */
export interface PiecesOfLot {
  readonly lot: number;
  readonly spans: SpanSet;
}

interface LotPlaces {
  readonly spans: FlatSpans;
  /** Place of the first piece of each span. */
  readonly starts: readonly number[];
}

/**
 * The pieces of which some failed, each with a place from 0 on: lot by lot in the order given, and within a lot by piece number. A stretch of
 * one lot is a stretch of places, whatever pieces of it are not in the population.
 */
export class Population {
  /** How many pieces there are. */
  readonly size: number;
  readonly #lots = new Map<number, LotPlaces>();

  /** @param parts each lot once, its spans not empty */
  constructor(readonly parts: readonly PiecesOfLot[]) {
    let size = 0;
    for (const { lot, spans } of parts) {
      const starts: number[] = [];
      for (const [first, last] of spans) {
        starts.push(size);
        size += last - first + 1;
      }
      this.#lots.set(lot, { spans: toFlat(spans), starts });
    }
    this.size = size;
  }

  hasLot(lot: number): boolean {
    return this.#lots.has(lot);
  }

  /** The places of the pieces `first` to `last` of a lot as far as they are in the population, from-to, both included; null: none is. */
  places(lot: number, first: number, last: number): readonly [from: number, to: number] | null {
    const here = this.#lots.get(lot);
    if (here === undefined || !meetsFlat(here.spans, first, last)) return null;
    const { spans, starts } = here;
    const from = firstEnding(spans, first);
    let to = firstEnding(spans, last);
    if (to >= spans.length || (spans[to] ?? 0) > last) to -= 2;
    return [
      (starts[from >>> 1] ?? 0) + Math.max(0, first - (spans[from] ?? 0)),
      (starts[to >>> 1] ?? 0) + Math.min(last, spans[to + 1] ?? 0) - (spans[to] ?? 0),
    ];
  }

  /** The places of some of its pieces, in order. */
  placesOf(parts: readonly PiecesOfLot[]): number[] {
    const found: number[] = [];
    for (const { lot, spans } of parts) {
      for (const [first, last] of spans) {
        const places = this.places(lot, first, last);
        if (places !== null) for (let place = places[0]; place <= places[1]; place++) found.push(place);
      }
    }
    return found.toSorted((a, b) => a - b);
  }
}
