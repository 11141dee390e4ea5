import { Reasons } from '../../../../shared/refusal.js';
import { countPieces, type Span, type SpanSet } from '../../../../shared/spans.js';
import type { Item, Revised } from '../catalogue/catalogue.facts.js';
import type { Movement, PieceMap, Unit } from '../stock/effects.facts.js';
import type { LotState } from '../stock/lot-state.facts.js';
import { type Part, settlePart } from '../stock/part.decide.js';
import { takeOnHand } from '../stock/take.decide.js';
import { checkUsable } from '../stock/usable.decide.js';
import { chargedMass, inLotUnit } from './charge-mass.decide.js';
import { recipeDeviations, stepFor, stepStates } from './recipe.decide.js';
import type { Changeover, Charge, Conversion, Deviation, Into, RunCharged } from './run.facts.js';
import { asCharged, type ChargeState, type RunState } from './run-state.facts.js';
import { withoutMoved } from './taken.decide.js';

/** One charge as the operator gives it; quantities in millionths of `unit`, or of the lot's unit. */
export interface AskCharge {
  readonly lot: string;
  readonly spans?: SpanSet | undefined;
  readonly quantityMicro?: number | undefined;
  readonly unit?: Unit | undefined;
  readonly step?: number | undefined;
  readonly chargedAt: string;
  readonly by: string;
  /** Location or vessel it is taken from; left out: wherever it is. */
  readonly from?: string | undefined;
  /** Piece of the lot being made from which this lot is in use: a changeover. */
  readonly fromPiece?: number | undefined;
  /** Pieces of the lot being made that it went into, k-th into k-th or any into any. */
  readonly into?: readonly Into[] | undefined;
  readonly intoPieces?: SpanSet | undefined;
  readonly map?: PieceMap | undefined;
  readonly massMicro?: number | undefined;
  readonly deviationReason?: string | undefined;
  readonly heel?: boolean | undefined;
}

export interface ChargingState {
  readonly at: string;
  readonly run: RunState;
  readonly lots: ReadonlyMap<string, LotState>;
  readonly items: ReadonlyMap<string, Revised<Item>>;
}

/**
 * Charges lots into a run. All or nothing: one bad charge refuses them all, with every reason.
 * @see docs/rules/production.md P-5 to P-15
 */
export function decideCharge(asks: readonly AskCharge[], state: ChargingState): RunCharged {
  const no = new Reasons();
  checkOpen(no, state.run);
  checkHeel(no, state.run);
  const charged = chargeAll(no, asks, state);
  no.throwIfAny();
  return charged;
}

/**
 * Charges all that the run's vessel still holds as heel.
 * @see docs/rules/production.md P-16
 */
export function decideHeel(
  asked: { readonly chargedAt: string; readonly by: string; readonly deviationReason?: string | undefined },
  state: ChargingState,
): RunCharged {
  const no = new Reasons();
  checkOpen(no, state.run);
  if (state.run.heel.length === 0)
    no.conflict('no-heel', `nothing is left in ${state.run.vessel ?? 'a vessel of this run'}`, { run: state.run.run });
  const asks = state.run.heel.map((part): AskCharge => ({
    ...asked,
    lot: part.lot,
    from: state.run.vessel!,
    heel: true,
    ...(part.spans === null ? { quantityMicro: part.quantityMicro } : { spans: part.spans }),
  }));
  const charged = chargeAll(no, asks, state);
  no.throwIfAny();
  return charged;
}

export function checkOpen(no: Reasons, run: RunState): void {
  if (run.closedSeq !== null) no.conflict('run-closed', `${run.run} is closed: put its record right by a correction`, { run: run.run });
}

/** What is left in the vessel goes into whatever comes after: it is charged first, or taken out. */
export function checkHeel(no: Reasons, run: RunState): void {
  if (run.heel.length === 0) return;
  const held = run.heel.map((part) => part.lot).join(', ');
  no.conflict('heel-open', `${run.vessel} still holds ${held}: charge it as heel, or empty the vessel first`, { vessel: run.vessel });
}

/** Works the charges out one after the other, each on what the ones before it left. Adds every reason to `no`. */
export function chargeAll(no: Reasons, asks: readonly AskCharge[], state: ChargingState): RunCharged {
  const charges: ChargeState[] = [...state.run.charges];
  const lots = new Map(state.lots);
  const made: Charge[] = [];
  const moved: Movement[] = [];
  const changeovers: Changeover[] = [];
  asks.forEach((ask, i) => {
    const pointer = ask.heel ? '' : `/charges/${i}`;
    const lot = lots.get(ask.lot);
    if (!lot) return no.unknown('lot-unknown', `no lot ${ask.lot}`, { pointer: `${pointer}/lot`, lot: ask.lot });
    const one = chargeOne(no, ask, { ...state, run: { ...state.run, charges } }, lot, pointer);
    if (one === null) return undefined;
    charges.push(asCharged(one.charge));
    made.push(one.charge);
    moved.push(...one.moved);
    if (ask.fromPiece !== undefined) {
      changeovers.push({ item: lot.item, lot: lot.lot, fromPiece: ask.fromPiece, changedAt: ask.chargedAt });
    }
    lots.set(lot.lot, withoutMoved(lot, one.moved));
    return undefined;
  });
  return { kind: 'RunCharged', v: 1, run: state.run.run, charges: made, changeovers, moved };
}

function chargeOne(
  no: Reasons,
  ask: AskCharge,
  state: ChargingState,
  lot: LotState,
  pointer: string,
): { charge: Charge; moved: Movement[] } | null {
  const item = state.items.get(lot.item);
  if (!item) throw new Error(`lot ${lot.lot} is of an item that the catalogue does not know`);
  const settled = settle(no, ask, lot, item, pointer);
  checkTime(no, ask, state, lot, pointer);
  const into = settled && settleInto(no, ask, state.run, settled.part, pointer);
  if (!settled || !into) return null;
  const { part, conversion } = settled;
  const use = {
    spans: part.spans,
    quantityMicro: part.quantityMicro,
    on: ask.chargedAt.slice(0, 10),
    from: ask.from,
    rework: state.run.kind === 'rework',
  };
  const urgentReleases = checkUsable(no, lot, use);
  const massMicro = chargedMass(no, { item, ...part, givenMicro: ask.massMicro }, state.run.item, `${pointer}/mass`);
  const step = stepOf(ask, state.run, lot.item);
  const deviations = deviationsOf(ask, state.run, lot.item, step, part.quantityMicro);
  if (ask.deviationReason === undefined) refuseDeviations(no, deviations, pointer);
  const moved = takeOnHand(lot, use, { fate: 'consumed', at: state.run.run });
  const charge: Charge = {
    charge: state.run.charges.length + 1,
    step,
    lot: lot.lot,
    item: lot.item,
    spans: part.spans,
    quantityMicro: part.quantityMicro,
    massMicro,
    chargedAt: ask.chargedAt,
    by: ask.by,
    heel: ask.heel ?? false,
    into,
    deviations,
    deviationReason: deviations.length > 0 ? (ask.deviationReason ?? null) : null,
    urgentReleases,
    conversion,
    takenFrom: moved[0]?.from.at ?? '',
  };
  return { charge, moved };
}

const DEVIATION = {
  order: { code: 'deviation-order' },
  'step-short': { code: 'deviation-step-short' },
  'above-tolerance': { code: 'deviation-above-tolerance' },
  'mixing-time': { code: 'deviation-mixing-time' },
  'not-in-recipe': { code: 'deviation-not-in-recipe' },
  'not-in-bom': { code: 'deviation-not-in-bom' },
  'heel-of-other-item': { code: 'deviation-heel-of-other-item' },
} as const;

/** A deviation is never silently allowed: without a reason it refuses, with one it is recorded beside it. */
export function refuseDeviations(no: Reasons, deviations: readonly Deviation[], pointer: string): void {
  for (const { what, detail } of deviations) {
    no.conflict(DEVIATION[what].code, `${detail}; give a reason to record the deviation`, { pointer: `${pointer}/deviationReason` });
  }
}

function settle(
  no: Reasons,
  ask: AskCharge,
  lot: LotState,
  item: Item,
  pointer: string,
): { part: Part; conversion: Conversion | null } | null {
  if (ask.quantityMicro === undefined) {
    const part = settlePart(no, lot, { spans: ask.spans }, pointer);
    return part && { part, conversion: null };
  }
  const given = inLotUnit(no, lot, item, { quantityMicro: ask.quantityMicro, unit: ask.unit }, `${pointer}/unit`);
  const part = given && settlePart(no, lot, { spans: ask.spans, quantityMicro: given.quantityMicro }, pointer);
  return part && { part, conversion: given.conversion };
}

/** A charge may be recorded late, never ahead, and nothing goes in before it was there (GE-11). */
function checkTime(no: Reasons, ask: AskCharge, { run, at }: ChargingState, lot: LotState, pointer: string): void {
  const where = { pointer: `${pointer}/chargedAt` };
  if (ask.chargedAt > at) no.conflict('not-yet', `charged at ${ask.chargedAt}, which is still to come`, where);
  if (ask.chargedAt < run.startedAt)
    no.conflict('before-start', `charged at ${ask.chargedAt}, before ${run.run} began at ${run.startedAt}`, where);
  if (run.finishedAt !== null && ask.chargedAt > run.finishedAt) {
    no.conflict('after-finish', `charged at ${ask.chargedAt}, after ${run.run} was finished at ${run.finishedAt}`, where);
  }
  if (ask.chargedAt < lot.bornAt)
    no.conflict('used-before-made', `${lot.lot} came into being at ${lot.bornAt}, after it would have been charged`, where);
}

/** Which pieces of the lot being made it went into, where the operator tells. */
function settleInto(no: Reasons, ask: AskCharge, run: RunState, part: Part, pointer: string): readonly Into[] | null {
  const numbered = run.item.tracking !== 'bulk';
  const told = ask.into !== undefined || ask.intoPieces !== undefined;
  if (!numbered && (told || ask.fromPiece !== undefined)) {
    no.conflict('no-pieces-made', `${run.run} makes ${run.item.code}, which has no pieces`, { pointer });
    return null;
  }
  if (ask.into !== undefined) return ask.into;
  if (ask.intoPieces === undefined) return [];
  return pairUp(no, part.spans, ask.intoPieces, ask.map ?? 'all', `${pointer}/intoPieces`);
}

/** Pairs the pieces taken with the pieces made: each with each of its place in order, or any with any. */
export function pairUp(no: Reasons, from: SpanSet | null, to: SpanSet, map: PieceMap, pointer: string): readonly Into[] | null {
  if (from === null && map === 'all') return to.map((toSpan): Into => ({ fromSpan: null, toSpan, map: 'all' }));
  if (from === null || (map === 'each' && countPieces(from) !== countPieces(to))) {
    const detail =
      from === null ? 'a bulk lot cannot go piece by piece' : `${countPieces(from)} pieces cannot go one by one into ${countPieces(to)}`;
    no.conflict('unequal-pieces', detail, { pointer });
    return null;
  }
  if (map === 'all') return from.flatMap((fromSpan) => to.map((toSpan): Into => ({ fromSpan, toSpan, map: 'all' })));
  return zip(from, to);
}

function zip(from: SpanSet, to: SpanSet): Into[] {
  const pairs: Into[] = [];
  let [i, j] = [0, 0];
  let [f, t]: [Span | undefined, Span | undefined] = [from[0], to[0]];
  while (f && t) {
    const length = Math.min(f[1] - f[0], t[1] - t[0]);
    pairs.push({ fromSpan: [f[0], f[0] + length], toSpan: [t[0], t[0] + length], map: 'each' });
    f = f[0] + length === f[1] ? from[++i] : [f[0] + length + 1, f[1]];
    t = t[0] + length === t[1] ? to[++j] : [t[0] + length + 1, t[1]];
  }
  return pairs;
}

function stepOf(ask: AskCharge, run: RunState, item: string): number | null {
  if (run.recipe === null || ask.heel) return null;
  if (ask.step !== undefined && run.recipe.steps[ask.step - 1]?.item === item) return ask.step;
  return stepFor(stepStates(run.recipe, run.plannedMicro, run.charges), item);
}

function deviationsOf(ask: AskCharge, run: RunState, item: string, step: number | null, quantityMicro: number): Deviation[] {
  if (ask.heel) {
    if (item === run.item.code) return [];
    return [{ what: 'heel-of-other-item', detail: `the heel is ${item}, the batch is ${run.item.code}` }];
  }
  if (run.recipe !== null) {
    const steps = stepStates(run.recipe, run.plannedMicro, run.charges);
    return recipeDeviations(steps, run.charges, { step, item, quantityMicro, chargedAt: ask.chargedAt });
  }
  if (run.bom === null || run.bom.lines.some((line) => line.item === item)) return [];
  return [{ what: 'not-in-bom', detail: `${item} is not in ${run.bom.code}` }];
}
