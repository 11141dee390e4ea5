import type { SpanSet } from '../../../../shared/spans.js';
import type { SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { Role } from '../people/people.facts.js';
import type { Signature } from '../people/signature.js';
import type { PlantFact } from '../stock/effects.facts.js';
import type { ReportState } from './states.js';

/** Where a nonconformity was found. */
export const SOURCES = ['delivery', 'inspection', 'test', 'run', 'unit', 'instrument', 'return', 'complaint', 'audit'] as const;
export type Source = (typeof SOURCES)[number];

/** What becomes of nonconforming pieces (ISO 9000:2015 3.12.4 to 3.12.10; `sort` is 100 % inspection of them). */
export const DISPOSITIONS = ['rework', 'repair', 'regrade', 'scrap', 'concession', 'return-to-supplier', 'sort'] as const;
export type DispositionKind = (typeof DISPOSITIONS)[number];

/** Why the genealogy proposed a part. */
export const RELATIONS = ['same-lot', 'made-from-it', 'same-input', 'same-vessel', 'same-instrument', 'other'] as const;
export type Relation = (typeof RELATIONS)[number];

/** Pieces of a numbered lot, a quantity of a bulk one, or (both null) all of a bulk one. */
export interface AffectedPart {
  readonly lot: string;
  readonly spans: SpanSet | null;
  readonly quantityMicro: number | null;
}

export type ReportRaised = PlantFact & {
  readonly kind: 'ReportRaised';
  readonly v: 1;
  readonly report: string;
  readonly state: ReportState;
  readonly source: { readonly kind: Source; readonly code: string | null };
  /** The requirement that is not met. */
  readonly requirement: string;
  /** What was found, in words. */
  readonly found: string;
  readonly defects: readonly { readonly defect: string; readonly count: number }[];
  /** Measured values as they were read, as `Melting point 53.9 °C, limits 54 to 58`. */
  readonly measured: readonly string[];
  /** SHA-256 of photographs and files. */
  readonly files: readonly string[];
  readonly severity: SeverityClass;
  readonly foundBy: string;
  readonly foundAt: string;
  readonly parts: readonly AffectedPart[];
};

/** A part that the genealogy proposed, or somebody named, is judged in or out (21 CFR 211.192). */
export type ReportPartJudged = PlantFact & {
  readonly kind: 'ReportPartJudged';
  readonly v: 1;
  readonly report: string;
  readonly state: ReportState;
  readonly part: AffectedPart;
  readonly relation: Relation;
  readonly affected: boolean;
  readonly reason: string;
};

/** Holds on everything affected stand; recorded with them in one command. */
export type ReportContained = PlantFact & {
  readonly kind: 'ReportContained';
  readonly v: 1;
  readonly report: string;
  readonly state: ReportState;
  readonly holds: readonly string[];
  readonly note: string | null;
  readonly signature: Signature;
};

export type ConsigneeTold = PlantFact & {
  readonly kind: 'ConsigneeTold';
  readonly v: 1;
  readonly report: string;
  readonly customer: string;
  readonly channel: string;
  readonly what: string;
  readonly toldAt: string;
};

export type ConsigneeAnswered = PlantFact & {
  readonly kind: 'ConsigneeAnswered';
  readonly v: 1;
  readonly report: string;
  readonly customer: string;
  readonly answer: string;
  readonly answeredAt: string;
};

/** An explicit yes or no with its reason (21 CFR 820.90(a)). */
export interface Answered {
  readonly needed: boolean;
  readonly reason: string;
}

export type ReportReviewed = PlantFact & {
  readonly kind: 'ReportReviewed';
  readonly v: 1;
  readonly report: string;
  readonly state: ReportState;
  readonly severity: SeverityClass;
  /** Whether the cause is investigated. */
  readonly investigate: Answered;
  /** Whether the party responsible is told. */
  readonly inform: Answered;
  readonly signature: Signature;
};

/** How much of a nonconformity is accepted as it is, by whose authority and until when (ISO 9000:2015 3.12.5). */
export interface ConcessionTerms {
  readonly authority: 'quality' | 'customer' | 'design-authority';
  /** Who of them authorised it, and under which reference. */
  readonly authorisedBy: string;
  readonly reference: string;
  /** Last day on which it covers anything. */
  readonly until: string;
}

/** What is decided for a part: all that the signatures on it mean. */
export interface DispositionTerms {
  readonly kind: DispositionKind;
  readonly part: AffectedPart;
  readonly reason: string;
  /** Rework and repair: any adverse effect of doing it (21 CFR 820.90(b)(2)). */
  readonly adverseEffect: string | null;
  /** Regrade: the item the pieces become. */
  readonly regradeTo: string | null;
  readonly concession: ConcessionTerms | null;
}

export type DispositionProposed = PlantFact & {
  readonly kind: 'DispositionProposed';
  readonly v: 1;
  readonly report: string;
  readonly state: ReportState;
  /** Number within the report, from 1. */
  readonly disposition: number;
  readonly terms: DispositionTerms;
};

/** Taken back before it was carried out; its part is open again. */
export type DispositionWithdrawn = PlantFact & {
  readonly kind: 'DispositionWithdrawn';
  readonly v: 1;
  readonly report: string;
  readonly state: ReportState;
  readonly disposition: number;
  readonly reason: string;
};

export type DispositionSigned = PlantFact & {
  readonly kind: 'DispositionSigned';
  readonly v: 1;
  readonly report: string;
  readonly state: ReportState;
  readonly disposition: number;
  /** The function the signer signs for. */
  readonly as: Role;
  /** SHA-256 of what was signed: terms, severity and requirement. Another digest later shows the signature as broken. */
  readonly digest: string;
  /** It was the last signature that the disposition waited for. */
  readonly complete: boolean;
  readonly signature: Signature;
};

/** What shows that a disposition was carried out. */
export interface Evidence {
  /** Rework, repair: the run. */
  readonly run: string | null;
  /** Scrap, return: the document, as it stands on paper. */
  readonly document: string | null;
  readonly note: string;
  readonly files: readonly string[];
}

export type DispositionCarriedOut = PlantFact & {
  readonly kind: 'DispositionCarriedOut';
  readonly v: 1;
  readonly report: string;
  readonly state: ReportState;
  readonly disposition: number;
  readonly evidence: Evidence;
  /** Sort: what conforms, and what does not and waits for another disposition. */
  readonly sorted: { readonly conforming: AffectedPart | null; readonly nonconforming: AffectedPart | null } | null;
  /** Rework, repair: the inspection that was opened for what was done. Regrade: the lot the pieces are now. */
  readonly opens: string | null;
  readonly becomes: string | null;
};

/** Rework and repair: an inspection on results made after it has accepted the pieces (21 CFR 820.90(b)(2)). */
export type DispositionVerified = PlantFact & {
  readonly kind: 'DispositionVerified';
  readonly v: 1;
  readonly report: string;
  readonly state: ReportState;
  readonly disposition: number;
  readonly inspection: string;
};

export const CAUSE_CATEGORIES = [
  'material',
  'method',
  'machine',
  'measurement',
  'people',
  'environment',
  'design',
  'supplier',
  'unknown',
] as const;
export type CauseCategory = (typeof CAUSE_CATEGORIES)[number];

export type CauseAnalysed = PlantFact & {
  readonly kind: 'CauseAnalysed';
  readonly v: 1;
  readonly report: string;
  /** Each answers why the one before it was so. */
  readonly whys: readonly string[];
  readonly categories: readonly CauseCategory[];
  readonly conclusion: string;
};

/** Correction is on the pieces, corrective action on the cause, preventive action on what has not happened yet (ISO 9000:2015 3.12.1 to 3.12.3). */
export const ACTION_KINDS = ['correction', 'corrective', 'preventive'] as const;
export type ActionKind = (typeof ACTION_KINDS)[number];

export type ActionPlanned = PlantFact & {
  readonly kind: 'ActionPlanned';
  readonly v: 1;
  readonly report: string;
  readonly action: number;
  readonly actionKind: ActionKind;
  readonly what: string;
  readonly owner: string;
  readonly dueOn: string;
};

export type ActionDone = PlantFact & {
  readonly kind: 'ActionDone';
  readonly v: 1;
  readonly report: string;
  readonly action: number;
  readonly evidence: string;
  readonly files: readonly string[];
};

export type EffectivenessPlanned = PlantFact & {
  readonly kind: 'EffectivenessPlanned';
  readonly v: 1;
  readonly report: string;
  /** What would show that the cause is gone. */
  readonly criterion: string;
  readonly checkOn: string;
};

/** Decides whether the report closes or is worked on again. */
export type EffectivenessChecked = PlantFact & {
  readonly kind: 'EffectivenessChecked';
  readonly v: 1;
  readonly report: string;
  readonly state: ReportState;
  readonly effective: boolean;
  /** Whether the action did any harm of its own. */
  readonly harm: string;
  readonly evidence: string;
  readonly files: readonly string[];
  readonly signature: Signature;
};

export const COST_KINDS = ['material', 'labour', 'other'] as const;
export type CostKind = (typeof COST_KINDS)[number];

export type CostRecorded = PlantFact & {
  readonly kind: 'CostRecorded';
  readonly v: 1;
  readonly report: string;
  /** Null: of the report as a whole. */
  readonly disposition: number | null;
  readonly costKind: CostKind;
  /** Whole minor units of the plant's currency. */
  readonly minor: number;
  readonly note: string | null;
};

export type ReportClosed = PlantFact & {
  readonly kind: 'ReportClosed';
  readonly v: 1;
  readonly report: string;
  readonly state: ReportState;
  readonly reason: string;
  readonly signature: Signature;
};

/** It was no nonconformity after all; its holds are lifted with it. */
export type ReportWithdrawn = PlantFact & {
  readonly kind: 'ReportWithdrawn';
  readonly v: 1;
  readonly report: string;
  readonly state: ReportState;
  readonly reason: string;
  readonly signature: Signature;
};

export type ReportReopened = PlantFact & {
  readonly kind: 'ReportReopened';
  readonly v: 1;
  readonly report: string;
  readonly state: ReportState;
  readonly reason: string;
  readonly signature: Signature;
};

export type ReportFact =
  | ReportRaised
  | ReportPartJudged
  | ReportContained
  | ConsigneeTold
  | ConsigneeAnswered
  | ReportReviewed
  | DispositionProposed
  | DispositionWithdrawn
  | DispositionSigned
  | DispositionCarriedOut
  | DispositionVerified
  | CauseAnalysed
  | ActionPlanned
  | ActionDone
  | EffectivenessPlanned
  | EffectivenessChecked
  | CostRecorded
  | ReportClosed
  | ReportWithdrawn
  | ReportReopened;
