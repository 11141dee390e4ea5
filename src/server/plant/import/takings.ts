import { MICRO } from '../../../../shared/quantity.js';
import { countPieces, type SpanSet, subtractSpans } from '../../../../shared/spans.js';
import { type Movement, onHand, type Place } from '../stock/effects.facts.js';
import type { LotState, PartAt } from '../stock/lot-state.facts.js';
import { takeOnHand } from '../stock/take.decide.js';
import { BROUGHT_OVER } from './import.facts.js';
import type { KnownLots } from './known-lots.js';

/** Takes parts of lots to where the files say they went, one after the other, each from where it is then. */
export class Takings {
  readonly #places = new Map<string, readonly PartAt[]>();

  constructor(
    readonly lots: KnownLots,
    readonly states: ReadonlyMap<string, LotState>,
  ) {}

  /** The movements of one taking: none when the quantity is not known, several when a lot of the plant stands in several places. */
  take(lot: number, spans: SpanSet | null, quantityMicro: number, to: Place): Movement[] {
    const code = this.lots.code(lot);
    const taken = spans === null ? quantityMicro : countPieces(spans) * MICRO;
    if (taken === 0) return [];
    if (this.lots.folder.isOwn(lot)) return [{ lot: code, spans, quantityMicro: taken, from: onHand(BROUGHT_OVER), to }];
    const state = this.states.get(code)!;
    const places = this.#places.get(code) ?? state.places;
    const moved = takeOnHand({ ...state, places }, { spans, quantityMicro: taken, on: '' }, to);
    this.#places.set(code, moved.reduce<readonly PartAt[]>(without, places));
    return moved;
  }
}

const without = (places: readonly PartAt[], movement: Movement): PartAt[] =>
  places.map((part) =>
    part.place.fate !== movement.from.fate || part.place.at !== movement.from.at
      ? part
      : {
          place: part.place,
          quantityMicro: part.quantityMicro - movement.quantityMicro,
          spans: part.spans === null ? null : subtractSpans(part.spans, movement.spans ?? []),
        },
  );
