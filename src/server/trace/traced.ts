import type { SpanSet } from '../../../shared/spans.js';
import { countFlat, type FlatSpans, toSpanSet } from './flat-spans.js';

export type Direction = 'forward' | 'backward';

/** Where a trace starts: a lot, whole (null) or some of its pieces. */
export interface Origin {
  readonly lot: number;
  readonly spans: SpanSet | null;
}

export interface TraceOptions {
  /** Ledger entry as of which to answer; what is committed if left out, and Infinity for all that is appended. */
  readonly asKnownAt?: number;
  /** Whole lots, as if no piece had been recorded: any hit on a lot, an origin included, is the whole lot. */
  readonly conservative?: boolean;
  /** By lot: pieces (null: the bulk lot) that blending links do not carry on to; how a share cut-off is applied. */
  readonly notBlendedInto?: ReadonlyMap<number, FlatSpans | null>;
}

/** One lot that a trace reached. `depth` is the fewest links from an origin to any of its pieces. */
export class ReachedLot {
  /** Pieces found so far and pieces found but not yet walked on from; both null for a bulk lot. */
  known: FlatSpans | null;
  pending: number[];
  /** Set while the lot waits to be walked on from. */
  waits = false;
  /** For an origin that links lead back to: what they reach, as unsorted pairs until the walk ends, and how far away it was. */
  againPairs: number[] | null = null;
  againDepth = -1;

  constructor(
    readonly lot: number,
    readonly depth: number,
    readonly isOrigin: boolean,
    isBulk: boolean,
  ) {
    this.known = isBulk ? null : [];
    this.pending = [];
  }

  /** Affected pieces, the origin's own included; null for a bulk lot, which is affected as a whole. */
  get spans(): SpanSet | null {
    return this.known === null ? null : toSpanSet(this.known);
  }

  get affectedPieces(): number {
    return this.known === null ? 0 : countFlat(this.known);
  }

  /** For an origin that was reached again by links: the pieces so reached, and the fewest links it took. */
  get again(): { readonly spans: SpanSet | null; readonly depth: number } | null {
    if (this.againPairs === null) return null;
    return { spans: this.known === null ? null : toSpanSet(this.againPairs), depth: this.againDepth };
  }
}

/** What a trace reached, nearest first; origins are in it at depth 0. Callers sort by code before they show it. */
export class Traced {
  #byLot: Map<number, ReachedLot> | null = null;

  constructor(
    readonly direction: Direction,
    readonly asKnownAt: number,
    readonly lots: readonly ReachedLot[],
  ) {}

  /** The lot as reached, or undefined if it was not. */
  get(lot: number): ReachedLot | undefined {
    this.#byLot ??= new Map(this.lots.map((reached) => [reached.lot, reached]));
    return this.#byLot.get(lot);
  }

  /** Reached lots for a list: without origins, unless links lead back to them. */
  reachedByLinks(): ReachedLot[] {
    return this.lots.filter((reached) => !reached.isOrigin || reached.againPairs !== null);
  }
}
