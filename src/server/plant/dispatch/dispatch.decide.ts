import { Reasons } from '../../../../shared/refusal.js';
import { formatSpans, intersectSpans, spanSet, subtractSpans } from '../../../../shared/spans.js';
import type { Location, Party, Revised } from '../catalogue/catalogue.facts.js';
import type { Movement, Place } from '../stock/effects.facts.js';
import type { LotState, PartAt } from '../stock/lot-state.facts.js';
import { settlePart } from '../stock/part.decide.js';
import { takeOnHand } from '../stock/take.decide.js';
import { checkUsable } from '../stock/usable.decide.js';
import { checkLines } from './asked-lines.decide.js';
import type { AskedLine, AskedPart, SerialPiece } from './asked-lines.facts.js';
import type { ShipmentDispatched, ShipmentLine, ShipmentReversed } from './dispatch.facts.js';
import { judgeStock, passedOver } from './pick.decide.js';
import type { StockLot } from './pick.facts.js';

export interface DispatchLine extends AskedLine {
  readonly pickReason?: string | undefined;
}

export interface Dispatch {
  readonly customer: string;
  readonly billTo?: string | undefined;
  readonly documentType: string;
  readonly document: string;
  readonly shippedAt: string;
  readonly location: string;
  readonly note?: string | undefined;
  readonly lines: readonly DispatchLine[];
}

/** What dispatching rests on. */
export interface DispatchState {
  readonly at: string;
  /** A free shipment number. */
  readonly shipment: string;
  readonly customer: Revised<Party> | undefined;
  readonly billTo: Revised<Party> | undefined;
  readonly location: Revised<Location> | undefined;
  /** Shipments to this customer under this document that stand. */
  readonly sameDocument: readonly string[];
  readonly serials: ReadonlyMap<string, SerialPiece>;
  /** The lines lot by lot, each with its lot as it stands. */
  readonly parts: readonly (AskedPart & { readonly state: LotState | undefined })[];
  /** What else of these items lies at the location: for oldest first. */
  readonly stock: readonly StockLot[];
}

/**
 * Sends goods to a customer. All or nothing: every line must be good material that is at the location, by rule 4 of the domain.
 * @throws Refusal with every reason of every line, each with a pointer to it
 * @see docs/rules/dispatch.md D-1 to D-8
 */
export function decideDispatch(command: Dispatch, state: DispatchState): ShipmentDispatched {
  const no = new Reasons();
  checkHead(no, command, state);
  checkLines(no, command.lines, state.serials);
  const to: Place = { fate: 'dispatched', at: state.shipment };
  const moved: Movement[] = [];
  const lines: ShipmentLine[] = [];
  for (const part of state.parts) {
    const found = new Reasons();
    const line = decidePart(found, part, command, state.location && command.location, moved, to);
    no.takeOver(found, { pointer: `/lines/${part.line}` });
    if (line) lines.push({ ...line, pickReason: command.lines[part.line]?.pickReason });
  }
  no.throwIfAny();
  return {
    kind: 'ShipmentDispatched',
    v: 1,
    shipment: state.shipment,
    customer: command.customer,
    customerRevision: state.customer!.revision,
    billTo: command.billTo,
    documentType: command.documentType,
    document: command.document,
    shippedAt: command.shippedAt,
    location: command.location,
    note: command.note,
    lines: withExceptions(lines, state, command.shippedAt.slice(0, 10)),
    moved,
  };
}

function checkHead(no: Reasons, command: Dispatch, state: DispatchState): void {
  checkCustomer(no, command.customer, state.customer, '/customer');
  if (command.billTo !== undefined) checkCustomer(no, command.billTo, state.billTo, '/billTo');
  if (!state.location) no.unknown('location-unknown', `no location ${command.location}`, { pointer: '/location' });
  if (command.shippedAt > state.at) {
    no.conflict('not-yet', `shipped at ${command.shippedAt}, which is still to come`, { pointer: '/shippedAt' });
  }
  for (const shipment of state.sameDocument) {
    no.conflict('document-booked', `${command.documentType} ${command.document} to ${command.customer} is recorded as ${shipment}`, {
      pointer: '/document',
      shipment,
    });
  }
}

/** Goods go to customers only. */
export function checkCustomer(no: Reasons, code: string, party: Revised<Party> | undefined, pointer: string): void {
  if (!party) no.unknown('customer-unknown', `no party ${code}`, { pointer });
  else if (party.role === 'supplier') no.conflict('not-a-customer', `${code} is a supplier, not a customer`, { pointer });
}

function decidePart(
  no: Reasons,
  { lot, line, asked, state }: DispatchState['parts'][number],
  command: Dispatch,
  from: string | undefined,
  moved: Movement[],
  to: Place,
): ShipmentLine | null {
  if (!state) {
    no.unknown('lot-unknown', `no lot ${lot}`, { pointer: `/lines/${line}/lot`, lot });
    return null;
  }
  if (command.shippedAt < state.bornAt) {
    no.conflict('shipped-before-made', `${lot} came into being at ${state.bornAt}, after it is said to have been shipped`, { lot });
  }
  const part = settlePart(no, state, asked, `/lines/${line}`);
  if (!part) return null;
  const before = moved.filter((movement) => movement.lot === lot);
  const twice = part.spans === null ? [] : intersectSpans(part.spans, spanSet(before.flatMap((movement) => movement.spans ?? [])));
  if (twice.length > 0) {
    no.conflict('pieces-named-twice', `pieces ${formatSpans(twice)} of ${lot} are on an earlier line already`, {
      lot,
      pieces: formatSpans(twice),
    });
    return null;
  }
  const left = lessTaken(state, before);
  const use = { ...part, on: command.shippedAt.slice(0, 10), from };
  const urgentReleases = checkUsable(no, left, use);
  moved.push(...takeOnHand(left, use, to));
  return { lot, ...part, urgentReleases };
}

/** The lot after earlier lines of the same shipment. */
function lessTaken(state: LotState, taken: readonly Movement[]): LotState {
  if (taken.length === 0) return state;
  const places = state.places.map((part): PartAt => {
    const gone = taken.filter(({ from }) => from.fate === part.place.fate && from.at === part.place.at);
    return {
      place: part.place,
      quantityMicro: part.quantityMicro - gone.reduce((sum, movement) => sum + movement.quantityMicro, 0),
      spans: gone.reduce((left, movement) => (left === null ? null : subtractSpans(left, movement.spans ?? [])), part.spans),
    };
  });
  return { ...state, places: places.filter((part) => part.quantityMicro > 0) };
}

/** Names older stock that was left standing, line by line. */
function withExceptions(lines: readonly ShipmentLine[], state: DispatchState, on: string): ShipmentLine[] {
  const judged = state.stock.map((stock) => judgeStock(stock, on));
  const lots = new Map(state.parts.map((part) => [part.lot, part.state!]));
  const takenMicro = new Map<string, number>();
  for (const line of lines) takenMicro.set(line.lot, (takenMicro.get(line.lot) ?? 0) + line.quantityMicro);
  return lines.map((line) => {
    const lot = lots.get(line.lot)!;
    const older = passedOver(
      lot,
      judged.filter(({ stock }) => stock.item === lot.item),
      takenMicro,
    );
    return older.length === 0 ? line : { ...line, passedOver: older };
  });
}

/** A standing shipment that somebody says never happened. */
export interface ReversalState {
  readonly shipment: string;
  readonly dispatchedSeq: number;
  readonly reversedSeq: number | null;
  readonly location: string | null;
  /** Returns booked from it. */
  readonly returns: readonly string[];
  /** What of it is still out. */
  readonly out: readonly { readonly lot: string; readonly spans: Movement['spans']; readonly quantityMicro: number }[];
}

/**
 * Puts right a shipment recorded in error: the goods stand where they were said to have left from.
 * @throws Refusal if it was reversed before, if goods came back from it, or if it does not say where the goods stood
 * @see docs/rules/dispatch.md D-9
 */
export function decideReversal(reason: string, state: ReversalState): ShipmentReversed {
  const no = new Reasons();
  const { shipment, location } = state;
  if (state.reversedSeq !== null) {
    no.conflict('reversed-before', `${shipment} was put right by entry ${state.reversedSeq} already`, { shipment, seq: state.reversedSeq });
  }
  for (const code of state.returns) {
    no.conflict('returned-from', `goods of ${shipment} came back in ${code}: it did go out`, { shipment, return: code });
  }
  if (location === null) no.conflict('location-missing', `${shipment} does not say where its goods stood`, { shipment });
  no.throwIfAny();
  return {
    kind: 'ShipmentReversed',
    v: 1,
    shipment,
    corrects: state.dispatchedSeq,
    reason,
    moved: state.out.map((part) => ({ ...part, from: { fate: 'dispatched', at: shipment }, to: { fate: 'on-hand', at: location! } })),
  };
}
