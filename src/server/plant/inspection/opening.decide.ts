import { MICRO } from '../../../../shared/quantity.js';
import { countPieces, type SpanSet } from '../../../../shared/spans.js';
import type { Revised } from '../catalogue/catalogue.facts.js';
import type { InspectionPlan } from '../catalogue/inspection-plan.facts.js';
import type { Unit } from '../stock/effects.facts.js';
import type { InspectionOpened, Occasion } from './inspection.facts.js';

/** A lot, or the pieces of it that are there, as far as opening an inspection looks at it. */
export interface ToInspect {
  readonly lot: string;
  readonly item: string;
  readonly unit: Unit;
  /** Null for a bulk lot. */
  readonly spans: SpanSet | null;
  readonly quantityMicro: number;
  readonly supplier: string | null;
  /** Containers of a bulk delivery: what a sample can be drawn from. */
  readonly containers: number | null;
}

export interface OpeningState {
  readonly parts: readonly ToInspect[];
  /** Inspection plans as they stand, by item. */
  readonly plans: ReadonlyMap<string, Revised<InspectionPlan>>;
  /** A free number for each part. */
  readonly numbers: readonly string[];
  readonly occasion: 'delivery' | 'run' | 'return';
  readonly source: string;
}

/**
 * The inspections that the plans of the items call for: one a lot, at its plan's revision of this moment.
 * @see docs/rules/inspection.md IN-1, IN-2
 */
export function decideOpenings(state: OpeningState): InspectionOpened[] {
  const called = state.parts.filter((part) => state.plans.get(part.item)?.occasions.includes(state.occasion));
  return called.map((part, i) => opened(part, state.plans.get(part.item)!, state.numbers[i]!, state.occasion, { source: state.source }));
}

/** One inspection of a part, by the plan of its item as it stands. */
export function opened(
  part: ToInspect,
  plan: Revised<InspectionPlan>,
  inspection: string,
  occasion: Occasion,
  more: Partial<Pick<InspectionOpened, 'source' | 'resubmits' | 'reason'>>,
): InspectionOpened {
  return {
    kind: 'InspectionOpened',
    v: 1,
    inspection,
    lot: part.lot,
    item: part.item,
    spans: part.spans,
    lotSize: lotSizeOf(part),
    occasion,
    source: null,
    supplier: part.supplier,
    planRevision: plan.revision,
    resubmits: null,
    reason: null,
    ...more,
  };
}

/** Items a sample can be drawn from: pieces, what is counted, or the containers it came in; null where nothing says. */
const lotSizeOf = (part: ToInspect): number | null => {
  if (part.spans !== null) return countPieces(part.spans);
  return part.unit === 'each' ? part.quantityMicro / MICRO : part.containers;
};
