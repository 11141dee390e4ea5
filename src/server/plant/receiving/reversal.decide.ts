import { Reasons } from '../../../../shared/refusal.js';
import { type Movement, onHand, type StatusChange } from '../stock/effects.facts.js';
import { heldAt, type LotState, notIn, wholeOf } from '../stock/lot-state.facts.js';
import type { DeliveryReversed } from './receiving.facts.js';

/** A delivery that somebody says was booked wrongly. */
export interface DeliveryReversalState {
  readonly delivery: string;
  readonly location: string;
  readonly bookedSeq: number;
  readonly reversedSeq: number | null;
  /** The lots it brought into being, in the order of its lines. */
  readonly lots: readonly LotState[];
}

/**
 * Puts right a delivery booked in error: its lots are counted as never found and are not accepted, and its paper can be booked again.
 * @throws Refusal if it was reversed before, or if any of its goods have gone on or were decided on since
 * @see docs/rules/receiving.md R-9
 */
export function decideDeliveryReversal(reason: string, state: DeliveryReversalState): DeliveryReversed {
  const no = new Reasons();
  const { delivery, location, bookedSeq, reversedSeq, lots } = state;
  if (reversedSeq !== null) {
    no.conflict('reversed-before', `${delivery} was put right by entry ${reversedSeq} already`, { delivery, seq: reversedSeq });
    no.throwIfAny();
  }
  for (const lot of lots)
    if (!untouched(lot, location)) {
      no.conflict('gone-on', `${lot.lot}, which came in ${delivery}, has gone on since, or was decided on`, { lot: lot.lot, delivery });
    }
  no.throwIfAny();
  const moved = lots.map((lot): Movement => ({
    lot: lot.lot,
    spans: wholeOf(lot),
    quantityMicro: lot.quantityMicro,
    from: onHand(location),
    to: { fate: 'count-difference', at: delivery },
  }));
  const restatused = lots.map((lot): StatusChange => ({ lot: lot.lot, spans: wholeOf(lot), status: 'not-accepted' }));
  return { kind: 'DeliveryReversed', v: 1, delivery, corrects: bookedSeq, reason, moved, restatused };
}

/** Whether all of a lot is where the delivery put it and nobody has decided on it. */
const untouched = (lot: LotState, location: string): boolean =>
  heldAt(lot, 'on-hand', location).quantityMicro === lot.quantityMicro && notIn(lot, 'quarantine', wholeOf(lot)) === null;
