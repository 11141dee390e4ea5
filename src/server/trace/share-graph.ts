import { type FlatSpans, toFlat } from './flat-spans.js';
import type { Genealogy } from './genealogy.js';
import { EACH, LOT_MASK, STRIDE } from './link-table.js';
import type { Traced } from './traced.js';

/** One blending link into a lot. `perPiece` is its mass for each piece it goes into, in millionths of a kilogram. */
interface Inflow {
  readonly perPiece: number;
  readonly first: number;
  readonly last: number;
  /** The affected lot it comes from; null if that is not affected, and then it only dilutes. */
  readonly source: ShareNode | null;
  readonly sourceFirst: number;
  readonly sourceLast: number;
  readonly each: boolean;
}

// Shared by every node that is not sized yet: making four arrays for each took most of the time of an answer.
const NO_FLOATS = new Float64Array(0);
const NO_FLAGS = new Uint8Array(0);
const ONE_PIECE: readonly number[] = [1, 2];

/**
 * A reached lot, cut into segments within which every piece has the same inputs. Segment k is [cuts[k], cuts[k + 1]).
 * A bulk lot is one piece, so that both kinds share one arithmetic.
 */
export class ShareNode {
  readonly inflows: Inflow[] = [];
  /** Pieces that are the origin itself, of share 1. */
  fixed: FlatSpans = [];
  cuts: readonly number[] = [];
  shares: Float64Array = NO_FLOATS;
  /** 1 where blended material of the origin arrives; kept apart from the share, which may be too small for a float. */
  touched: Uint8Array = NO_FLAGS;
  isFixed: Uint8Array = NO_FLAGS;
  #masses: Float64Array = NO_FLOATS;

  constructor(
    readonly lot: number,
    readonly pieces: number,
  ) {}

  /** Cuts the lot at every change of inputs; true if there are more cuts than before. */
  cutUp(): boolean {
    if (this.pieces === 1) {
      const first = this.cuts !== ONE_PIECE;
      this.cuts = ONE_PIECE;
      return first;
    }
    const cuts = [1, this.pieces + 1];
    for (const { first, last, each, source, sourceFirst, sourceLast } of this.inflows) {
      cuts.push(first, last + 1);
      if (!each || source === null) continue;
      for (const cut of source.cuts) if (cut > sourceFirst && cut <= sourceLast) cuts.push(cut - sourceFirst + first);
    }
    for (let at = 0; at < this.fixed.length; at += 2) cuts.push(this.fixed[at] ?? 0, (this.fixed[at + 1] ?? 0) + 1);
    const sorted = cuts.toSorted((a, b) => a - b).filter((cut, at, all) => cut !== all[at - 1]);
    if (sorted.length === this.cuts.length) return false;
    this.cuts = sorted;
    return true;
  }

  /** Sizes the segments and adds up the whole blending mass of each, affected or not. */
  prepare(): void {
    const segments = this.cuts.length - 1;
    this.shares = new Float64Array(segments);
    this.touched = new Uint8Array(segments);
    this.isFixed = new Uint8Array(segments);
    this.#masses = new Float64Array(segments);
    for (let at = 0; at < this.fixed.length; at += 2) {
      const end = this.segmentOf((this.fixed[at + 1] ?? 0) + 1);
      for (let segment = this.segmentOf(this.fixed[at] ?? 0); segment < end; segment++) {
        this.isFixed[segment] = 1;
        this.touched[segment] = 1;
        this.shares[segment] = 1;
      }
    }
    for (const { first, last, perPiece } of this.inflows) {
      const end = this.segmentOf(last + 1);
      for (let segment = this.segmentOf(first); segment < end; segment++) this.#masses[segment] = (this.#masses[segment] ?? 0) + perPiece;
    }
  }

  /** The segment that holds a piece; the number of segments for the piece after the last. */
  segmentOf(piece: number): number {
    let low = 0;
    let high = this.cuts.length - 1;
    while (low < high) {
      const mid = (low + high + 1) >>> 1;
      if ((this.cuts[mid] ?? 0) <= piece) low = mid;
      else high = mid - 1;
    }
    return low;
  }

  /** Works out the shares from those of the sources as they stand, and marks what is touched. */
  evaluate(): Float64Array {
    const shares = new Float64Array(this.shares.length);
    for (const inflow of this.inflows) if (inflow.source !== null) this.#addInflow(inflow, inflow.source, shares);
    for (let segment = 0; segment < shares.length; segment++) {
      const mass = this.#masses[segment] ?? 0;
      shares[segment] = this.isFixed[segment] === 1 ? 1 : mass > 0 ? (shares[segment] ?? 0) / mass : 0;
    }
    return shares;
  }

  /** Mean share over pieces first..last, and whether any is touched. */
  mean(first: number, last: number): { share: number; touched: boolean } {
    let sum = 0;
    let touched = false;
    this.#eachOverlap(first, last, (segment, pieces) => {
      sum += (this.shares[segment] ?? 0) * (pieces / (last - first + 1));
      touched ||= this.touched[segment] === 1;
    });
    return { share: sum, touched };
  }

  /** Every segment a segment's content comes from, with its part of the mass; source null for material that is not affected. */
  eachSource(segment: number, visit: (source: ShareNode | null, sourceSegment: number, part: number) => void): void {
    const piece = this.cuts[segment] ?? 0;
    for (const { first, last, perPiece, source, sourceFirst, sourceLast, each } of this.inflows) {
      if (piece < first || piece > last) continue;
      const part = perPiece / (this.#masses[segment] ?? 1);
      if (source === null) visit(null, 0, part);
      else if (each) visit(source, source.segmentOf(piece - first + sourceFirst), part);
      else
        source.#eachOverlap(sourceFirst, sourceLast, (at, pieces) => visit(source, at, (part * pieces) / (sourceLast - sourceFirst + 1)));
    }
  }

  #eachOverlap(first: number, last: number, visit: (segment: number, pieces: number) => void): void {
    for (let segment = this.segmentOf(first); segment < this.shares.length && (this.cuts[segment] ?? 0) <= last; segment++) {
      visit(segment, Math.min(last, (this.cuts[segment + 1] ?? 0) - 1) - Math.max(first, this.cuts[segment] ?? 0) + 1);
    }
  }

  #addInflow(inflow: Inflow, source: ShareNode, shares: Float64Array): void {
    const { first, last, perPiece, each, sourceFirst, sourceLast } = inflow;
    const whole = each ? null : source.mean(sourceFirst, sourceLast);
    const end = this.segmentOf(last + 1);
    for (let segment = this.segmentOf(first); segment < end; segment++) {
      const opposite = each ? source.segmentOf((this.cuts[segment] ?? 0) - first + sourceFirst) : 0;
      const share = whole ? whole.share : (source.shares[opposite] ?? 0);
      shares[segment] = (shares[segment] ?? 0) + perPiece * share;
      if (whole ? whole.touched : source.touched[opposite] === 1) this.touched[segment] = 1;
    }
  }
}

/** The reached lots with every blending link into them that counted as known at the time of the trace. */
export function shareGraph(genealogy: Genealogy, traced: Traced, origins: ReadonlyMap<number, FlatSpans>): ShareNode[] {
  const { marks, table } = genealogy;
  marks.begin(genealogy.lotCount);
  const nodes = traced.lots.map(({ lot }, place) => {
    marks.set(lot, place);
    const node = new ShareNode(lot, Math.max(1, genealogy.piecesOf(lot)));
    node.fixed = origins.get(lot) ?? [];
    return node;
  });
  const limit = genealogy.countKnownAt(traced.asKnownAt);
  for (const node of nodes) {
    if (!genealogy.mayBlendInto(node.lot)) continue;
    const rows: number[] = [];
    genealogy.eachRow(node.lot, 'into', (row) => {
      if (row < limit && table.massAt(row) > 0 && !genealogy.isVoid(row, traced.asKnownAt)) rows.push(row);
    });
    // Always added up in ledger order, so that the last bit of a share does not depend on when the index was compacted.
    for (const row of rows.toSorted((a, b) => a - b)) node.inflows.push(inflowOf(genealogy, row, nodes));
  }
  return nodes;
}

function inflowOf(genealogy: Genealogy, row: number, nodes: readonly ShareNode[]): Inflow {
  const { words } = genealogy.table;
  const word = row * STRIDE;
  const flags = words[word] ?? 0;
  const place = genealogy.marks.get(flags & LOT_MASK);
  // A bulk side is piece 1 of 1.
  const at = (offset: number): number => words[word + offset] || 1;
  return {
    perPiece: genealogy.table.massAt(row) / (at(5) - at(4) + 1),
    first: at(4),
    last: at(5),
    source: place < 0 ? null : (nodes[place] ?? null),
    sourceFirst: at(1),
    sourceLast: at(2),
    each: (flags & EACH) !== 0,
  };
}

/** The origin's pieces by lot, of share 1. */
export function fixedPieces(
  genealogy: Genealogy,
  traced: Traced,
  origins: readonly { lot: number; spans: readonly (readonly [number, number])[] | null }[],
): Map<number, FlatSpans> {
  const fixed = new Map<number, FlatSpans>();
  for (const { lot, spans } of origins) {
    if (traced.get(lot) === undefined) continue;
    const flat = spans === null ? [1, Math.max(1, genealogy.piecesOf(lot))] : toFlat(spans);
    fixed.set(lot, [...(fixed.get(lot) ?? []), ...flat]);
  }
  return fixed;
}
