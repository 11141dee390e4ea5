import type { SpanSet } from '../../../../shared/spans.js';
import type { Signature } from '../people/signature.js';
import type { PlantFact } from '../stock/effects.facts.js';

/** What a hold stops: spans of a numbered lot, a quantity of a bulk lot, or all of it (both null). */
export interface HeldPart {
  readonly lot: string;
  readonly spans: SpanSet | null;
  readonly quantityMicro: number | null;
}

export type HoldPlaced = PlantFact & {
  readonly kind: 'HoldPlaced';
  readonly v: 1;
  readonly hold: string;
  readonly parts: readonly HeldPart[];
  readonly reaches: boolean;
  readonly reason: string;
  readonly owner: string;
  readonly signature: Signature;
};

/** What an inspection found, or a report still waits for, stops material by rule; a person lifts it by a signed decision, as any hold. */
export type HoldPlacedByRule = PlantFact & {
  readonly kind: 'HoldPlacedByRule';
  readonly v: 1;
  readonly hold: string;
  readonly parts: readonly HeldPart[];
  readonly reaches: boolean;
  readonly reason: string;
  /** The person whose finding or decision it rests on. */
  readonly owner: string;
  readonly inspection: string | null;
  /** Nonconformance report it is a hold of. */
  readonly report: string | null;
};

export type HoldLifted = PlantFact & {
  readonly kind: 'HoldLifted';
  readonly v: 1;
  readonly hold: string;
  readonly reason: string;
  readonly signature: Signature;
};

/** A report's outcome lets a part of what was held go; what stays is held anew in the same command, by `HoldPlacedByRule`. */
export type HoldLiftedByReport = PlantFact & {
  readonly kind: 'HoldLiftedByReport';
  readonly v: 1;
  readonly hold: string;
  readonly report: string;
  readonly reason: string;
};

export type SetAside = 'quarantine' | 'expired' | 'held';

export type UrgentReleaseOpened = PlantFact & {
  readonly kind: 'UrgentReleaseOpened';
  readonly v: 1;
  readonly urgentRelease: string;
  readonly lot: string;
  readonly spans: SpanSet | null;
  readonly setsAside: readonly SetAside[];
  readonly reason: string;
  readonly signature: Signature;
};

export type UrgentReleaseClosed = PlantFact & {
  readonly kind: 'UrgentReleaseClosed';
  readonly v: 1;
  readonly urgentRelease: string;
  readonly reason: string;
  readonly signature: Signature;
};

/** An open hold, as rule 4 sees it. `spans` and `quantityMicro` null: all of the lot. */
export interface OpenHold {
  readonly hold: string;
  readonly lotId: number;
  readonly lot: string;
  readonly spans: SpanSet | null;
  readonly quantityMicro: number | null;
  readonly reaches: boolean;
  readonly reason: string;
}

/** An open urgent release, as rule 4 sees it. */
export interface OpenUrgentRelease {
  readonly urgentRelease: string;
  readonly lotId: number;
  readonly spans: SpanSet | null;
  readonly setsAside: readonly SetAside[];
}
