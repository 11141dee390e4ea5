import type { SpanSet } from '../../../../shared/spans.js';
import type { PlantFact } from '../stock/effects.facts.js';

/** One lot, or pieces of it, in a shipment. */
export interface ShipmentLine {
  readonly lot: string;
  /** Null for a bulk lot. */
  readonly spans: SpanSet | null;
  readonly quantityMicro: number;
  /** Urgent releases without which this line would have been refused. */
  readonly urgentReleases?: readonly string[] | undefined;
  /** Stock of the same item at the same location that should have gone first (21 CFR 211.150(a)): the exception is on record. */
  readonly passedOver?: readonly string[] | undefined;
  /** Why older stock was passed over, where somebody said so. */
  readonly pickReason?: string | undefined;
}

/** What a shipment says (21 CFR 1.1340(a)). */
export interface Shipment {
  readonly shipment: string;
  /** Next recipient: where the goods went. */
  readonly customer: string;
  /** Revision of the party at that moment: its name and contact then. */
  readonly customerRevision: number;
  /** Who pays, where that is somebody else. */
  readonly billTo?: string | undefined;
  readonly documentType?: string | undefined;
  readonly document?: string | undefined;
  readonly shippedAt: string;
  /** Location the goods left from; absent in records brought over that do not say. */
  readonly location?: string | undefined;
  readonly note?: string | undefined;
  readonly lines: readonly ShipmentLine[];
}

/** Goods left the plant for a customer. */
export type ShipmentDispatched = PlantFact & Shipment & { readonly kind: 'ShipmentDispatched'; readonly v: 1 };

/** Many shipments at once, as an import brings them. */
export type ShipmentsBroughtOver = PlantFact & {
  readonly kind: 'ShipmentsBroughtOver';
  readonly v: 1;
  readonly shipments: readonly Shipment[];
};

/** A shipment was recorded in error: what it moved goes back. Both stay readable. */
export type ShipmentReversed = PlantFact & {
  readonly kind: 'ShipmentReversed';
  readonly v: 1;
  readonly shipment: string;
  /** Ledger entry that is put right. */
  readonly corrects: number;
  readonly reason: string;
};
