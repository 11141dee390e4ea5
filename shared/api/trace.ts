import type { TraceFlow } from './flow.js';

/** The wire shape of a trace, as `kinledger trace --json` and `GET /api/trace` answer it. Lists are sorted by code. */

export type WireSpan = readonly [first: number, last: number];

export interface TraceOrigin {
  readonly lot: string;
  /** Null: the whole lot. */
  readonly spans: readonly WireSpan[] | null;
}

export interface TracedLot {
  readonly lot: string;
  readonly item: string;
  readonly class: string;
  readonly unit: string;
  /** N of a numbered lot, null for a bulk one. */
  readonly pieces: number | null;
  /** Affected pieces; null for a bulk lot, which is affected as a whole. */
  readonly spans: readonly WireSpan[] | null;
  readonly affectedPieces: number | null;
  /** Decimal, in the lot's unit. */
  readonly affectedQuantity: string;
  /** Mass fraction of the blended content that stems from the origin, the vessel well mixed; null where nothing of it blends in. */
  readonly share: number | null;
  /** Where inputs changed within a numbered lot: `[first, last, share]` over all its pieces. */
  readonly shares?: readonly (readonly [number, number, number])[];
  /** Fewest links from an origin. */
  readonly depth: number;
}

export interface TracedShipment {
  readonly shipment: string;
  readonly at: string;
  readonly lot: string;
  readonly spans: readonly WireSpan[] | null;
  readonly quantity: string;
}

export interface Consignee {
  readonly customer: string;
  readonly affectedPieces: number;
  readonly shipments: readonly TracedShipment[];
}

/** Where affected pieces or quantities are, or what became of them. */
export interface AffectedPart {
  readonly lot: string;
  readonly fate: string;
  readonly at: string;
  readonly spans: readonly WireSpan[] | null;
  readonly pieces: number | null;
  readonly quantity: string;
}

/** A lot that recorded piece numbers keep wholly or partly out of the narrow scope, and the links that say so. */
export interface NarrowedLot {
  readonly lot: string;
  /** Pieces kept out; null: the whole of a bulk lot. */
  readonly keptOut: readonly WireSpan[] | null;
  readonly pieces: number | null;
  readonly evidence: readonly {
    readonly link: string;
    readonly from: string;
    readonly fromSpan: WireSpan | null;
    readonly to: string;
    readonly toSpan: WireSpan | null;
  }[];
  /** Lots through which the conservative scope comes and the narrow one does not. */
  readonly through: readonly string[];
}

/** The scope without recorded changeovers: whole lots. */
export interface ConservativeScope {
  readonly totals: TraceTotals;
  readonly morePieces: number;
  readonly lots: readonly {
    readonly lot: string;
    readonly spans: readonly WireSpan[] | null;
    readonly affectedPieces: number | null;
    readonly depth: number;
  }[];
  readonly narrowings: readonly NarrowedLot[];
}

/** A unit that the trace reaches through a part which was replaced since: the unit was fitted with it. */
export interface WasFitted {
  readonly lot: string;
  readonly piece: number;
  readonly serial: string | null;
  /** The part that came out. */
  readonly part: string;
  readonly partPiece: number | null;
  /** The part that went in. */
  readonly replacedBy: string;
  readonly at: string;
  readonly reason: string;
}

/** A run that took affected material and has not yielded yet: what it will yield is in no list. */
export interface RunInProcess {
  readonly run: string;
  readonly kind: string;
  readonly place: string | null;
  readonly startedAt: string;
  readonly took: readonly { readonly lot: string; readonly spans: readonly WireSpan[] | null; readonly quantity: string }[];
}

export interface TraceTotals {
  readonly lots: number;
  readonly pieces: number;
  readonly consignees: number;
  readonly dispatchedPieces: number;
}

export interface TraceAnswer {
  readonly direction: 'forward' | 'backward';
  readonly asKnownAt: { readonly seq: number; readonly at: string | null };
  readonly origin: readonly TraceOrigin[];
  readonly lots: readonly TracedLot[];
  readonly consignees: readonly Consignee[];
  readonly totals: TraceTotals;
  /** Forward: units fitted with an affected part that was replaced since. */
  readonly wasFitted: readonly WasFitted[];
  /** Forward: runs still under way with affected material. */
  readonly inProcess: readonly RunInProcess[];
  /** With `scope=both`. */
  readonly conservative?: ConservativeScope;
  /** With `whereabouts=true`. */
  readonly whereabouts?: readonly AffectedPart[];
  /** With `links=true`: how it went from lot to lot. */
  readonly flow?: TraceFlow;
  /** With a share cut-off: what it left out. */
  readonly leftOut?: readonly { readonly lot: string; readonly spans: readonly WireSpan[] | null; readonly share: number | null }[];
}
