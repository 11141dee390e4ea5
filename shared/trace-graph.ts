import { byCodeUnits } from './code-units.js';
/** Where a node of the river stands in the plant: it decides the side it is drawn on, and what it folds with. */
export type RiverLayer = 'supplier-lot' | 'lot' | 'batch' | 'run' | 'customer' | 'whereabouts';

/** One lot, run, customer or place of a trace. */
export interface RiverNode {
  readonly id: string;
  /** The full text shown beside the node. */
  readonly label: string;
  /** A second, quieter line: the item's name, how much is affected. */
  readonly note?: string;
  readonly layer: RiverLayer;
  /** What it folds with: an item class, a kind of run, a fate. */
  readonly kind: string;
  /** Whole millionths of `unit`. */
  readonly quantityMicro: number;
  /** Quantities of different units are never added up. */
  readonly unit?: string;
  /** The part of it that is affected, 0 to 1, or null where nobody can say. */
  readonly affectedShare: number | null;
  /** When it came to be, a UTC instant, or null. */
  readonly at: string | null;
}

/** Material going from one node to another. */
export interface RiverLink {
  readonly source: string;
  readonly target: string;
  /** How wide the band is; 0 or more, in one measure for the whole river (kilograms, pieces, …). */
  readonly value: number;
  readonly affected: boolean;
}

/** All links between two nodes that are alike in being affected, as one band. */
export interface Flow extends RiverLink {
  /** How many links it stands for. */
  readonly count: number;
}

/** A river before it has a shape. */
export interface RiverGraph {
  readonly nodes: readonly RiverNode[];
  readonly links: readonly RiverLink[];
}

/** Customers and places where goods now are: drawn last, whatever led there. */
export function isEnd(node: RiverNode): boolean {
  return node.layer === 'customer' || node.layer === 'whereabouts';
}

/** A flow still being added up. */
type Growing = { -readonly [Part in keyof Flow]: Flow[Part] };

const itself = (id: string): string => id;

/** Where every id that flows name ends, as its place among these ends in the order of code units. */
function ranksOf(flows: readonly RiverLink[], endOf: (id: string) => string): { ranks: Map<string, number>; ends: string[] } {
  const ids = new Set<string>();
  for (const { source, target } of flows) ids.add(source).add(target);
  const ends = [...new Set([...ids].map(endOf))].toSorted(byCodeUnits);
  const rank = new Map(ends.map((end, i) => [end, i]));
  return { ranks: new Map([...ids].map((id) => [id, rank.get(endOf(id)) ?? 0])), ends };
}

/**
 * Joins flows of the same ends and colour; the order of the result does not depend on that of the input. Ends are numbered, not written
 * together as keys, and sums grow in place: there are tens of thousands of flows, and this is done several times a drawing.
 * @param flows flows, or links, each of which counts as one
 * @param endOf where an end named by a flow is drawn, itself unless it is said
 */
export function mergeFlows(flows: readonly (RiverLink & Partial<Flow>)[], endOf: (id: string) => string = itself): Flow[] {
  const { ranks, ends } = ranksOf(flows, endOf);
  const merged = new Map<number, Growing>();
  for (const { source, target, value, affected, count = 1 } of flows) {
    const [from, to] = [ranks.get(source) ?? 0, ranks.get(target) ?? 0];
    const key = (from * ends.length + to) * 2 + (affected ? 1 : 0);
    const known = merged.get(key);
    if (known === undefined) {
      merged.set(key, { source: ends[from] ?? source, target: ends[to] ?? target, value, affected, count });
    } else {
      known.value += value;
      known.count += count;
    }
  }
  return Array.from(Float64Array.from(merged.keys()).toSorted(), (key) => merged.get(key)).filter((flow) => flow !== undefined);
}

/**
 * The graph in its one order (nodes by time, then id) with links joined into flows.
 * @throws RangeError when two nodes have one id, a link names no node, or its value is no width
 */
export function orderGraph(graph: RiverGraph): { nodes: RiverNode[]; flows: Flow[] } {
  const ids = new Set<string>();
  for (const { id } of graph.nodes) {
    if (ids.has(id)) throw new RangeError(`the river has two nodes ${id}`);
    ids.add(id);
  }
  for (const { source, target, value } of graph.links) {
    const unknown = ids.has(source) ? (ids.has(target) ? null : target) : source;
    if (unknown !== null) throw new RangeError(`a link of the river names ${unknown}, which is no node`);
    if (!(value >= 0 && Number.isFinite(value))) throw new RangeError(`the link from ${source} to ${target} has no width: ${value}`);
  }
  return {
    nodes: graph.nodes.toSorted((a, b) => byCodeUnits(a.at ?? '', b.at ?? '') || byCodeUnits(a.id, b.id)),
    flows: mergeFlows(graph.links),
  };
}
