import type { SpanSet } from '../../../shared/spans.js';
import type { Photograph } from './sheet.model.js';

/**
 * All that a nonconformance report says, as plain values; everything is as known at one ledger entry. Instants are UTC ISO 8601 with
 * milliseconds, dates `YYYY-MM-DD`, quantities whole millionths of the unit.
 */
export interface NonconformanceReport {
  readonly plantName: string;
  readonly report: string;
  /** As the plant says it, such as `carried out`. */
  readonly state: string;
  readonly severity: 'critical' | 'major' | 'minor';
  readonly source: string;
  readonly requirement: string;
  readonly found: string;
  readonly foundBy: Person;
  readonly foundAt: string;
  readonly raisedBy: Person;
  readonly raisedAt: string;
  readonly defects: readonly { readonly defect: string; readonly name: string | null; readonly count: number }[];
  readonly measured: readonly string[];
  readonly affected: readonly Part[];
  readonly judged: readonly JudgedPart[];
  readonly holds: readonly ReportHold[];
  readonly consignees: readonly ToldConsignee[];
  readonly review: Review | null;
  readonly accounts: readonly Account[];
  readonly addsUp: boolean;
  readonly dispositions: readonly Disposition[];
  readonly cause: Cause | null;
  readonly actions: readonly Action[];
  readonly effectiveness: Effectiveness | null;
  /** A code of ISO 4217. */
  readonly currency: string;
  /** In whole minor units of the currency. */
  readonly costs: readonly { readonly of: string; readonly kind: string; readonly minor: number; readonly note: string | null }[];
  /** Signatures on the report itself: containment, review, closing. Those on dispositions stand with them. */
  readonly signatures: readonly { readonly on: string; readonly signature: Signed }[];
  readonly timeline: readonly { readonly seq: number; readonly at: string; readonly who: string; readonly what: string }[];
  readonly files: readonly ReportFile[];
  readonly asKnownAt: { readonly seq: number; readonly at: string; readonly hash: string };
}

export interface Person {
  readonly person: string;
  /** Null when it was erased. */
  readonly name: string | null;
}

export interface Part {
  readonly lot: string;
  readonly item: string;
  readonly itemName: string | null;
  readonly unit: string;
  /** Null for a bulk lot. */
  readonly spans: SpanSet | null;
  readonly quantityMicro: number;
}

interface JudgedPart {
  readonly part: Part;
  readonly relation: string;
  readonly affected: boolean;
  readonly reason: string;
  readonly by: Person;
  readonly at: string;
}

export interface ReportHold {
  readonly hold: string;
  readonly lot: string;
  /** What of the lot, in words. */
  readonly what: string;
  readonly reason: string;
  readonly placedAt: string;
  readonly placedSeq: number;
  readonly lifted: { readonly seq: number; readonly reason: string } | null;
}

interface ToldConsignee {
  readonly customer: string;
  readonly name: string | null;
  readonly affectedPieces: number;
  readonly shipments: readonly string[];
  readonly told: readonly { readonly at: string; readonly channel: string; readonly what: string; readonly by: string }[];
  readonly answers: readonly { readonly at: string; readonly answer: string }[];
}

export interface Answered {
  readonly needed: boolean;
  readonly reason: string;
}

export interface Review {
  readonly investigate: Answered;
  readonly inform: Answered;
}

/** How the dispositions of one lot stand against what is affected of it. */
export interface Account {
  readonly lot: string;
  readonly unit: string;
  readonly numbered: boolean;
  readonly affectedMicro: number;
  readonly disposedMicro: number;
  readonly carriedOutMicro: number;
  readonly openMicro: number;
  readonly openSpans: SpanSet | null;
  readonly tooManyMicro: number;
}

/** A signature with what must stand on paper: printed name, date and time, meaning (21 CFR 11.50). */
export interface Signed {
  readonly by: Person;
  readonly at: string;
  readonly meaning: string;
  readonly seq: number;
}

export interface Disposition {
  readonly disposition: number;
  readonly kind: string;
  readonly part: Part;
  readonly reason: string;
  readonly adverseEffect: string | null;
  readonly regradeTo: string | null;
  readonly concession: {
    readonly authority: string;
    readonly authorisedBy: string;
    readonly reference: string;
    readonly until: string;
  } | null;
  readonly proposedBy: Person;
  readonly proposedSeq: number;
  /** Why it was taken back, if it was. */
  readonly withdrawn: string | null;
  readonly signatures: readonly (Signed & { readonly as: string; readonly broken: boolean })[];
  /** Signatures that it still waits for, in words. */
  readonly lacks: readonly string[];
  readonly carriedOut: CarriedOut | null;
  /** The inspection that verified it. */
  readonly verifiedBy: string | null;
  readonly needsVerifying: boolean;
}

export interface CarriedOut {
  readonly by: Person;
  readonly at: string;
  readonly seq: number;
  readonly note: string;
  readonly run: string | null;
  readonly document: string | null;
  readonly opens: string | null;
  readonly becomes: string | null;
  readonly sorted: { readonly conforming: Part | null; readonly nonconforming: Part | null } | null;
}

export interface Cause {
  readonly whys: readonly string[];
  readonly categories: readonly string[];
  readonly conclusion: string;
  readonly by: Person;
  readonly at: string;
}

export interface Action {
  readonly action: number;
  readonly kind: string;
  readonly what: string;
  readonly owner: Person;
  readonly dueOn: string;
  readonly done: { readonly at: string; readonly evidence: string } | null;
}

export interface Effectiveness {
  readonly criterion: string;
  readonly checkOn: string;
  readonly checked: { readonly effective: boolean; readonly harm: string; readonly evidence: string; readonly signature: Signed } | null;
}

export interface ReportFile {
  readonly sha256: string;
  readonly name: string;
  readonly mediaType: string;
  readonly bytes: number;
  /** What it shows or proves: `what was found`, `disposition 2`. */
  readonly of: string;
  /** Null where it is printed nowhere. */
  readonly picture: Pick<Photograph, 'width' | 'height' | 'read'> | null;
  /** Why it is not printed, in words that follow its name. */
  readonly notPrinted: string | null;
}
