import { formatQuantity, MICRO } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { countPieces, formatSpans, type SpanSet, subtractSpans, unionSpans } from '../../../../shared/spans.js';
import type { Location, Revised } from '../catalogue/catalogue.facts.js';
import type {
  DestroyedInTest,
  ReturnedToSupplier,
  SampleRetained,
  SampleTakenBack,
  StockCorrected,
  StockCounted,
  StockMoved,
  StockScrapped,
} from './documents.facts.js';
import { type Movement, onHand, type Place } from './effects.facts.js';
import { heldAt, type LotState } from './lot-state.facts.js';
import { checkThere, type PartAsked, settlePart } from './part.decide.js';
import { takeOnHand } from './take.decide.js';

/** What every stock document rests on. */
export interface StockState {
  readonly document: string;
  readonly lot: LotState | undefined;
  readonly on: string;
  /** Locations named, by code; vessels are places too. */
  readonly places: ReadonlyMap<string, Revised<Location> | 'vessel'>;
}

export interface TakePart extends PartAsked {
  readonly lot: string;
  /** Location or vessel it is taken from; left out: wherever it is on hand. */
  readonly from?: string | undefined;
  readonly reason: string;
}

function begin(command: { readonly lot: string }, state: StockState): { no: Reasons; lot: LotState } {
  const no = new Reasons();
  if (state.lot) return { no, lot: state.lot };
  no.unknown('lot-unknown', `no lot ${command.lot}`, { pointer: '/lot', lot: command.lot });
  no.throwIfAny();
  throw new Error('unreachable');
}

/** Settles what is taken from stock and moves it to `to`. */
function take(no: Reasons, lot: LotState, command: TakePart, state: StockState, to: Place): Movement[] {
  const part = settlePart(no, lot, command);
  if (part) checkThere(no, lot, part, { fate: 'on-hand', at: command.from });
  no.throwIfAny();
  return takeOnHand(lot, { ...part!, on: state.on, from: command.from }, to);
}

function checkPlace(no: Reasons, state: StockState, code: string, pointer: string): Revised<Location> | 'vessel' | undefined {
  const place = state.places.get(code);
  if (!place) no.unknown('location-unknown', `no location ${code}`, { pointer, location: code });
  return place;
}

/**
 * Carries a part of a lot from one location to another. The lot stays the same lot (21 CFR 1.1320).
 * @see docs/rules/stock.md S-5
 */
export function decideMove(command: TakePart & { readonly to: string }, state: StockState): StockMoved {
  const { no, lot } = begin(command, state);
  const to = checkPlace(no, state, command.to, '/to');
  if (to === 'vessel' && lot.pieces !== null) no.conflict('pieces-in-vessel', `numbered pieces do not go into vessel ${command.to}`, { pointer: '/to' });
  if (to === 'vessel') no.conflict('charge-instead', `what goes into vessel ${command.to} is charged to a run`, { pointer: '/to' });
  if (command.from === command.to) no.conflict('same-place', `${lot.lot} would go from ${command.to} to ${command.to}`, { pointer: '/to' });
  const moved = take(no, lot, command, state, onHand(command.to)).filter((movement) => movement.from.at !== command.to);
  if (moved.length === 0) {
    no.conflict('same-place', `${lot.lot} is at ${command.to} already`, { pointer: '/to' });
    no.throwIfAny();
  }
  return { kind: 'StockMoved', v: 1, document: state.document, lot: lot.lot, reason: command.reason, moved };
}

/** @see docs/rules/stock.md S-6 */
export function decideScrap(command: TakePart & { readonly evidence?: string | undefined }, state: StockState): StockScrapped {
  const { no, lot } = begin(command, state);
  const moved = take(no, lot, command, state, { fate: 'scrapped', at: state.document });
  return { kind: 'StockScrapped', v: 1, document: state.document, lot: lot.lot, reason: command.reason, evidence: command.evidence, moved };
}

/** @see docs/rules/stock.md S-7 */
export function decideRetain(command: TakePart & { readonly at: string }, state: StockState): SampleRetained {
  const { no, lot } = begin(command, state);
  const place = checkPlace(no, state, command.at, '/at');
  if (place !== undefined && (place === 'vessel' || place.use !== 'retain')) {
    no.conflict('not-for-retains', `${command.at} is not a place for retain samples`, { pointer: '/at' });
  }
  const moved = take(no, lot, command, state, { fate: 'retained', at: command.at });
  return { kind: 'SampleRetained', v: 1, document: state.document, lot: lot.lot, reason: command.reason, moved };
}

/** A retain sample goes back to stock. @see docs/rules/stock.md S-7 */
export function decideTakeBack(command: TakePart & { readonly at: string; readonly to: string }, state: StockState): SampleTakenBack {
  const { no, lot } = begin(command, state);
  checkPlace(no, state, command.to, '/to');
  const part = settlePart(no, lot, command);
  if (part) checkThere(no, lot, part, { fate: 'retained', at: command.at });
  no.throwIfAny();
  const moved = [{ lot: lot.lot, ...part!, from: { fate: 'retained', at: command.at }, to: onHand(command.to) } as const];
  return { kind: 'SampleTakenBack', v: 1, document: state.document, lot: lot.lot, reason: command.reason, moved };
}

/** @see docs/rules/stock.md S-8 */
export function decideDestroyInTest(command: TakePart & { readonly evidence?: string | undefined }, state: StockState): DestroyedInTest {
  const { no, lot } = begin(command, state);
  const moved = take(no, lot, command, state, { fate: 'destroyed-in-test', at: state.document });
  return { kind: 'DestroyedInTest', v: 1, document: state.document, lot: lot.lot, reason: command.reason, evidence: command.evidence, moved };
}

/** @see docs/rules/stock.md S-9 */
export function decideReturnToSupplier(command: TakePart & { readonly supplierDocument: string }, state: StockState): ReturnedToSupplier {
  const { no, lot } = begin(command, state);
  if (lot.supplier === null) no.conflict('no-supplier', `${lot.lot} did not come from a supplier`, { pointer: '/lot', lot: lot.lot });
  const moved = take(no, lot, command, state, { fate: 'returned-to-supplier', at: state.document });
  return {
    kind: 'ReturnedToSupplier',
    v: 1,
    document: state.document,
    lot: lot.lot,
    reason: command.reason,
    supplier: lot.supplier!,
    supplierDocument: command.supplierDocument,
    moved,
  };
}

export interface CountStock {
  readonly lot: string;
  readonly location: string;
  /** Pieces found there; for a numbered lot. */
  readonly pieces?: SpanSet | undefined;
  /** Quantity found there; for a bulk lot. */
  readonly countedMicro?: number | undefined;
  readonly reason: string;
}

/**
 * What was found at a location, against the record. What is missing goes to the count's difference; what is found again comes back from
 * the differences of earlier counts, or, of a bulk lot, stands as a negative difference.
 * @see docs/rules/stock.md S-10
 */
export function decideCount(command: CountStock, state: StockState): StockCounted {
  const { no, lot } = begin(command, state);
  checkPlace(no, state, command.location, '/location');
  const counted = lot.pieces === null ? countBulk(no, lot, command, state) : countPiecesOf(no, lot, command, state);
  no.throwIfAny();
  return {
    kind: 'StockCounted',
    v: 1,
    document: state.document,
    lot: lot.lot,
    location: command.location,
    reason: command.reason,
    ...counted!,
  };
}

type Counted = Pick<StockCounted, 'countedSpans' | 'countedMicro' | 'differenceMicro' | 'moved'>;

function countBulk(no: Reasons, lot: LotState, command: CountStock, state: StockState): Counted | null {
  const { countedMicro } = command;
  if (countedMicro === undefined) {
    no.malformed('quantity-missing', `how much of ${lot.lot} was found, in ${lot.unit}?`, { pointer: '/quantity' });
    return null;
  }
  if (countedMicro < 0) no.malformed('quantity-negative', 'nothing less than nothing is found', { pointer: '/quantity' });
  if (lot.unit === 'each' && countedMicro % MICRO !== 0) no.malformed('not-whole', `${lot.lot} is counted: give a whole number`, { pointer: '/quantity' });
  const here = onHand(command.location);
  const difference: Place = { fate: 'count-difference', at: state.document };
  const differenceMicro = countedMicro - heldAt(lot, 'on-hand', command.location).quantityMicro;
  const amount = { lot: lot.lot, spans: null, quantityMicro: Math.abs(differenceMicro) };
  const moved = differenceMicro === 0 ? [] : [differenceMicro < 0 ? { ...amount, from: here, to: difference } : { ...amount, from: difference, to: here }];
  return { countedSpans: null, countedMicro, differenceMicro, moved };
}

function countPiecesOf(no: Reasons, lot: LotState, command: CountStock, state: StockState): Counted | null {
  const found = command.pieces;
  if (found === undefined) {
    no.malformed('pieces-missing', `which pieces of ${lot.lot} were found? Give an empty list as 0 with a scrap or move instead`, { pointer: '/pieces' });
    return null;
  }
  const recorded = heldAt(lot, 'on-hand', command.location).spans ?? [];
  const missing = subtractSpans(recorded, found);
  let again = subtractSpans(found, recorded);
  const moved: Movement[] = missing.length === 0 ? [] : [movement(lot, missing, onHand(command.location), { fate: 'count-difference', at: state.document })];
  for (const part of lot.places) {
    if (part.place.fate !== 'count-difference') continue;
    const back = subtractSpans(again, subtractSpans(again, part.spans ?? []));
    if (back.length > 0) moved.push(movement(lot, back, part.place, onHand(command.location)));
    again = subtractSpans(again, back);
  }
  if (again.length > 0) {
    no.conflict('pieces-elsewhere', `pieces ${formatSpans(again)} of ${lot.lot} stand elsewhere in the record: move or return them`, {
      pointer: '/pieces',
      pieces: formatSpans(again),
    });
  }
  const countedMicro = countPieces(found) * MICRO;
  return { countedSpans: found, countedMicro, differenceMicro: countedMicro - countPieces(recorded) * MICRO, moved };
}

const movement = (lot: LotState, spans: SpanSet, from: Place, to: Place): Movement => ({
  lot: lot.lot,
  spans,
  quantityMicro: countPieces(spans) * MICRO,
  from,
  to,
});

/** An earlier stock document, as a correction needs it. */
export interface EarlierDocument {
  readonly document: string;
  readonly kind: string;
  readonly seq: number;
  readonly lot: string;
  readonly correctedSeq: number | null;
  readonly moved: readonly Movement[];
}

/**
 * Undoes an earlier stock document by an entry that names it: everything it moved goes back, if it is still where it was put.
 * @see docs/rules/stock.md S-11
 */
export function decideCorrect(
  command: { readonly corrects: string; readonly reason: string },
  state: StockState & { readonly earlier: EarlierDocument | undefined },
): StockCorrected {
  const no = new Reasons();
  const { earlier } = state;
  if (!earlier) {
    no.unknown('document-unknown', `no stock document ${command.corrects}`, { pointer: '/corrects' });
    no.throwIfAny();
  }
  const { lot } = begin({ lot: earlier!.lot }, state);
  if (earlier!.correctedSeq !== null) {
    no.conflict('corrected-before', `${command.corrects} was put right by entry ${earlier!.correctedSeq}`, { pointer: '/corrects' });
  }
  if (earlier!.kind === 'StockCorrected') no.conflict('is-correction', `${command.corrects} is itself a correction: record what is true now`, { pointer: '/corrects' });
  for (const moved of earlier!.moved) checkBack(no, lot, moved);
  no.throwIfAny();
  return {
    kind: 'StockCorrected',
    v: 1,
    document: state.document,
    lot: lot.lot,
    reason: command.reason,
    corrects: earlier!.seq,
    correctsDocument: earlier!.document,
    moved: earlier!.moved.map(({ from, to, ...part }) => ({ ...part, from: to, to: from })),
  };
}

function checkBack(no: Reasons, lot: LotState, moved: Movement): void {
  if (moved.to.fate === 'count-difference' && moved.spans === null) return; // a difference of a bulk lot may go either way
  const there = heldAt(lot, moved.to.fate, moved.to.at);
  const missing = moved.spans === null ? moved.quantityMicro > there.quantityMicro : subtractSpans(moved.spans, there.spans ?? []).length > 0;
  if (!missing) return;
  const what = moved.spans === null ? formatQuantity(moved.quantityMicro) : `pieces ${formatSpans(unionSpans(moved.spans, []))}`;
  no.conflict('moved-on', `${what} of ${lot.lot} went on from where the document put them: it cannot be undone`, { lot: lot.lot });
}

