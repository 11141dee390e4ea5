import type { WireSpan } from './trace.js';

/** How traced material went, lot by lot and link by link: what the river is drawn from, on screen and in print. */

export interface FlowLot {
  readonly lot: string;
  readonly item: string;
  readonly itemName: string;
  /** Class of the item, null where it is not in the catalogue. */
  readonly class: string | null;
  readonly unit: string;
  readonly pieces: number | null;
  readonly quantity: string;
  /** False: the trace did not reach it; it is here because it went into a lot that was reached. */
  readonly affected: boolean;
  /** Affected pieces; null for a bulk lot, which is affected as a whole or not at all. */
  readonly spans: readonly WireSpan[] | null;
  readonly affectedQuantity: string;
  readonly origin: string;
  /** The delivery, run, return or import it came from. */
  readonly source: string;
  readonly supplier: string | null;
  readonly supplierLot: string | null;
  readonly bornAt: string;
  /** How wide one unit or piece is drawn: what it weighs in kilograms, 1 where nothing is known of its weight. */
  readonly widthPerUnit: number;
}

export interface FlowLink {
  /** Ledger entry and number of the link within it. */
  readonly link: string;
  readonly from: string;
  readonly fromSpan: WireSpan | null;
  readonly to: string;
  readonly toSpan: WireSpan | null;
  /** In the unit of `from`. */
  readonly quantity: string;
  /** Kilograms that blended in, `0` where nothing did. */
  readonly mass: string;
  readonly map: 'all' | 'each';
}

/** A part of an affected lot and where it is, the unaffected rest of the lot included. */
export interface FlowPart {
  readonly lot: string;
  readonly fate: string;
  /** A location, a shipment, or the document that took it. */
  readonly at: string;
  /** Code and name of who has it, where it was dispatched. */
  readonly customer: string | null;
  readonly customerName: string | null;
  readonly quantity: string;
  readonly affectedQuantity: string;
}

/** Lots by code, links in the order of the ledger, parts by lot, fate and place. */
export interface TraceFlow {
  readonly lots: readonly FlowLot[];
  readonly links: readonly FlowLink[];
  readonly parts: readonly FlowPart[];
}
