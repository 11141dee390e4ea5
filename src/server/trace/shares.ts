import { type SpanSet, subtractSpans } from '../../../shared/spans.js';
import { type FlatSpans, normalise, toSpanSet } from './flat-spans.js';
import type { Genealogy } from './genealogy.js';
import { settleCycle } from './share-cycle.js';
import { fixedPieces, shareGraph, type ShareNode } from './share-graph.js';
import { componentsInOrder } from './share-order.js';
import type { Origin, Traced } from './traced.js';
import { traceForward } from './walk.js';

/**
 * The mass fraction of a lot's blended content that stems from the origins, if every vessel was well mixed. `share` is null
 * where none of the origin's blended material arrives: what only lies beside it, such as a label, is counted and not shared.
 * For a numbered lot `share` is the mean over all its pieces, and `shares` cuts them all into [first, last, share].
 */
export interface LotShare {
  readonly lot: number;
  readonly share: number | null;
  readonly shares: readonly (readonly [first: number, last: number, share: number])[] | null;
}

export interface Shares {
  readonly byLot: ReadonlyMap<number, LotShare>;
  /** Lots on cycles whose shares could not be settled to the last digits. Empty on any plant that gives something away. */
  readonly unsettled: readonly number[];
}

/**
 * Shares of every lot a forward trace reached, origins included. Linear in the blending links of those lots. Chains of heels
 * are followed to their end, however small the share becomes.
 * @param traced the answer of `traceForward`, narrow scope, to the same origins
 */
export function sharesOf(genealogy: Genealogy, traced: Traced, origins: readonly Origin[]): Shares {
  const nodes = shareGraph(genealogy, traced, fixedPieces(genealogy, traced, origins));
  const unsettled: number[] = [];
  for (const component of componentsInOrder(nodes)) {
    if (!settle(component)) unsettled.push(...component.map(({ lot }) => lot));
  }
  return { byLot: new Map(nodes.map((node) => [node.lot, lotShare(node, genealogy.piecesOf(node.lot) === 0)])), unsettled };
}

function settle(component: readonly ShareNode[]): boolean {
  // Pieces mapped one to one carry the cuts of their source along, around a cycle as far as it takes.
  let cutting = true;
  while (cutting) {
    cutting = false;
    for (const node of component) cutting = node.cutUp() || cutting;
    if (component.length === 1 && !component[0]?.inflows.some(({ source }) => source === component[0])) break;
  }
  for (const node of component) node.prepare();
  const [single] = component;
  if (component.length === 1 && single && !single.inflows.some(({ source }) => source === single)) {
    single.shares = single.evaluate();
    return true;
  }
  return settleCycle(component);
}

function lotShare(node: ShareNode, isBulk: boolean): LotShare {
  const { lot } = node;
  if (!node.touched.includes(1)) return { lot, share: null, shares: null };
  if (isBulk) return { lot, share: node.shares[0] ?? 0, shares: null };
  const shares: [number, number, number][] = [];
  for (let segment = 0; segment < node.shares.length; segment++) {
    const share = node.shares[segment] ?? 0;
    const last = (node.cuts[segment + 1] ?? 0) - 1;
    const before = shares.at(-1);
    if (before && before[2] === share) before[1] = last;
    else shares.push([node.cuts[segment] ?? 0, last, share]);
  }
  return { lot, share: node.mean(1, node.pieces).share, shares };
}

/** What a share cut-off leaves out of a lot: pieces (null: the bulk lot), and the greatest share among them. */
interface LeftOut {
  readonly lot: number;
  readonly spans: SpanSet | null;
  readonly share: number | null;
}

/**
 * The trace again, not followed through blending where the share is below `cutOff`, and everything that leaves out. Pieces
 * that the origin also reaches without blending stay in.
 */
export function cutByShare(
  genealogy: Genealogy,
  traced: Traced,
  origins: readonly Origin[],
  cutOff: number,
): { kept: Traced; leftOut: LeftOut[] } {
  const { byLot } = sharesOf(genealogy, traced, origins);
  const notBlendedInto = new Map<number, FlatSpans | null>();
  for (const { lot, share, shares } of byLot.values()) {
    if (share === null) continue;
    if (shares === null && share < cutOff) notBlendedInto.set(lot, null);
    const below = (shares ?? []).filter((part) => part[2] < cutOff).flatMap(([first, last]) => [first, last]);
    normalise(below);
    if (below.length > 0) notBlendedInto.set(lot, below);
  }
  const kept = traceForward(genealogy, origins, { asKnownAt: traced.asKnownAt, notBlendedInto });
  const leftOut: LeftOut[] = [];
  for (const { lot, known } of traced.lots) {
    const still = kept.get(lot);
    if (known === null) {
      if (!still) leftOut.push({ lot, spans: null, share: byLot.get(lot)?.share ?? null });
      continue;
    }
    const spans = subtractSpans(toSpanSet(known), still?.spans ?? []);
    if (spans.length > 0) leftOut.push({ lot, spans, share: greatestShare(byLot.get(lot)?.shares ?? null, spans) });
  }
  return { kept, leftOut };
}

function greatestShare(shares: LotShare['shares'], spans: SpanSet): number | null {
  if (shares === null) return null;
  let greatest = 0;
  for (const [first, last, share] of shares) {
    if (share > greatest && spans.some((span) => span[0] <= last && first <= span[1])) greatest = share;
  }
  return greatest;
}
