export class FlowLotView {
  lot: string;
  item: string;
  itemName: string;
  class: string | null;
  unit: string;
  pieces: number | null;
  quantity: string;
  /** False: not reached, but it went into a lot that was. */
  affected: boolean;
  /** Affected pieces; null for a bulk lot. */
  spans: number[][] | null;
  affectedQuantity: string;
  origin: string;
  source: string;
  supplier: string | null;
  supplierLot: string | null;
  bornAt: string;
  /** Kilograms of one unit or piece, 1 where nothing is known of its weight. */
  widthPerUnit: number;
}

export class FlowLinkView {
  /** Ledger entry and number of the link within it. */
  link: string;
  from: string;
  fromSpan: number[] | null;
  to: string;
  toSpan: number[] | null;
  /** In the unit of `from`. */
  quantity: string;
  /** Kilograms that blended in. */
  mass: string;
  map: 'all' | 'each';
}

export class FlowPartView {
  lot: string;
  fate: string;
  at: string;
  customer: string | null;
  customerName: string | null;
  quantity: string;
  affectedQuantity: string;
}

/** How traced material went, lot by lot and link by link. */
export class TraceFlowView {
  lots: FlowLotView[];
  links: FlowLinkView[];
  parts: FlowPartView[];
}
