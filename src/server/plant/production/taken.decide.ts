import { subtractSpans } from '../../../../shared/spans.js';
import type { Movement } from '../stock/effects.facts.js';
import type { LotState } from '../stock/lot-state.facts.js';

/** The lot as it is after the movements took something from its places: what a second charge of the same command sees. */
export function withoutMoved(lot: LotState, moved: readonly Movement[]): LotState {
  const places = lot.places.map((part) => {
    const taken = moved.filter(({ from }) => from.fate === part.place.fate && from.at === part.place.at);
    return taken.reduce(
      (left, movement) => ({
        ...left,
        quantityMicro: left.quantityMicro - movement.quantityMicro,
        spans: left.spans === null ? null : subtractSpans(left.spans, movement.spans ?? []),
      }),
      part,
    );
  });
  return { ...lot, places };
}
