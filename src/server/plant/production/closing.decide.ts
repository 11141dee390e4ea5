import { formatQuantity, MICRO } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { countPieces, formatSpans, type SpanSet, subtractSpans, wholeLot } from '../../../../shared/spans.js';
import { addDays } from '../../../../shared/time.js';
import { type LotBorn, type Movement, onHand } from '../stock/effects.facts.js';
import { investigationsOf, yieldFigures } from './balance.decide.js';
import { checkHeel, checkOpen, refuseDeviations } from './charging.decide.js';
import { checkCoverage } from './coverage.decide.js';
import { mixingTime, shortStep, stepStates } from './recipe.decide.js';
import type { Changeover, Deviation, Into, NetWeights, RunClosed } from './run.facts.js';
import { runLinks } from './run-links.decide.js';
import { chargedNet, type RunState } from './run-state.facts.js';

/** What came out, as the operator closes the run. Left out altogether: nothing came out, and nothing may have gone in. */
interface CloseRun {
  readonly finishedAt: string;
  /** Code of the lot made; left out: the next one. */
  readonly lot?: string | undefined;
  /** Of a bulk lot, in millionths of the item's unit. */
  readonly quantityMicro?: number | undefined;
  /** N of a numbered lot, rejected pieces included. */
  readonly pieces?: number | undefined;
  /** Where it is; left out: in the vessel. */
  readonly location?: string | undefined;
  readonly serials?: readonly string[] | undefined;
  readonly rejected?: SpanSet | undefined;
  readonly rejectReason?: string | undefined;
  readonly netWeights?: NetWeights | undefined;
  readonly changeovers: readonly Changeover[];
  readonly fitted: readonly { readonly charge: number; readonly into: readonly Into[] }[];
  readonly deviationReason?: string | undefined;
  readonly note?: string | undefined;
}

export interface ClosingState {
  readonly at: string;
  readonly run: RunState;
  readonly nextLot: string;
  readonly codeTaken: boolean;
  readonly locationKnown: boolean;
  /** Serials made from the item's pattern, as many as there are pieces. */
  readonly generated: readonly string[] | null;
  readonly serialsTaken: readonly string[];
  /** Earliest expiry among what was charged. */
  readonly earliestExpiry: string | null;
}

/**
 * Closes a run: the lot it yielded is born in quarantine, rejected pieces are scrapped, and the genealogy is recorded.
 * @see docs/rules/production.md P-27, P-30 to P-36
 */
export function decideClose(command: CloseRun, state: ClosingState): RunClosed {
  const no = new Reasons();
  const run = withTold(state.run, command);
  checkOpen(no, run);
  if (run.closedSeq === null) checkHeel(no, run);
  checkTimes(no, command, run, state.at);
  const nothing = command.quantityMicro === undefined && command.pieces === undefined;
  if (nothing) return closeEmpty(no, command, run);
  const quantityMicro = checkQuantity(no, command, run);
  checkPlace(no, command, state);
  const unsure = command.pieces === undefined ? [] : checkCoverage(no, run, command.pieces);
  checkNeeded(no, run, quantityMicro);
  checkRejected(no, command);
  checkWeights(no, command);
  const serials = checkSerials(no, command, state);
  const deviations = closingDeviations(run, command);
  if (command.deviationReason === undefined) refuseDeviations(no, deviations, '');
  if (chargedNet(run.charges).length === 0)
    no.conflict('nothing-charged', `nothing was charged to ${run.run}: what would it have been made of?`);
  no.throwIfAny();
  const born = bornOf(command, state, quantityMicro, serials);
  const rejected = command.rejected ?? [];
  const figures = yieldFigures(run, { quantityMicro, rejectedPieces: countPieces(rejected), netWeights: command.netWeights ?? null });
  return {
    kind: 'RunClosed',
    v: 1,
    run: run.run,
    finishedAt: command.finishedAt,
    yields: born.lot,
    location: born.place.at,
    rejected,
    rejectReason: command.rejectReason ?? null,
    netWeights: command.netWeights ?? null,
    figures,
    investigations: investigationsOf(figures),
    deviations,
    deviationReason: deviations.length > 0 ? (command.deviationReason ?? null) : null,
    changeovers: command.changeovers,
    fitted: command.fitted,
    unsure,
    note: command.note,
    born: [born],
    moved: scrapped(born, rejected, run.run),
    linked: runLinks(run, { lot: born.lot, pieces: born.pieces }, command.finishedAt),
  };
}

/** What a closing brought into being, without the pieces that were thrown out as they were made. */
export const yieldedBy = ({ born = [], rejected }: RunClosed): { lot: string; spans: SpanSet | null }[] =>
  born.map(({ lot, pieces }) => ({ lot, spans: pieces === null ? null : subtractSpans(wholeLot(pieces), rejected) }));

/** The run with what the closing itself tells about changeovers and fitted pieces. */
function withTold(run: RunState, command: CloseRun): RunState {
  const charges = run.charges.map((charge) => ({
    ...charge,
    into: [...charge.into, ...command.fitted.filter((one) => one.charge === charge.charge).flatMap((one) => one.into)],
  }));
  return { ...run, charges, changeovers: [...run.changeovers, ...command.changeovers] };
}

function closeEmpty(no: Reasons, command: CloseRun, run: RunState): RunClosed {
  if (chargedNet(run.charges).length > 0) {
    no.malformed('yield-missing', `material was charged to ${run.run}: say what came out, or return what went in`, {
      pointer: run.item.tracking === 'bulk' ? '/quantity' : '/pieces',
    });
  }
  no.throwIfAny();
  return {
    kind: 'RunClosed',
    v: 1,
    run: run.run,
    finishedAt: command.finishedAt,
    yields: null,
    location: null,
    rejected: [],
    rejectReason: null,
    netWeights: null,
    figures: { theoryMicro: null, yieldBp: null, limitsBp: null, mass: null, components: [] },
    investigations: [],
    deviations: [],
    deviationReason: null,
    changeovers: [],
    fitted: [],
    unsure: [],
    note: command.note,
  };
}

/** Nothing is made before its inputs (GE-11). */
function checkTimes(no: Reasons, command: CloseRun, run: RunState, at: string): void {
  const where = { pointer: '/finishedAt' };
  if (command.finishedAt > at) no.conflict('not-yet', `finished at ${command.finishedAt}, which is still to come`, where);
  if (command.finishedAt < run.startedAt)
    no.conflict('before-start', `finished at ${command.finishedAt}, before it began at ${run.startedAt}`, where);
  const last = chargedNet(run.charges)
    .map(({ charge }) => charge.chargedAt)
    .toSorted()
    .at(-1);
  if (last !== undefined && last > command.finishedAt) {
    no.conflict('made-before-inputs', `material was charged at ${last}, after it would have been finished`, where);
  }
}

function checkQuantity(no: Reasons, command: CloseRun, run: RunState): number {
  const { pieces, quantityMicro } = command;
  if (run.item.tracking === 'bulk') {
    if (pieces !== undefined) no.conflict('no-pieces-here', `${run.item.code} is bulk: give a quantity`, { pointer: '/pieces' });
    if (quantityMicro !== undefined && quantityMicro <= 0)
      no.malformed('quantity-not-positive', 'a quantity made is more than nothing', { pointer: '/quantity' });
    if (quantityMicro !== undefined && run.item.unit === 'each' && quantityMicro % MICRO !== 0) {
      no.malformed('not-whole', `${run.item.code} is counted: give a whole number`, { pointer: '/quantity' });
    }
    return quantityMicro ?? 0;
  }
  if (quantityMicro !== undefined)
    no.conflict('pieces-not-quantity', `${run.item.code} comes in pieces: give their number`, { pointer: '/quantity' });
  return (pieces ?? 0) * MICRO;
}

function checkPlace(no: Reasons, command: CloseRun, state: ClosingState): void {
  if (command.location === undefined && state.run.vessel === null) {
    no.malformed('location-missing', 'where is what was made?', { pointer: '/location' });
  }
  if (command.location !== undefined && !state.locationKnown)
    no.unknown('location-unknown', `no location ${command.location}`, { pointer: '/location' });
  if (state.codeTaken) no.conflict('lot-taken', `there is a lot ${command.lot} already`, { pointer: '/lot' });
}

/** Of a component that is counted no piece can have been made without. */
export function checkNeeded(no: Reasons, run: RunState, quantityMicro: number): void {
  for (const { item, chargedMicro, neededMicro } of yieldFigures(run, { quantityMicro, rejectedPieces: 0, netWeights: null }).components) {
    if (chargedMicro === 0 || (run.countedItems.includes(item) && chargedMicro < neededMicro)) {
      no.conflict('component-short', `${formatQuantity(neededMicro)} of ${item} are needed, ${formatQuantity(chargedMicro)} were charged`, {
        item,
      });
    }
  }
}

function checkRejected(no: Reasons, { rejected, rejectReason, pieces }: CloseRun): void {
  if (rejected === undefined) return;
  const outside = subtractSpans(rejected, wholeLot(pieces ?? 0));
  if (outside.length > 0)
    no.conflict('pieces-outside-lot', `there are pieces 1-${pieces ?? 0}, not ${formatSpans(outside)}`, { pointer: '/rejected' });
  if (rejectReason === undefined) no.malformed('reason-missing', 'why were pieces rejected?', { pointer: '/rejectReason' });
}

function checkWeights(no: Reasons, { netWeights, pieces }: CloseRun): void {
  if (!netWeights) return;
  const { count, meanMicro, sdMicro, minMicro, maxMicro } = netWeights;
  if (count > (pieces ?? 0))
    no.conflict('weighed-too-many', `${count} were weighed, ${pieces ?? 0} were made`, { pointer: '/netWeights/count' });
  if (minMicro > meanMicro || meanMicro > maxMicro || minMicro < 0 || sdMicro < 0 || sdMicro > maxMicro - minMicro) {
    no.malformed(
      'weights-impossible',
      'smallest, mean and largest come in that order, and the deviation is no more than between the ends',
      {
        pointer: '/netWeights',
      },
    );
  }
}

function checkSerials(no: Reasons, command: CloseRun, state: ClosingState): readonly string[] | undefined {
  const { item } = state.run;
  if (item.tracking !== 'serial') {
    if (command.serials) no.conflict('no-serials-here', `${item.code} carries no serials`, { pointer: '/serials' });
    return undefined;
  }
  const serials = command.serials ?? state.generated;
  if (serials === null) {
    no.malformed('serials-missing', `${item.code} carries serials and has no pattern for them: give one for each unit`, {
      pointer: '/serials',
    });
    return undefined;
  }
  if (serials.length !== command.pieces)
    no.conflict('serials-missing', `${command.pieces} units, ${serials.length} serials`, { pointer: '/serials' });
  for (const serial of state.serialsTaken)
    no.conflict('serial-taken', `${item.code} with serial ${serial} exists already`, { pointer: '/serials', serial });
  if (new Set(serials).size !== serials.length) no.conflict('serial-taken', 'a serial is named twice', { pointer: '/serials' });
  return serials;
}

/** Steps that never had their quantity, and a last step that has not mixed for its time. */
function closingDeviations(run: RunState, command: CloseRun): Deviation[] {
  if (run.recipe === null) return [];
  const steps = stepStates(run.recipe, run.plannedMicro, run.charges);
  const early = mixingTime(steps, run.charges, null, command.finishedAt);
  return [...steps.filter((step) => step.chargedMicro < step.lowMicro).map(shortStep), ...(early ? [early] : [])];
}

function bornOf(command: CloseRun, state: ClosingState, quantityMicro: number, serials: readonly string[] | undefined): LotBorn {
  const { run } = state;
  const madeOn = command.finishedAt.slice(0, 10);
  return {
    lot: command.lot ?? state.nextLot,
    item: run.item.code,
    itemRevision: run.item.revision,
    unit: run.item.unit,
    pieces: command.pieces ?? null,
    quantityMicro,
    origin: 'made',
    bornAt: command.finishedAt,
    place: onHand(command.location ?? run.vessel!),
    status: 'quarantine',
    madeOn,
    expiresOn: expiryOf(run, madeOn, state.earliestExpiry),
    source: run.run,
    serials,
  };
}

/** Made anew it lives by its own shelf life; packed again or reworked it is no younger than what went in. */
function expiryOf(run: RunState, madeOn: string, earliest: string | null): string | undefined {
  const own = run.item.shelfLifeDays === undefined ? undefined : addDays(madeOn, run.item.shelfLifeDays);
  if ((run.kind !== 'repacking' && run.kind !== 'rework') || earliest === null) return own;
  return own === undefined || earliest < own ? earliest : own;
}

function scrapped(born: LotBorn, rejected: SpanSet, run: string): Movement[] {
  if (rejected.length === 0) return [];
  const to = { fate: 'scrapped', at: run } as const;
  return [{ lot: born.lot, spans: rejected, quantityMicro: countPieces(rejected) * MICRO, from: born.place, to }];
}
