import { MICRO } from '../../../../shared/quantity.js';
import { countPieces, intersectSpans, subtractSpans } from '../../../../shared/spans.js';
import type { Movement, Place } from './effects.facts.js';
import type { LotState } from './lot-state.facts.js';
import type { Use } from './usable.decide.js';

/**
 * The movements that take what is wanted from where it is on hand, place by place in order of their codes, to one place.
 * Answers fewer than wanted only if less is on hand; `checkUsable` refuses that before.
 */
export function takeOnHand(lot: LotState, use: Use, to: Place): Movement[] {
  const moved: Movement[] = [];
  let spans = use.spans;
  let quantityMicro = use.quantityMicro;
  for (const part of lot.places) {
    if (part.place.fate !== 'on-hand' || (use.from !== undefined && part.place.at !== use.from)) continue;
    if (spans !== null) {
      const taken = intersectSpans(spans, part.spans ?? []);
      if (taken.length === 0) continue;
      spans = subtractSpans(spans, taken);
      moved.push({ lot: lot.lot, spans: taken, quantityMicro: countPieces(taken) * MICRO, from: part.place, to });
    } else if (quantityMicro > 0) {
      const taken = Math.min(quantityMicro, part.quantityMicro);
      quantityMicro -= taken;
      moved.push({ lot: lot.lot, spans: null, quantityMicro: taken, from: part.place, to });
    }
  }
  return moved;
}
