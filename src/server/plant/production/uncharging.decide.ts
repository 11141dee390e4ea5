import { formatQuantity, MICRO, mulDivMicro } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { countPieces, formatSpans, type SpanSet, subtractSpans, unionSpans } from '../../../../shared/spans.js';
import { type Movement, onHand } from '../stock/effects.facts.js';
import { checkOpen } from './charging.decide.js';
import type { ChargeReturn, RunUncharged } from './run.facts.js';
import { type ChargeState, type NetCharge, netOf, type RunState } from './run-state.facts.js';

/** What comes back of a charge; neither pieces nor quantity: all of it. */
export interface AskReturn {
  readonly charge: number;
  readonly spans?: SpanSet | undefined;
  readonly quantityMicro?: number | undefined;
  /** Left out: where it was taken from. */
  readonly location?: string | undefined;
}

/** What returns rest on. */
export interface ReturnState {
  readonly run: RunState;
  /** Locations among those named. */
  readonly known: ReadonlySet<string>;
  /** Vessels that charges were taken from, with the batch each had last since it was cleaned. */
  readonly vessels: ReadonlyMap<string, string | null>;
}

/**
 * Unused material of a running run goes back to stock.
 * @see docs/rules/production.md P-14
 */
export function decideUncharge(asks: readonly AskReturn[], reason: string, state: ReturnState): RunUncharged {
  const no = new Reasons();
  checkOpen(no, state.run);
  const returned = returnAll(no, asks, state);
  no.throwIfAny();
  return { kind: 'RunUncharged', v: 1, run: state.run.run, returns: returned.returns, reason, moved: returned.moved };
}

/** Works returns out one after the other; adds every reason to `no`. Answers the charges as they stand afterwards too. */
export function returnAll(
  no: Reasons,
  asks: readonly AskReturn[],
  { run, known, vessels }: ReturnState,
): { readonly returns: ChargeReturn[]; readonly moved: Movement[]; readonly charges: readonly ChargeState[] } {
  const returns: ChargeReturn[] = [];
  const moved: Movement[] = [];
  let charges = run.charges;
  asks.forEach((ask, i) => {
    const pointer = `/returns/${i}`;
    const charge = charges.find((one) => one.charge === ask.charge);
    if (!charge) return no.unknown('charge-unknown', `${run.run} has no charge ${ask.charge}`, { pointer: `${pointer}/charge` });
    if (ask.location !== undefined && !known.has(ask.location)) {
      no.unknown('location-unknown', `no location ${ask.location}`, { pointer: `${pointer}/location` });
    }
    const part = partReturned(no, ask, charge, pointer);
    if (part === null) return undefined;
    const to = ask.location ?? charge.takenFrom;
    if (vessels.has(to) && vessels.get(to) !== charge.lot) {
      no.conflict('vessel-moved-on', `${to} was cleaned or had another batch since: say where ${charge.lot} goes`, {
        pointer: `${pointer}/location`,
      });
    }
    returns.push({ charge: charge.charge, ...part, deliveredTo: to });
    moved.push({
      lot: charge.lot,
      spans: part.spans,
      quantityMicro: part.quantityMicro,
      from: { fate: 'consumed', at: run.run },
      to: onHand(to),
    });
    charges = charges.map((one) => (one.charge === charge.charge ? lessReturned(one, part) : one));
    return undefined;
  });
  return { returns, moved, charges };
}

function partReturned(no: Reasons, ask: AskReturn, charge: ChargeState, pointer: string): NetCharge | null {
  const net = netOf(charge);
  if (net.spans !== null) {
    const spans = ask.spans ?? net.spans;
    const missing = subtractSpans(spans, net.spans);
    if (ask.quantityMicro !== undefined)
      no.conflict('pieces-not-quantity', `${charge.lot} has numbered pieces: say which`, { pointer: `${pointer}/quantity` });
    if (missing.length > 0 || spans.length === 0) {
      no.conflict('not-charged', `pieces ${formatSpans(missing) || 'none'} of ${charge.lot} are not in charge ${charge.charge}`, {
        pointer: `${pointer}/pieces`,
      });
      return null;
    }
    const quantityMicro = countPieces(spans) * MICRO;
    return { spans, quantityMicro, massMicro: mulDivMicro(net.massMicro, quantityMicro, net.quantityMicro) };
  }
  const quantityMicro = ask.quantityMicro ?? net.quantityMicro;
  if (ask.spans !== undefined) no.conflict('no-pieces-here', `${charge.lot} is bulk: give a quantity`, { pointer: `${pointer}/pieces` });
  if (quantityMicro <= 0 || quantityMicro > net.quantityMicro) {
    const detail = `charge ${charge.charge} has ${formatQuantity(net.quantityMicro)} of ${charge.lot} left, ${formatQuantity(quantityMicro)} cannot come back`;
    no.conflict('not-charged', detail, { pointer: `${pointer}/quantity` });
    return null;
  }
  return { spans: null, quantityMicro, massMicro: mulDivMicro(net.massMicro, quantityMicro, net.quantityMicro) };
}

/** The charge after something of it came back. */
const lessReturned = (charge: ChargeState, part: NetCharge): ChargeState => ({
  ...charge,
  returnedSpans: charge.returnedSpans === null ? null : unionSpans(charge.returnedSpans, part.spans ?? []),
  returnedMicro: charge.returnedMicro + part.quantityMicro,
  returnedMassMicro: charge.returnedMassMicro + part.massMicro,
});
