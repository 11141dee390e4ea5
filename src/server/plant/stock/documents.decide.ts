import { Reasons } from '../../../../shared/refusal.js';
import type { Location, Revised } from '../catalogue/catalogue.facts.js';
import type { DestroyedInTest, ReturnedToSupplier, SampleRetained, SampleTakenBack, StockMoved, StockScrapped } from './documents.facts.js';
import { type Movement, onHand, type Place } from './effects.facts.js';
import type { LotState } from './lot-state.facts.js';
import { checkThere, type PartAsked, settlePart, takeFrom } from './part.decide.js';

/** What every stock document rests on. */
export interface StockState {
  readonly document: string;
  readonly lot: LotState | undefined;
  readonly on: string;
  /** Locations named, by code; vessels are places too. */
  readonly places: ReadonlyMap<string, Revised<Location> | 'vessel'>;
}

interface TakePart extends PartAsked {
  readonly lot: string;
  /** Location or vessel it is taken from; left out: wherever it is on hand. */
  readonly from?: string | undefined;
  readonly reason: string;
}

/** The lot, or the refusal that there is none. */
export function begin(command: { readonly lot: string }, state: StockState): { no: Reasons; lot: LotState } {
  const no = new Reasons();
  if (state.lot) return { no, lot: state.lot };
  no.unknown('lot-unknown', `no lot ${command.lot}`, { pointer: '/lot', lot: command.lot });
  no.throwIfAny();
  throw new Error('unreachable');
}

/** What stands at a location: at one for retain samples, samples; anywhere else, stock. */
export function fateAt(state: StockState, code: string | undefined): 'retained' | 'on-hand' {
  const place = code === undefined ? undefined : state.places.get(code);
  return place !== undefined && place !== 'vessel' && place.use === 'retain' ? 'retained' : 'on-hand';
}

/** Settles what is taken, from stock or from the retain samples of the place it is taken from, and moves it to `to`. */
function take(no: Reasons, lot: LotState, command: TakePart, state: StockState, to: Place): Movement[] {
  const part = settlePart(no, lot, command);
  const from = { fate: fateAt(state, command.from), at: command.from };
  if (part) checkThere(no, lot, part, from);
  no.throwIfAny();
  return takeFrom(lot, part!, from, to);
}

/** The place of that code; adds a reason if there is none. */
export function checkPlace(no: Reasons, state: StockState, code: string, pointer: string): Revised<Location> | 'vessel' | undefined {
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
  if (to === 'vessel' && lot.pieces !== null)
    no.conflict('pieces-in-vessel', `numbered pieces do not go into vessel ${command.to}`, { pointer: '/to' });
  if (to === 'vessel') no.conflict('charge-instead', `what goes into vessel ${command.to} is charged to a run`, { pointer: '/to' });
  if (fateAt(state, command.to) === 'retained') {
    no.conflict('retain-instead', `${command.to} is for retain samples: record what is kept there as one`, { pointer: '/to' });
  }
  if (fateAt(state, command.from) === 'retained') {
    no.conflict('take-back-instead', `what is kept at ${command.from} is a retain sample: take it back`, { pointer: '/from' });
  }
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
  if (checkPlace(no, state, command.to, '/to') === 'vessel') {
    no.conflict('charge-instead', `what goes into vessel ${command.to} is charged to a run`, { pointer: '/to' });
  }
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
  return {
    kind: 'DestroyedInTest',
    v: 1,
    document: state.document,
    lot: lot.lot,
    reason: command.reason,
    evidence: command.evidence,
    moved,
  };
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
