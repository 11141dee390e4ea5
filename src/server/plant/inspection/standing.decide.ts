import { intersectSpans, type SpanSet, subtractSpans } from '../../../../shared/spans.js';
import type { Verdict } from './inspection.facts.js';
import type { InspectionState } from './inspection-state.facts.js';

/** An inspection of a lot, as far as it speaks for pieces of it. */
export interface LotInspection {
  readonly inspection: string;
  /** Null: a bulk lot as a whole. */
  readonly spans: SpanSet | null;
  readonly state: InspectionState['state'];
  readonly verdict: Verdict | null;
}

/** An inspection that still speaks for pieces of a lot. */
export interface Standing extends LotInspection {
  /** The pieces it speaks for, of those asked about; null for a bulk lot. */
  readonly of: SpanSet | null;
}

/**
 * The inspections that speak for pieces of a lot: for each piece the one opened last. What was called off speaks for nothing, and one
 * whose every piece was inspected again later speaks no more.
 * @param inspections all of the lot, in the order they were opened
 * @param wanted pieces asked about; null for a bulk lot
 * @returns newest first
 * @see docs/rules/inspection.md IN-32
 */
export function standingOver(inspections: readonly LotInspection[], wanted: SpanSet | null): Standing[] {
  const standing: Standing[] = [];
  let left: SpanSet | null = wanted;
  for (const one of inspections.filter(({ state }) => state !== 'called-off').toReversed()) {
    const of: SpanSet | null = left === null ? one.spans : one.spans === null ? left : intersectSpans(left, one.spans);
    if (of !== null && of.length === 0) continue;
    standing.push({ ...one, of });
    left = left === null || one.spans === null ? [] : subtractSpans(left, one.spans);
  }
  return standing;
}
