import { Reasons } from '../../../../shared/refusal.js';
import { decideOpenUrgent, type UrgentState } from '../holds/holds.decide.js';
import type { UrgentReleaseOpened } from '../holds/holds.facts.js';
import type { Signature } from '../people/signature.js';
import { notIn, wholeOf } from '../stock/lot-state.facts.js';
import type { InspectionMadeUrgent, InspectionSkipped } from './inspection.facts.js';
import type { InspectionState } from './inspection-state.facts.js';
import { judge } from './judge.decide.js';

interface SkipState {
  readonly inspection: InspectionState;
  /** What the urgent release that comes with it rests on. */
  readonly urgent: UrgentState;
}

/**
 * Lets a lot go on without the inspection that its plan calls for: it, and all made from it, stays marked by an urgent release until
 * that is closed.
 * @throws Refusal when the inspection has ended, what was found so far is not accepted, or the urgent release may not be given
 * @see docs/rules/inspection.md IN-33, IN-34
 */
export function decideSkip(
  { reason }: { readonly reason: string },
  { inspection, urgent }: SkipState,
  signature: Signature,
): readonly [InspectionSkipped, UrgentReleaseOpened] {
  const no = new Reasons();
  checkNotEnded(no, inspection);
  no.throwIfAny();
  if (judge({ ...inspection, characteristics: inspection.plan.characteristics }).verdict === 'not-accepted') {
    const detail = `what ${inspection.inspection} found so far is not accepted by its plan: give the verdict`;
    no.conflict('found-already', detail, { inspection: inspection.inspection });
  }
  const { lot } = urgent;
  if (lot && notIn(lot, 'released', inspection.spans ?? wholeOf(lot)) === null) {
    no.conflict('nothing-to-set-aside', `${lot.lot} is released: it goes on without an urgent release`, { lot: lot.lot });
  }
  no.throwIfAny();
  const command = { lot: inspection.lot, pieces: inspection.spans ?? undefined, setsAside: ['quarantine'] as const, reason };
  const release = decideOpenUrgent(command, urgent, signature);
  const { urgentRelease } = release;
  return [{ kind: 'InspectionSkipped', v: 1, inspection: inspection.inspection, urgentRelease, reason, signature }, release];
}

/** An inspection as far as what can still be decided about it goes. */
type Open = Pick<InspectionState, 'inspection' | 'state'>;

/**
 * Puts an inspection before older ones.
 * @throws Refusal when it has ended
 * @see docs/rules/inspection.md IN-35
 */
export function decideUrgency({ reason }: { readonly reason: string }, inspection: Open): InspectionMadeUrgent {
  const no = new Reasons();
  checkNotEnded(no, inspection);
  no.throwIfAny();
  return { kind: 'InspectionMadeUrgent', v: 1, inspection: inspection.inspection, reason };
}

/** Refuses what an inspection that has ended cannot take. */
export function checkNotEnded(no: Reasons, { inspection, state }: Open): void {
  if (state === 'waiting' || state === 'begun') return;
  no.conflict('inspection-ended', `${inspection} is ${state.replace('-', ' ')} already`, { inspection, state });
}
