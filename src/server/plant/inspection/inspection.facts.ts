import type { SpanSet } from '../../../../shared/spans.js';
import type { DoublePlan, SinglePlan } from '../../../../shared/sampling/plan.js';
import type { Figure } from '../../../../shared/measuring/computed.js';
import type { SwitchingDecision, SwitchingReason, SwitchingState } from '../../../../shared/sampling/switching.js';
import type { SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { Signature } from '../people/signature.js';
import type { PlantFact } from '../stock/effects.facts.js';

/** What an inspection was opened for. Only the first three open by themselves, and only `delivery` and `run` count for switching. */
export const OCCASIONS = ['delivery', 'run', 'return', 'resubmission', 'request'] as const;
export type Occasion = (typeof OCCASIONS)[number];

/** A lot, or pieces of it, waits to be inspected by the plan of its item as it stood then. */
export type InspectionOpened = PlantFact & {
  readonly kind: 'InspectionOpened';
  readonly v: 1;
  readonly inspection: string;
  readonly lot: string;
  readonly item: string;
  /** Null: a bulk lot as a whole. */
  readonly spans: SpanSet | null;
  /** Items the lot consists of: pieces, or containers of a bulk delivery; null where the inspector has to say. */
  readonly lotSize: number | null;
  readonly occasion: Occasion;
  /** Delivery, run or return it was opened for; null when somebody asked for it. */
  readonly source: string | null;
  /** Null: made here. */
  readonly supplier: string | null;
  readonly planRevision: number;
  /** The inspection it follows after sorting or rework. */
  readonly resubmits: string | null;
  readonly reason: string | null;
};

/** The sampling plan one class of nonconformity is judged by. */
export interface ClassPlan {
  readonly class: 'major' | 'minor';
  readonly aql: string;
  readonly severity: 'normal' | 'tightened' | 'reduced';
  /** The plan in use: read in the row whose sample serves every class. */
  readonly plan: SinglePlan | DoublePlan;
  /** Why it is this plan: arrows followed, the larger sample of another class. */
  readonly because: readonly string[];
  /** What of it no readable source confirms; null when all of it is. */
  readonly unverified: string | null;
}

/** What is taken and how it is judged: fixed when the inspection begins, kept with its result (21 CFR 820.250(b)). */
export interface SamplePlan {
  readonly edition: string;
  readonly level: string;
  readonly type: 'single' | 'double';
  readonly basis: 'items' | 'nonconformities';
  readonly codeLetter: string;
  /** Items in the first (or only) sample, and in the second. */
  readonly sizes: readonly [first: number, second: number | null];
  /** Why every item is inspected; null when a sample is. */
  readonly inspectAllBecause: string | null;
  readonly classes: readonly ClassPlan[];
}

export type InspectionBegun = PlantFact & {
  readonly kind: 'InspectionBegun';
  readonly v: 1;
  readonly inspection: string;
  readonly lotSize: number | null;
  /** Null: the plan of the item calls for tests on the lot only. */
  readonly sample: SamplePlan | null;
};

/** A measured characteristic of one result: what was read, what comes of it, and whether it is within its limits. */
export interface Measured {
  readonly characteristic: string;
  /** As read, line by line: decimal texts by column. */
  readonly inputs: readonly Readonly<Record<string, string>>[];
  /** Computed and rounded by the plan's rule, in millionths of `unit`. */
  readonly valueMicro: number;
  readonly unit: string;
  readonly within: boolean;
  /** Why not within, in words; null when it is. */
  readonly fault: string | null;
  /** The working, so that a reader can check the value. */
  readonly figures: readonly Figure[];
  readonly cautions: readonly string[];
  readonly instrument: string | null;
  /** The written procedure that was followed. */
  readonly procedure: string | null;
}

export interface FoundNonconformity {
  /** Code of the plant's list; null where only a measured characteristic is out of its limits. */
  readonly defect: string | null;
  readonly characteristic: string | null;
  readonly class: SeverityClass;
  readonly count: number;
}

/** One item of the sample that is written down by itself: nonconforming, or measured. */
export interface InspectedItem {
  /** Piece number, where the lot has them and somebody read it. */
  readonly piece: number | null;
  readonly found: readonly FoundNonconformity[];
  readonly measured: readonly Measured[];
  /** SHA-256 of photographs and other files. */
  readonly files: readonly string[];
  readonly note: string | null;
}

/** Items of the sample that one inspector has looked at; another one's stand beside them. */
export type ItemsInspected = PlantFact & {
  readonly kind: 'ItemsInspected';
  readonly v: 1;
  readonly inspection: string;
  /** Number of this tally within the inspection, from 1. */
  readonly tally: number;
  readonly sample: 1 | 2;
  /** Items found conforming that are not written down one by one. */
  readonly conforming: number;
  readonly items: readonly InspectedItem[];
};

/** A tally was entered in error; it stays readable and counts no more. */
export type TallyTakenBack = PlantFact & {
  readonly kind: 'TallyTakenBack';
  readonly v: 1;
  readonly inspection: string;
  readonly tally: number;
  readonly reason: string;
};

/** A test of the lot as a whole: of a batch sample, or of cans weighed together. */
export type ResultRecorded = PlantFact & {
  readonly kind: 'ResultRecorded';
  readonly v: 1;
  readonly inspection: string;
  /** Number within the inspection, from 1. */
  readonly result: number;
  readonly lot: string;
  readonly measured: Measured;
  readonly measuredAt: string;
  /** The result it follows; both stay. */
  readonly retestOf: number | null;
  readonly reason: string | null;
  readonly files: readonly string[];
};

export type Verdict = 'accepted' | 'not-accepted';

/** How one class came out. */
export interface ClassOutcome {
  readonly class: SeverityClass;
  /** Items (or nonconformities) counted in the first sample, and in both. */
  readonly found: readonly [first: number, both: number];
  /** Null: inspection ended before this class was decided. */
  readonly verdict: Verdict | null;
  /** In words, as `3 major in 80, not accepted at 3`. */
  readonly because: string;
}

/** How a class of an item and supplier is switched by this lot. */
export interface Switched {
  readonly class: 'major' | 'minor';
  /** `single II 1.0 items`: a history belongs to one plan. */
  readonly plan: string;
  readonly before: SwitchingState;
  readonly after: SwitchingState;
  /** Each change, or why there was none, with the clause of ISO 2859-1. */
  readonly because: readonly SwitchingReason[];
}

export type InspectionDecided = PlantFact & {
  readonly kind: 'InspectionDecided';
  readonly v: 1;
  readonly inspection: string;
  readonly lot: string;
  readonly item: string;
  readonly supplier: string | null;
  readonly verdict: Verdict;
  /** What the plan says; null where a person was stricter before it said anything. */
  readonly computed: Verdict | null;
  readonly stricter: string | null;
  readonly classes: readonly ClassOutcome[];
  /** What failed beside the classes: tests of the lot, in words. */
  readonly failed: readonly string[];
  readonly inspected: number;
  readonly nonconforming: number;
  /** Non-acceptance was certain before the whole sample was inspected: such a lot is left out of estimates of quality. */
  readonly curtailed: boolean;
  readonly switched: readonly Switched[];
};

/** Not inspected: the lot may only go on under the urgent release recorded with it. */
export type InspectionSkipped = PlantFact & {
  readonly kind: 'InspectionSkipped';
  readonly v: 1;
  readonly inspection: string;
  readonly urgentRelease: string;
  readonly reason: string;
  readonly signature: Signature;
};

/** The lot is no longer there to inspect: what brought it was booked in error. */
export type InspectionCalledOff = PlantFact & {
  readonly kind: 'InspectionCalledOff';
  readonly v: 1;
  readonly inspection: string;
  readonly reason: string;
};

export type InspectionMadeUrgent = PlantFact & {
  readonly kind: 'InspectionMadeUrgent';
  readonly v: 1;
  readonly inspection: string;
  readonly reason: string;
};

/** A decision of quality on switching: production steady or not, reduced inspection wanted, resumption after discontinuation. */
export type SwitchingDecided = PlantFact & {
  readonly kind: 'SwitchingDecided';
  readonly v: 1;
  readonly item: string;
  readonly supplier: string | null;
  readonly decision: SwitchingDecision;
  readonly switched: readonly Switched[];
  readonly reason: string;
  readonly signature: Signature;
};
