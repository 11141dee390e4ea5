import { formatQuantity, MICRO } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { countPieces, coversSpans, type Span, type SpanSet } from '../../../../shared/spans.js';
import { type LinkMade, type Movement, onHand, type PieceMap } from '../stock/effects.facts.js';
import { heldAt, type LotState } from '../stock/lot-state.facts.js';
import { checkInside, settlePart } from '../stock/part.decide.js';
import { takeOnHand } from '../stock/take.decide.js';
import { checkUsable } from '../stock/usable.decide.js';
import { chargedMass } from './charge-mass.decide.js';
import type { StandingLink } from './correcting.decide.js';
import type { LinksCorrected } from './run.facts.js';
import type { Item } from '../catalogue/catalogue.facts.js';
import { withoutMoved } from './taken.decide.js';

/** A link to be recorded late. */
interface AskLink {
  readonly from: string;
  readonly fromPieces?: SpanSet | undefined;
  readonly to: string;
  readonly toPieces?: SpanSet | undefined;
  readonly quantityMicro?: number | undefined;
  readonly map: PieceMap;
  readonly at: string;
}

export interface CorrectLinks {
  readonly run: string;
  readonly kind: string;
  readonly reason: string;
  readonly voids: readonly { readonly seq: number; readonly ord: number }[];
  readonly links: readonly AskLink[];
  /** Where what was taken in error goes back to. */
  readonly location?: string | undefined;
}

export interface LinkCorrectingState {
  readonly at: string;
  /** Links of the run that stand and that no run of ours worked out. */
  readonly standing: readonly StandingLink[];
  /** True when the run has a record of its own: then that is what has to be put right. */
  readonly hasRecord: boolean;
  readonly lots: ReadonlyMap<string, LotState>;
  readonly items: ReadonlyMap<string, Item>;
  readonly locationKnown: boolean;
  /** Pairs of lots, `from` and `to`, where `to` went into `from` already. */
  readonly loops: readonly { readonly from: string; readonly to: string }[];
}

/** Kinds of run whose links may lead round in a circle. */
const MAY_LOOP: readonly string[] = ['rework', 'repacking'];

/**
 * Voids links recorded in error and records links late, for making steps that have no run of their own here, as those brought over from
 * older records. A voided link puts its quantity back; a late one takes it.
 * @see docs/rules/production.md P-54 to P-57
 */
export function decideCorrectLinks(command: CorrectLinks, state: LinkCorrectingState): LinksCorrected {
  const no = new Reasons();
  if (state.hasRecord)
    no.conflict('run-has-record', `${command.run} has a record of its own: put its charges and changeovers right`, { run: command.run });
  if (command.voids.length + command.links.length === 0) no.malformed('nothing-asked', 'name links to void, or links to record');
  const voided = voidedLinks(no, command, state);
  const back = putBack(no, command, voided, state);
  const lots = new Map([...state.lots].map(([code, lot]) => [code, withArrived(lot, back)]));
  const made = command.links.map((ask, i) => lateLink(no, ask, { ...state, lots }, command, `/links/${i}`));
  no.throwIfAny();
  return {
    kind: 'LinksCorrected',
    v: 1,
    run: command.run,
    corrects: command.voids[0]?.seq ?? null,
    reason: command.reason,
    moved: [...back, ...made.flatMap((one) => one!.moved)],
    voided: command.voids,
    linked: made.map((one, i) => ({ run: command.run, kind: command.kind, at: command.links[i]!.at, links: [...one!.links] })),
  };
}

function voidedLinks(no: Reasons, command: CorrectLinks, { standing }: LinkCorrectingState): StandingLink[] {
  return command.voids.flatMap(({ seq, ord }, i) => {
    const link = standing.find((one) => one.seq === seq && one.ord === ord);
    if (!link) no.conflict('link-not-standing', `${command.run} has no standing link ${ord} of entry ${seq}`, { pointer: `/voids/${i}` });
    return link ? [link] : [];
  });
}

/** The quantity of a voided link was consumed by its run; it goes back on hand. */
function putBack(no: Reasons, command: CorrectLinks, voided: readonly StandingLink[], state: LinkCorrectingState): Movement[] {
  const taken = voided.filter((link) => link.quantityMicro > 0);
  if (taken.length > 0 && command.location === undefined) {
    no.malformed('location-missing', 'where does what was not used after all stand?', { pointer: '/location' });
  }
  if (command.location !== undefined && !state.locationKnown)
    no.unknown('location-unknown', `no location ${command.location}`, { pointer: '/location' });
  return taken.flatMap((link) => {
    const lot = state.lots.get(link.from)!;
    const there = heldAt(lot, 'consumed', command.run);
    const spans: SpanSet | null = link.fromSpan === null ? null : [link.fromSpan];
    const quantityMicro = spans === null ? link.quantityMicro : countPieces(spans) * MICRO;
    if (there.quantityMicro < quantityMicro || (spans !== null && !coversSpans(there.spans ?? [], spans))) {
      no.conflict('not-consumed', `${command.run} has not taken ${formatQuantity(quantityMicro)} of ${link.from}`, { lot: link.from });
    }
    return [
      { lot: link.from, spans, quantityMicro, from: { fate: 'consumed', at: command.run } as const, to: onHand(command.location ?? '') },
    ];
  });
}

function withArrived(lot: LotState, moved: readonly Movement[]): LotState {
  const own = moved.filter((movement) => movement.lot === lot.lot);
  if (own.length === 0) return lot;
  const arrived = own.map((movement) => ({ place: movement.to, quantityMicro: movement.quantityMicro, spans: movement.spans }));
  return { ...lot, places: [...withoutMoved(lot, own).places, ...arrived] };
}

function lateLink(
  no: Reasons,
  ask: AskLink,
  state: LinkCorrectingState,
  command: CorrectLinks,
  pointer: string,
): { links: readonly LinkMade[]; moved: readonly Movement[] } | null {
  const from = state.lots.get(ask.from);
  const to = state.lots.get(ask.to);
  if (!from) no.unknown('lot-unknown', `no lot ${ask.from}`, { pointer: `${pointer}/from` });
  if (!to) no.unknown('lot-unknown', `no lot ${ask.to}`, { pointer: `${pointer}/to` });
  if (!from || !to) return null;
  const part = settlePart(
    no,
    from,
    { spans: ask.fromPieces ?? (from.pieces === null ? undefined : [[1, from.pieces]]), quantityMicro: ask.quantityMicro },
    pointer,
  );
  const toSpans: SpanSet | null = ask.toPieces ?? (to.pieces === null ? null : [[1, to.pieces]]);
  if (toSpans !== null && to.pieces === null)
    no.conflict('no-pieces-here', `${to.lot} is bulk and has no pieces`, { pointer: `${pointer}/toPieces` });
  if (toSpans !== null && to.pieces !== null) checkInside(no, to, toSpans, `${pointer}/to`);
  checkOrder(no, ask, from, to, state, command, pointer);
  if (!part) return null;
  const use = { spans: part.spans, quantityMicro: part.quantityMicro, on: ask.at.slice(0, 10), rework: command.kind === 'rework' };
  checkUsable(no, from, use);
  const massMicro = chargedMass(no, { item: state.items.get(from.item)!, ...part }, state.items.get(to.item)!, pointer);
  const [fromSpan, toSpan] = [oneSpan(part.spans), oneSpan(toSpans)];
  if (fromSpan === undefined || toSpan === undefined) {
    no.conflict('one-span-each', 'a link goes from one span to one span: record one for each', { pointer });
    return null;
  }
  if (ask.map === 'each' && (fromSpan === null || toSpan === null || fromSpan[1] - fromSpan[0] !== toSpan[1] - toSpan[0])) {
    no.conflict('unequal-pieces', 'piece by piece needs as many pieces on both sides', { pointer: `${pointer}/map` });
  }
  const link: LinkMade = { from: from.lot, fromSpan, to: to.lot, toSpan, quantityMicro: part.quantityMicro, massMicro, map: ask.map };
  return { links: [link], moved: takeOnHand(from, use, { fate: 'consumed', at: command.run }) };
}

/** Null for a bulk lot, undefined where there is more than one. */
const oneSpan = (spans: SpanSet | null): Span | null | undefined => (spans === null ? null : spans.length === 1 ? spans[0]! : undefined);

/** No loop, and nothing made before its input (GE-11). */
function checkOrder(
  no: Reasons,
  ask: AskLink,
  from: LotState,
  to: LotState,
  state: LinkCorrectingState,
  command: CorrectLinks,
  pointer: string,
): void {
  if (ask.at > state.at) no.conflict('not-yet', `${ask.at} is still to come`, { pointer: `${pointer}/at` });
  if (MAY_LOOP.includes(command.kind)) return;
  if (from.lot === to.lot || state.loops.some((loop) => loop.from === from.lot && loop.to === to.lot)) {
    no.conflict('loop', `${to.lot} went into ${from.lot} already: a ${command.kind} cannot lead back`, { pointer });
  }
  if (ask.at < from.bornAt || to.bornAt < from.bornAt) {
    no.conflict('used-before-made', `${from.lot} came into being at ${from.bornAt}, after it would have gone in`, { pointer });
  }
}
