import type { SpanSet } from '../../../../shared/spans.js';
import type { SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { Signature } from '../people/signature.js';
import type { PlantFact } from '../stock/effects.facts.js';
import type {
  DispositionCarriedOut,
  DispositionProposed,
  DispositionSigned,
  DispositionVerified,
  DispositionWithdrawn,
} from './disposition.facts.js';
import type {
  ActionDone,
  ActionPlanned,
  CauseAnalysed,
  CostRecorded,
  EffectivenessChecked,
  EffectivenessPlanned,
} from './learning.facts.js';
import type { ReportState } from './states.facts.js';

/** Where a nonconformity was found. */
export const SOURCES = ['delivery', 'inspection', 'test', 'run', 'unit', 'instrument', 'return', 'complaint', 'audit'] as const;
export type Source = (typeof SOURCES)[number];

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
