import { formatQuantity, MICRO } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import type { SpanSet } from '../../../../shared/spans.js';
import type { Signature } from '../people/signature.js';
import { heldAt, type LotState, meets, notIn, wholeOf } from '../stock/lot-state.facts.js';
import { checkInside } from '../stock/part.decide.js';
import type { HeldPart, HoldLifted, HoldPlaced, SetAside, UrgentReleaseClosed, UrgentReleaseOpened } from './holds.facts.js';

/** A part to hold, as it is asked for: pieces, or a quantity of a bulk lot, or (neither) all of the lot. */
interface PartToHold {
  readonly lot: string;
  readonly pieces?: SpanSet | undefined;
  readonly quantityMicro?: number | undefined;
}

interface PlaceHold {
  readonly parts: readonly PartToHold[];
  readonly reaches: boolean;
  readonly reason: string;
  readonly owner: string;
}

interface HoldState {
  readonly hold: string;
  readonly lots: ReadonlyMap<string, LotState>;
  /** Whether the owner is a person of the plant. */
  readonly ownerKnown: boolean;
}

/**
 * Stops lots or parts of them.
 * @throws Refusal with every fault of every part
 * @see docs/rules/holds.md H-1 to H-4
 */
export function decidePlaceHold(command: PlaceHold, state: HoldState, signature: Signature): HoldPlaced {
  const no = new Reasons();
  if (!state.ownerKnown) no.unknown('person-unknown', `no person ${command.owner} to own the hold`, { pointer: '/owner' });
  const seen = new Set<string>();
  const parts = command.parts.map((part, i) => {
    if (seen.has(part.lot))
      no.conflict('lot-named-twice', `${part.lot} is named twice: give its parts on one line`, { pointer: `/parts/${i}/lot` });
    seen.add(part.lot);
    return heldPart(no, part, state.lots.get(part.lot), command.reaches, `/parts/${i}`);
  });
  no.throwIfAny();
  return {
    kind: 'HoldPlaced',
    v: 1,
    hold: state.hold,
    parts: parts.filter((part) => part !== null),
    reaches: command.reaches,
    reason: command.reason,
    owner: command.owner,
    signature,
  };
}

function heldPart(no: Reasons, part: PartToHold, lot: LotState | undefined, reaches: boolean, pointer: string): HeldPart | null {
  if (!lot) {
    no.unknown('lot-unknown', `no lot ${part.lot}`, { pointer: `${pointer}/lot`, lot: part.lot });
    return null;
  }
  if (part.quantityMicro !== undefined) checkQuantity(no, part.quantityMicro, lot, reaches, pointer);
  if (part.pieces !== undefined) {
    if (lot.pieces === null) {
      no.conflict('no-pieces-here', `${lot.lot} is bulk and has no pieces: hold a quantity, or all of it`, {
        pointer: `${pointer}/pieces`,
        lot: lot.lot,
      });
    } else checkInside(no, lot, part.pieces, pointer);
  }
  return { lot: lot.lot, spans: part.pieces ?? wholeOf(lot), quantityMicro: part.quantityMicro ?? null };
}

function checkQuantity(no: Reasons, quantityMicro: number, lot: LotState, reaches: boolean, pointer: string): void {
  const at = { pointer: `${pointer}/quantity`, lot: lot.lot };
  if (lot.pieces !== null) {
    no.conflict('pieces-not-quantity', `${lot.lot} has numbered pieces: say which, not how many`, at);
    return;
  }
  if (quantityMicro <= 0) no.malformed('quantity-not-positive', 'a quantity held is more than nothing', at);
  if (lot.unit === 'each' && quantityMicro % MICRO !== 0) no.malformed('not-whole', `${lot.lot} is counted: give a whole number`, at);
  const there = heldAt(lot, 'on-hand').quantityMicro;
  if (quantityMicro > there) {
    no.conflict(
      'not-enough-left',
      `${lot.lot} has ${formatQuantity(there)} ${lot.unit} on hand, ${formatQuantity(quantityMicro)} asked for`,
      at,
    );
  }
  if (reaches) {
    no.conflict(
      'quantity-cannot-reach',
      `what was made from a part of bulk lot ${lot.lot} cannot be told from the rest: hold all of it`,
      at,
    );
  }
}

/** @see docs/rules/holds.md H-5 */
export function decideLiftHold(
  command: { readonly hold: string; readonly reason: string },
  state: { readonly found: boolean; readonly liftedSeq: number | null },
  signature: Signature,
): HoldLifted {
  const no = new Reasons();
  if (!state.found) no.unknown('hold-unknown', `no hold ${command.hold}`, { hold: command.hold });
  if (state.liftedSeq !== null)
    no.conflict('lifted-before', `${command.hold} was lifted by entry ${state.liftedSeq}`, { hold: command.hold });
  no.throwIfAny();
  return { kind: 'HoldLifted', v: 1, hold: command.hold, reason: command.reason, signature };
}

interface OpenUrgent {
  readonly lot: string;
  readonly pieces?: SpanSet | undefined;
  readonly setsAside: readonly SetAside[];
  readonly reason: string;
}

export interface UrgentState {
  readonly urgentRelease: string;
  readonly lot: LotState | undefined;
  /** Who booked or made the lot. */
  readonly makers: readonly string[];
  /** The day, against which expiry is judged. */
  readonly on: string;
}

/**
 * Lets a lot be used although it is not released, or is expired or held; marks it and all made from it until closed.
 * @throws Refusal when the lot was not accepted, the signer made it, or what is to be set aside does not stand against it
 * @see docs/rules/holds.md H-6, H-9
 */
export function decideOpenUrgent(command: OpenUrgent, state: UrgentState, signature: Signature): UrgentReleaseOpened {
  const no = new Reasons();
  const { lot } = state;
  if (lot) checkUrgent(no, lot, command, state, signature);
  else no.unknown('lot-unknown', `no lot ${command.lot}`, { pointer: '/lot', lot: command.lot });
  no.throwIfAny();
  return {
    kind: 'UrgentReleaseOpened',
    v: 1,
    urgentRelease: state.urgentRelease,
    lot: command.lot,
    spans: command.pieces ?? (lot ? wholeOf(lot) : null),
    setsAside: command.setsAside,
    reason: command.reason,
    signature,
  };
}

function checkUrgent(no: Reasons, lot: LotState, command: OpenUrgent, state: UrgentState, signature: Signature): void {
  if (command.pieces !== undefined) {
    if (lot.pieces === null) no.conflict('no-pieces-here', `${lot.lot} is bulk and has no pieces`, { pointer: '/pieces', lot: lot.lot });
    else checkInside(no, lot, command.pieces);
  }
  if (state.makers.includes(signature.by)) {
    no.forbidden('maker-cannot-release', `${signature.by} booked or made ${lot.lot}: somebody else has to let it go`, { lot: lot.lot });
  }
  const spans = command.pieces ?? wholeOf(lot);
  const refused = lot.statuses.get('not-accepted');
  if (refused !== undefined && meets(refused, spans)) {
    no.conflict('lot-not-accepted', `${lot.lot} was not accepted: it cannot be used`, { lot: lot.lot });
    return;
  }
  const stands: Readonly<Record<SetAside, boolean>> = {
    quarantine: notIn(lot, 'released', spans) !== null,
    expired: lot.expiresOn !== null && lot.expiresOn < state.on,
    held: lot.inherited.length > 0 || lot.holds.some((hold) => meets(hold.spans, spans)),
  };
  command.setsAside.forEach((what, i) => {
    if (stands[what]) return;
    no.conflict('nothing-to-set-aside', `${lot.lot} is not ${NOT[what]}: there is nothing to set aside`, {
      pointer: `/setsAside/${i}`,
      lot: lot.lot,
    });
  });
}

const NOT: Readonly<Record<SetAside, string>> = { quarantine: 'in quarantine', expired: 'expired', held: 'on hold' };

/** @see docs/rules/holds.md H-7 */
export function decideCloseUrgent(
  command: { readonly urgentRelease: string; readonly reason: string },
  state: { readonly found: boolean; readonly closedSeq: number | null },
  signature: Signature,
): UrgentReleaseClosed {
  const no = new Reasons();
  const { urgentRelease } = command;
  if (!state.found) no.unknown('urgent-release-unknown', `no urgent release ${urgentRelease}`, { urgentRelease });
  if (state.closedSeq !== null) no.conflict('closed-before', `${urgentRelease} was closed by entry ${state.closedSeq}`, { urgentRelease });
  no.throwIfAny();
  return { kind: 'UrgentReleaseClosed', v: 1, urgentRelease, reason: command.reason, signature };
}
