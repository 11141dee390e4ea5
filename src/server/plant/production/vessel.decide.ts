import { Reasons } from '../../../../shared/refusal.js';
import { type LinkGroup, type Movement, onHand } from '../stock/effects.facts.js';
import type { LotState } from '../stock/lot-state.facts.js';
import { type Part, settlePart, takeFrom } from '../stock/part.decide.js';
import { checkThere } from '../stock/part.decide.js';
import { checkOpen } from './charging.decide.js';
import type { Residue } from './run.facts.js';
import type { RunState, VesselPart } from './run-state.facts.js';
import type { BatchTransferred, RunTransferred, VesselCleaned, VesselEmptied } from './vessel.facts.js';

/** A vessel as a decision sees it. */
export interface VesselState {
  readonly vessel: string;
  readonly known: boolean;
  readonly at: string;
  /** What is on hand in it. */
  readonly content: readonly VesselPart[];
  /** The run that is open in it. */
  readonly openRun: string | null;
  /** The last batch that was in it since it was last cleaned, if any. */
  readonly lastBatch: string | null;
  /** When the last batch came into it; what is done to the vessel cannot have been before. */
  readonly lastAt: string | null;
  /** The lots of `content`, as rule 4 sees them. */
  readonly lots: ReadonlyMap<string, LotState>;
}

/** What clings to a vessel that holds nothing any more but was not cleaned. @see docs/rules/production.md P-18 */
const residuesOf = (vessel: VesselState): readonly Residue[] =>
  vessel.lastBatch === null ? [] : [{ lot: vessel.lastBatch, vessel: vessel.vessel }];

function begin(state: VesselState, doneAt: string): Reasons {
  const no = new Reasons();
  if (!state.known) no.unknown('vessel-unknown', `no vessel ${state.vessel}`, { vessel: state.vessel });
  if (doneAt > state.at) no.conflict('not-yet', `${doneAt} is still to come`, { pointer: '/at' });
  if (state.lastAt !== null && doneAt < state.lastAt) {
    no.conflict('before-batch', `${state.vessel} got its last batch at ${state.lastAt}, after that`, { pointer: '/at' });
  }
  return no;
}

function checkIdle(no: Reasons, state: VesselState): void {
  if (state.openRun !== null) no.conflict('place-busy', `${state.openRun} is still running in ${state.vessel}`, { run: state.openRun });
}

/**
 * Empties a vessel: all it holds is scrapped, or put elsewhere.
 * @see docs/rules/production.md P-17
 */
export function decideEmptied(
  asked: { readonly emptiedAt: string; readonly location?: string | undefined; readonly reason: string },
  state: VesselState,
  locationKnown: boolean,
): VesselEmptied {
  const no = begin(state, asked.emptiedAt);
  if (asked.location !== undefined && !locationKnown)
    no.unknown('location-unknown', `no location ${asked.location}`, { pointer: '/location' });
  for (const { lot } of state.content) {
    for (const hold of asked.location === undefined ? state.lots.get(lot)!.holds : []) {
      no.conflict('lot-held', `${lot} is on hold ${hold.hold}: put it elsewhere, it cannot be scrapped like this`, {
        lot,
        hold: hold.hold,
      });
    }
  }
  no.throwIfAny();
  const to = asked.location === undefined ? ({ fate: 'scrapped', at: state.vessel } as const) : onHand(asked.location);
  const moved = state.content.map((part): Movement => ({
    lot: part.lot,
    spans: part.spans,
    quantityMicro: part.quantityMicro,
    from: onHand(state.vessel),
    to,
  }));
  return {
    kind: 'VesselEmptied',
    v: 1,
    vessel: state.vessel,
    emptiedAt: asked.emptiedAt,
    location: asked.location ?? null,
    reason: asked.reason,
    moved,
  };
}

/**
 * Records a cleaning. Only an empty vessel can be cleaned.
 * @see docs/rules/production.md P-19
 */
export function decideCleaned(asked: { readonly cleanedAt: string; readonly method: string }, state: VesselState): VesselCleaned {
  const no = begin(state, asked.cleanedAt);
  checkIdle(no, state);
  for (const { lot } of state.content) no.conflict('vessel-not-empty', `${state.vessel} still holds ${lot}: empty it first`, { lot });
  no.throwIfAny();
  return { kind: 'VesselCleaned', v: 1, vessel: state.vessel, cleanedAt: asked.cleanedAt, method: asked.method };
}

/** Whether a batch may come into the vessel: known, idle and empty. */
function checkTakes(no: Reasons, to: VesselState): void {
  if (!to.known) no.unknown('vessel-unknown', `no vessel ${to.vessel}`, { pointer: '/to' });
  checkIdle(no, to);
  for (const { lot } of to.content) {
    no.conflict('vessel-not-empty', `${to.vessel} holds ${lot}: two batches in one vessel are a batch of their own, mix them in a run`, {
      lot,
    });
  }
}

/**
 * A running batch goes on in another vessel.
 * @see docs/rules/production.md P-28
 */
export function decideRunTransfer(transferredAt: string, run: RunState, to: VesselState): RunTransferred {
  const no = new Reasons();
  checkOpen(no, run);
  if (run.vessel === null) no.conflict('no-vessel', `${run.run} is in no vessel`, { run: run.run });
  if (run.heel.length > 0)
    no.conflict('heel-open', `${run.vessel} still holds an earlier batch: charge it as heel first`, { run: run.run });
  if (transferredAt > to.at) no.conflict('not-yet', `${transferredAt} is still to come`, { pointer: '/at' });
  if (transferredAt < run.startedAt) no.conflict('before-start', `${run.run} began at ${run.startedAt}, after that`, { pointer: '/at' });
  checkTakes(no, to);
  no.throwIfAny();
  return { kind: 'RunTransferred', v: 1, run: run.run, leaves: run.vessel!, vessel: to.vessel, transferredAt, residues: residuesOf(to) };
}

/**
 * Pumps a batch, or part of it, into another vessel. What clung to that vessel goes into the batch, and the record says so.
 * @see docs/rules/production.md P-28, P-29
 */
export function decideBatchTransfer(
  asked: { readonly lot: string; readonly quantityMicro?: number | undefined; readonly transferredAt: string },
  from: VesselState,
  to: VesselState,
): BatchTransferred {
  const no = begin(from, asked.transferredAt);
  checkTakes(no, to);
  const lot = from.lots.get(asked.lot);
  const there = from.content.find((part) => part.lot === asked.lot);
  if (!lot || !there) no.conflict('not-in-vessel', `${asked.lot} is not in ${from.vessel}`, { pointer: '/lot', lot: asked.lot });
  no.throwIfAny();
  const whole: Part = { spans: there!.spans, quantityMicro: there!.quantityMicro };
  const part = asked.quantityMicro === undefined ? whole : settlePart(no, lot!, { quantityMicro: asked.quantityMicro });
  if (part) checkThere(no, lot!, part, { fate: 'on-hand', at: from.vessel });
  no.throwIfAny();
  return {
    kind: 'BatchTransferred',
    v: 1,
    lot: asked.lot,
    leaves: from.vessel,
    vessel: to.vessel,
    transferredAt: asked.transferredAt,
    moved: takeFrom(lot!, part!, { fate: 'on-hand', at: from.vessel }, onHand(to.vessel)),
    linked: clinging(to, lot!, asked.transferredAt),
  };
}

function clinging(to: VesselState, lot: LotState, at: string): LinkGroup[] {
  const links = residuesOf(to)
    .filter((residue) => residue.lot !== lot.lot)
    .map((residue) => ({
      from: residue.lot,
      fromSpan: null,
      to: lot.lot,
      toSpan: null,
      quantityMicro: 0,
      massMicro: 0,
      map: 'all' as const,
    }));
  return links.length === 0 ? [] : [{ run: lot.source, kind: 'mixing', at, links }];
}
