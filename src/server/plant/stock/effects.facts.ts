import type { Span } from '../../../../shared/spans.js';
import type { Fact } from '../../ledger/fact.js';

/**
 * What any fact of the plant may do to lots: bring them into being, move them, change their status, link them.
 * Every feature's facts carry these members with the same meaning, so one projector keeps the stock and one the genealogy,
 * and conservation holds by construction: a movement takes from one place exactly what it gives to another.
 */

/** Where a part of a lot is, or what became of it. */
export type Fate =
  | 'on-hand'
  | 'consumed'
  | 'dispatched'
  | 'scrapped'
  | 'retained'
  | 'destroyed-in-test'
  | 'returned-to-supplier'
  | 'count-difference';

/** A fate and what it names: a location or vessel, a run, a shipment, a document. */
export interface Place {
  readonly fate: Fate;
  readonly at: string;
}

export type Origin = 'received' | 'made' | 'opening' | 'returned';
export type LotStatus = 'quarantine' | 'released' | 'not-accepted';
export type Unit = 'kg' | 'L' | 'm' | 'each';

/** A lot comes into being, whole, at one place and in one status. */
export interface LotBorn {
  readonly lot: string;
  readonly item: string;
  /** Revision of the item at that moment. */
  readonly itemRevision: number;
  readonly unit: Unit;
  /** N of a numbered lot, null for a bulk one. */
  readonly pieces: number | null;
  /** Whole millionths of the unit; pieces × 1,000,000 for a numbered lot. */
  readonly quantityMicro: number;
  readonly origin: Origin;
  /** When it was received or made: an instant. */
  readonly bornAt: string;
  readonly place: Place;
  readonly status: LotStatus;
  readonly madeOn?: string | undefined;
  readonly expiresOn?: string | undefined;
  readonly supplier?: string | undefined;
  /** As typed or scanned from the supplier's label. */
  readonly supplierLot?: string | undefined;
  /** True when the delivery carried no lot code and the plant assigned one (21 CFR 1.1345(b)(1)). */
  readonly supplierLotAssigned?: boolean | undefined;
  /** The run, delivery, return or import it came from. */
  readonly source: string;
  /** Serials of pieces 1..N, in order, where the pieces carry their own. */
  readonly serials?: readonly string[] | undefined;
}

/** A part of a lot goes from one place to another: spans of a numbered lot, or a quantity of a bulk one. */
export interface Movement {
  readonly lot: string;
  readonly spans: readonly Span[] | null;
  readonly quantityMicro: number;
  readonly from: Place;
  readonly to: Place;
}

/** Spans (null: the whole lot) take a status. */
export interface StatusChange {
  readonly lot: string;
  readonly spans: readonly Span[] | null;
  readonly status: LotStatus;
}

export type PieceMap = 'all' | 'each';

/** A genealogy edge. Its number within the entry is its position among all links of the entry, counted from 1. */
export interface LinkMade {
  readonly from: string;
  /** Null for a bulk lot; always given for a numbered one. */
  readonly fromSpan: Span | null;
  readonly to: string;
  readonly toSpan: Span | null;
  /** What went in, in millionths of the from-lot's unit. */
  readonly quantityMicro: number;
  /** Mass that blends, in millionths of a kilogram by the density of that moment; 0 for what does not blend. */
  readonly massMicro: number;
  readonly map: PieceMap;
}

/** Links of one run (or repacking, return, import row), recorded together. */
export interface LinkGroup {
  readonly run: string;
  readonly kind: string;
  /** When the material went in: an instant. */
  readonly at: string;
  readonly links: readonly LinkMade[];
}

/** A link that was recorded in error: entry and number within it. */
export interface LinkVoided {
  readonly seq: number;
  readonly ord: number;
}

export interface Effects {
  readonly born?: readonly LotBorn[];
  readonly moved?: readonly Movement[];
  readonly restatused?: readonly StatusChange[];
  readonly linked?: readonly LinkGroup[];
  readonly voided?: readonly LinkVoided[];
}

/** Every fact of the plant. */
export interface PlantFact extends Fact, Effects {}

export const onHand = (at: string): Place => ({ fate: 'on-hand', at });
