import type { SpanSet } from '../../../../shared/spans.js';
import type { PlantFact } from '../stock/effects.facts.js';

/** What came back of one lot and one shipment. */
export interface ReturnLine {
  readonly lot: string;
  /** Null for a bulk lot. */
  readonly spans: SpanSet | null;
  readonly quantityMicro: number;
  /** The shipment it had gone out in. */
  readonly shipment: string;
  /** Bulk only: false where nobody named the shipment and the oldest still out was taken. */
  readonly shipmentNamed: boolean;
  /** Bulk only: the lot that what came back now is; pieces keep the lot they always were of (21 CFR 1.1320). */
  readonly becomes?: string | undefined;
}

/** A return was booked in error: the goods are where they were before it. Both stay readable. */
export type ReturnReversed = PlantFact & {
  readonly kind: 'ReturnReversed';
  readonly v: 1;
  readonly returned: string;
  /** Ledger entry that is put right. */
  readonly corrects: number;
  readonly reason: string;
};

/** Goods came back from a customer; they stand in quarantine. */
export type GoodsReturned = PlantFact & {
  readonly kind: 'GoodsReturned';
  readonly v: 1;
  readonly returned: string;
  readonly customer: string;
  readonly documentType: string;
  readonly document: string;
  readonly returnedAt: string;
  readonly location: string;
  /** Condition of goods and packaging on arrival. */
  readonly condition: string;
  readonly note?: string | undefined;
  readonly lines: readonly ReturnLine[];
};
