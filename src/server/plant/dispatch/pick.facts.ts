import type { SpanSet } from '../../../../shared/spans.js';
import type { OpenHold } from '../holds/holds.facts.js';
import type { LotStatus, Unit } from '../stock/effects.facts.js';

/** A lot with something on hand, as picking sees it. */
export interface StockLot {
  readonly lot: string;
  readonly item: string;
  readonly unit: Unit;
  readonly pieces: number | null;
  readonly bornAt: string;
  readonly expiresOn: string | null;
  /** On hand at the location asked about, or anywhere. */
  readonly onHand: readonly { readonly at: string; readonly quantityMicro: number; readonly spans: SpanSet | null }[];
  readonly statuses: ReadonlyMap<LotStatus, SpanSet | null>;
  /** Open holds on the lot, and reaching holds on what it was made from, each with the part of this lot that it stops. */
  readonly stops: readonly { readonly hold: OpenHold; readonly inherited: boolean; readonly spans: SpanSet | null }[];
}

/** A part of a lot: spans null for a bulk one. */
export interface StockPart {
  readonly spans: SpanSet | null;
  readonly quantityMicro: number;
}

/** Why a part of a lot cannot go. */
export interface Skipped extends StockPart {
  readonly lot: string;
  readonly code: string;
  readonly detail: string;
}

/** What of a lot may go now, and what may not and why. */
export interface Judged {
  readonly stock: StockLot;
  readonly usable: StockPart;
  readonly skipped: readonly Skipped[];
}

export interface Proposed extends StockPart {
  readonly lot: string;
  readonly unit: Unit;
  /** Location to take it from. */
  readonly at: string;
  readonly expiresOn: string | null;
  readonly bornAt: string;
}

/** Oldest-first advice for a quantity of an item. */
export interface PickAdvice {
  readonly proposed: readonly Proposed[];
  readonly shortMicro: number;
  readonly skipped: readonly Skipped[];
}
