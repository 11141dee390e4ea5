import type { PlantFact } from '../stock/effects.facts.js';

/** What a line of a delivery says beside the lot it brings into being. */
export interface DeliveryLine {
  readonly lot: string;
  readonly containers: number | null;
  /** Lots received before under the same supplier, item and supplier lot. */
  readonly earlier: readonly string[];
  /** Set when the lot was past its expiry date when it arrived. */
  readonly expiredOnArrival: boolean;
}

/** A delivery was booked in error: its lots stand as never found and not accepted. Both entries stay readable. */
export type DeliveryReversed = PlantFact & {
  readonly kind: 'DeliveryReversed';
  readonly v: 1;
  readonly delivery: string;
  /** Ledger entry that is put right. */
  readonly corrects: number;
  readonly reason: string;
};

/** A delivery is booked: one lot a line, in quarantine. */
export type DeliveryBooked = PlantFact & {
  readonly kind: 'DeliveryBooked';
  readonly v: 1;
  readonly delivery: string;
  readonly supplier: string;
  /** Type and number of the reference document, as `delivery note 4711`. */
  readonly documentType: string;
  readonly document: string;
  readonly receivedAt: string;
  readonly location: string;
  /** Condition of goods and packaging on arrival. */
  readonly condition: string;
  readonly note?: string | undefined;
  readonly lines: readonly DeliveryLine[];
};
