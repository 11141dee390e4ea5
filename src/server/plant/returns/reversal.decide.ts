import { Reasons } from '../../../../shared/refusal.js';
import { coversSpans } from '../../../../shared/spans.js';
import { type LinkVoided, type Movement, onHand, type StatusChange } from '../stock/effects.facts.js';
import { heldAt, type LotState } from '../stock/lot-state.facts.js';
import type { ReturnLine, ReturnReversed } from './returns.facts.js';

/** A return that somebody says never happened. */
export interface ReturnReversalState {
  readonly returned: string;
  readonly location: string;
  readonly bookedSeq: number;
  readonly reversedSeq: number | null;
  readonly lines: readonly ReturnLine[];
  /** The lots of the lines, and those that bulk lines became, by code. */
  readonly lots: ReadonlyMap<string, LotState>;
  /** Links the return made that are not void. */
  readonly links: readonly LinkVoided[];
}

/**
 * Puts right a return booked in error: pieces are with the customer again, and what bulk became is counted as never found.
 * @throws Refusal if it was reversed before, or if any of the goods have gone on or been released since
 * @see docs/rules/dispatch.md D-15
 */
export function decideReturnReversal(reason: string, state: ReturnReversalState): ReturnReversed {
  const no = new Reasons();
  const { returned } = state;
  if (state.reversedSeq !== null) {
    no.conflict('reversed-before', `${returned} was put right by entry ${state.reversedSeq} already`, { returned, seq: state.reversedSeq });
    no.throwIfAny();
  }
  const moved: Movement[] = [];
  const restatused: StatusChange[] = [];
  const became = new Map<string, number>();
  for (const line of state.lines) {
    const { lot, spans, quantityMicro, shipment, becomes } = line;
    if (becomes === undefined) {
      checkPieces(no, line, state);
      moved.push({ lot, spans, quantityMicro, from: onHand(state.location), to: { fate: 'dispatched', at: shipment } });
    } else {
      became.set(becomes, (became.get(becomes) ?? 0) + quantityMicro);
      moved.push({ lot, spans, quantityMicro, from: { fate: 'consumed', at: returned }, to: { fate: 'dispatched', at: shipment } });
    }
  }
  for (const [lot, quantityMicro] of became) {
    checkBulk(no, lot, quantityMicro, state);
    moved.push({ lot, spans: null, quantityMicro, from: onHand(state.location), to: { fate: 'count-difference', at: returned } });
    restatused.push({ lot, spans: null, status: 'not-accepted' });
  }
  no.throwIfAny();
  return { kind: 'ReturnReversed', v: 1, returned, corrects: state.bookedSeq, reason, moved, restatused, voided: state.links };
}

function checkPieces(no: Reasons, { lot, spans }: ReturnLine, { lots, location, returned }: ReturnReversalState): void {
  const state = lots.get(lot)!;
  const quarantined = state.statuses.get('quarantine') ?? [];
  const here = heldAt(state, 'on-hand', location).spans ?? [];
  if (coversSpans(here, spans ?? []) && coversSpans(quarantined, spans ?? [])) return;
  no.conflict('gone-on', `pieces of ${lot} that came back in ${returned} have gone on since, or were released`, { lot, returned });
}

function checkBulk(no: Reasons, lot: string, quantityMicro: number, { lots, location, returned }: ReturnReversalState): void {
  const state = lots.get(lot)!;
  if (heldAt(state, 'on-hand', location).quantityMicro === quantityMicro && state.statuses.has('quarantine')) return;
  no.conflict('gone-on', `${lot}, which came back in ${returned}, has gone on since, or was released`, { lot, returned });
}
