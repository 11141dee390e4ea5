import type { SpanSet } from '../../../shared/spans.js';
import type { RibbonInput } from '../../../shared/ribbon-layout.js';
import type { RiverGraph } from '../../../shared/trace-graph.js';
import type { RecallProgress } from './recall-progress.types.js';

/**
 * All that a recall report says, as plain values. Instants are UTC ISO 8601 with milliseconds, dates `YYYY-MM-DD`. Everything is as
 * known at one ledger entry, so the same report can be written again years later.
 */
export interface RecallReport {
  readonly plantName: string;
  readonly recall: RecallHead;
  readonly asKnownAt: { readonly seq: number; readonly at: string; readonly hash: string };
  /** When this document was asked for; part of the input so that equal input gives equal bytes. */
  readonly madeAt: string;
  /** What a reader finds printed on the packs. */
  readonly products: readonly ProductIdentity[];
  /** The amounts asked for in any recall, by unit, of goods that leave the plant. */
  readonly amounts: readonly Amounts[];
  readonly scopes: { readonly chosen: 'narrow' | 'conservative'; readonly narrow: ScopeTotals; readonly conservative: ScopeTotals };
  readonly narrowings: readonly Narrowing[];
  /** The lots of the chosen scope, the origin included. */
  readonly affectedLots: readonly AffectedLot[];
  readonly consignees: readonly Consignee[];
  /** Where every affected piece or quantity is; together these should make up `affectedLots` exactly. */
  readonly whereabouts: readonly AffectedWhereabouts[];
  /** What is known about lots whose whereabouts do not add up. */
  readonly differences: readonly { readonly lot: string; readonly why: string }[];
  readonly inProcess: readonly RunInProcess[];
  /** How the affected material flowed; null leaves the picture out. */
  readonly river: RiverGraph | null;
  /** Numbered lots to be shown piece by piece. */
  readonly ribbons: readonly LotRibbon[];
  readonly timeline: readonly TimelineEntry[];
  readonly decisions: readonly SignedDecision[];
  /** Cautions of this recall, besides the standing ones. */
  readonly cautions: readonly string[];
  /** How far it has come, as known at an entry of its own; left out: the report tells of the scope alone. */
  readonly progress?: RecallProgress | undefined;
}

interface RecallHead {
  readonly number: string;
  readonly drill: boolean;
  readonly status: 'open' | 'closed' | 'withdrawn';
  readonly title: string;
  /** What is wrong with the product. */
  readonly what: string;
  /** Why it is called back, and how it was found. */
  readonly why: string;
  /** Who may come to harm and how, as evaluated so far. */
  readonly hazard: string | null;
  readonly class: string | null;
  /** What holders of the product are asked to do. */
  readonly instruction: string | null;
  readonly contact: string | null;
  /** What the scope was traced from, in plain words, such as `forward from lot R-0311`. */
  readonly origin: string;
  readonly openedBy: string;
  readonly openedAt: string;
}

export interface ProductIdentity {
  readonly item: string;
  readonly name: string;
  readonly gtin: string | null;
  /** The lot code as printed on the pack. */
  readonly lot: string;
  readonly madeOn: string | null;
  readonly expiresOn: string | null;
  /** What is affected of it: serials or numbers, where packs carry them. */
  readonly marks: string | null;
}

/** Quantities in whole millionths, a numbered piece counting as one; dates `YYYY-MM-DD`, null where there is none. */
export interface Amounts {
  /** A base unit, or `pieces` for numbered lots. */
  readonly unit: string;
  readonly totalMicro: number;
  readonly madeFrom: string | null;
  readonly madeUntil: string | null;
  /** Sent out, whether or not it came back. */
  readonly distributedMicro: number;
  readonly distributedFrom: string | null;
  readonly distributedUntil: string | null;
  /** Still held by the plant, and how much of that cannot leave: not released, not accepted or on hold. */
  readonly onHandMicro: number;
  readonly onHandStoppedMicro: number;
  /** Still with customers. */
  readonly inMarketMicro: number;
}

/** Whole millionths of a base unit. */
export interface UnitAmount {
  readonly unit: string;
  readonly quantityMicro: number;
}

export interface ScopeTotals {
  readonly lots: number;
  /** Numbered pieces. */
  readonly pieces: number;
  /** Lots that are not numbered, by unit. */
  readonly bulk: readonly UnitAmount[];
  readonly consignees: number;
}

/** One place where the narrow scope is smaller than the whole lot, and what that rests on. */
export interface Narrowing {
  readonly lot: string;
  readonly piecesOfLot: number;
  readonly spans: SpanSet;
  readonly evidence: readonly string[];
}

export type LotStatus = 'quarantine' | 'released' | 'held' | 'not accepted' | 'expired' | 'scrapped';

export interface AffectedLot {
  readonly lot: string;
  readonly item: string;
  readonly itemName: string;
  /** The item's base unit: kg, L, m or each. */
  readonly unit: string;
  readonly status: LotStatus;
  /** The run that made it; null for received and opening lots. */
  readonly run: string | null;
  /** Affected pieces of a numbered lot; null for a lot that is not numbered. */
  readonly spans: SpanSet | null;
  /** How many pieces the lot has; 0 for a lot that is not numbered. */
  readonly piecesOfLot: number;
  /** How much of it is affected, and how much of it there was, in whole millionths of its unit. */
  readonly affectedMicro: number;
  readonly quantityMicro: number;
  /** Mass fractions that stem from the origin, where inputs blend; several where they changed within the lot. */
  readonly shares: readonly { readonly spans: SpanSet | null; readonly fraction: number }[];
  /** Making steps from the origin; 0 is the origin itself. */
  readonly depth: number;
}

export interface Consignee {
  readonly code: string;
  readonly name: string;
  readonly contact: string | null;
  readonly lines: readonly ConsigneeLine[];
}

/** Affected goods that went to a consignee in one shipment. */
export interface ConsigneeLine extends LotPart {
  readonly shipment: string;
  readonly shippedOn: string;
  /** What of it has not come back: the part that whereabouts still call dispatched. */
  readonly out: { readonly spans: SpanSet | null; readonly quantityMicro: number };
}

/** Some pieces of a numbered lot, or some quantity of one that is not. */
export interface LotPart {
  readonly lot: string;
  readonly spans: SpanSet | null;
  /** Whole millionths of `unit`; counts only where `spans` is null. */
  readonly quantityMicro: number;
  readonly unit: string;
}

export type Fate =
  | 'dispatched'
  | 'on hand'
  | 'consumed'
  | 'scrapped'
  | 'retained'
  | 'destroyed in test'
  | 'returned to supplier'
  | 'counted adjustment';

export interface AffectedWhereabouts extends LotPart {
  readonly fate: Fate;
  /** Who or where: the customer, the location, the run that consumed it. */
  readonly holder: string;
  /** The shipment or other document, where there is one. */
  readonly document: string | null;
}

/** A run that has taken affected material and is not finished: what it will yield is not in any list yet. */
export interface RunInProcess {
  readonly run: string;
  readonly kind: string;
  readonly place: string;
  readonly startedAt: string;
  readonly took: readonly LotPart[];
}

export interface LotRibbon {
  readonly lot: string;
  readonly itemName: string;
  readonly note: string | null;
  readonly ribbon: RibbonInput;
}

export interface TimelineEntry {
  readonly seq: number;
  readonly at: string;
  readonly who: string;
  readonly what: string;
}

export interface SignedDecision extends TimelineEntry {
  /** What the signature means, as it was put to the signer. */
  readonly meaning: string;
}
