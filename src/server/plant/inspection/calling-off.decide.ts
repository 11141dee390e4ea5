import { Reasons } from '../../../../shared/refusal.js';
import type { Fate } from '../stock/effects.facts.js';
import { type LotState, meets } from '../stock/lot-state.facts.js';
import type { InspectionCalledOff } from './inspection.facts.js';
import type { InspectionState } from './inspection-state.facts.js';
import { checkNotEnded } from './skip.decide.js';

/**
 * Calls off inspections of lots that were booked in error: there is nothing to look at.
 * @see docs/rules/inspection.md IN-36
 */
export const decideCallingOff = (inspections: readonly string[], reason: string): InspectionCalledOff[] =>
  inspections.map((inspection) => ({ kind: 'InspectionCalledOff', v: 1, inspection, reason }));

interface CallingOffState {
  readonly inspection: Pick<InspectionState, 'inspection' | 'state' | 'occasion' | 'spans'>;
  readonly lot: LotState;
}

/** Where nothing comes back from. */
const GONE: ReadonlySet<Fate> = new Set(['scrapped', 'destroyed-in-test', 'returned-to-supplier', 'count-difference']);

/**
 * Takes out of the queue what nobody can or need inspect: all of it is gone for good, or somebody asked for it and it has not begun.
 * What the plan calls for, and is there, is inspected or skipped.
 * @throws Refusal when it has ended, or is still to be done
 * @see docs/rules/inspection.md IN-37
 */
export function decideCallOff({ reason }: { readonly reason: string }, { inspection, lot }: CallingOffState): InspectionCalledOff {
  const no = new Reasons();
  checkNotEnded(no, inspection);
  no.throwIfAny();
  const asked = inspection.occasion === 'request' || inspection.occasion === 'resubmission';
  const there = lot.places.some(({ place, spans }) => !GONE.has(place.fate) && meets(spans, inspection.spans));
  if (there && !(asked && inspection.state === 'waiting')) {
    const why = asked
      ? 'has begun: it gets its verdict'
      : `is called for, and ${lot.lot} is not gone: it is done, or skipped by a signed decision`;
    no.conflict('still-to-inspect', `${inspection.inspection} ${why}`, { inspection: inspection.inspection, lot: lot.lot });
  }
  no.throwIfAny();
  return { kind: 'InspectionCalledOff', v: 1, inspection: inspection.inspection, reason };
}
