import type { SpanSet } from '../../../../shared/spans.js';
import type { Revised } from '../catalogue/catalogue.facts.js';
import type { InspectionPlan } from '../catalogue/inspection-plan.facts.js';
import type { InspectedItem, Measured, Occasion, SamplePlan, Verdict } from './inspection.facts.js';

/** What one inspector wrote down and nobody took back. */
export interface StandingTally {
  readonly sample: 1 | 2;
  readonly conforming: number;
  readonly items: readonly InspectedItem[];
}

/** A test of the lot as a whole that no later one follows. */
export interface StandingResult {
  readonly result: number;
  readonly measured: Measured;
}

/** An inspection as a decision sees it. */
export interface InspectionState {
  readonly inspection: string;
  readonly lot: string;
  readonly item: string;
  readonly spans: SpanSet | null;
  readonly lotSize: number | null;
  readonly occasion: Occasion;
  readonly supplier: string | null;
  readonly state: 'waiting' | 'begun' | 'decided' | 'skipped' | 'called-off';
  readonly verdict: Verdict | null;
  readonly sample: SamplePlan | null;
  /** The revision the inspection was opened with. */
  readonly plan: Revised<InspectionPlan>;
  /** Tallies that nobody took back, with their numbers. */
  readonly tallies: readonly (StandingTally & { readonly tally: number; readonly by: string })[];
  /** How many tallies were ever written down, taken back or not. */
  readonly talliesEver: number;
  /** Results of the lot that no retest follows. */
  readonly results: readonly StandingResult[];
  readonly resultsEver: number;
}
