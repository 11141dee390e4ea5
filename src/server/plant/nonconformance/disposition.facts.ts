import type { Role } from '../people/people.facts.js';
import type { Signature } from '../people/signature.js';
import type { PlantFact } from '../stock/effects.facts.js';
import type { AffectedPart } from './nonconformance.facts.js';
import type { ReportState } from './states.facts.js';

/** What becomes of nonconforming pieces (ISO 9000:2015 3.12.4 to 3.12.10; `sort` is 100 % inspection of them). */
export const DISPOSITIONS = ['rework', 'repair', 'regrade', 'scrap', 'concession', 'return-to-supplier', 'sort'] as const;
export type DispositionKind = (typeof DISPOSITIONS)[number];

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
  /** Also the lot that reworked pieces went into; null where they are what they were. */
  readonly becomes: string | null;
  /** Concession: the hold that marks what is under it. */
  readonly hold: string | null;
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
