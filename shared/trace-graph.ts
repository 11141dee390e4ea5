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

/** Order by UTF-16 code units, the same on every machine. */
export function byCodeUnits(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Customers and places where goods now are: drawn last, whatever led there. */
export function isEnd(node: RiverNode): boolean {
  return node.layer === 'customer' || node.layer === 'whereabouts';
}

type Joined = [clean?: Flow, affected?: Flow];

const inCodeOrder = <Value>(map: ReadonlyMap<string, Value>): [string, Value][] => [...map].toSorted(([a], [b]) => byCodeUnits(a, b));

/**
 * Joins flows of the same ends and colour; the order of the result does not depend on that of the input. Ends are looked up and not
 * written together as keys: there are tens of thousands of flows, and this is done several times a drawing.
 */
export function mergeFlows(flows: Iterable<Flow>): Flow[] {
  const bySource = new Map<string, Map<string, Joined>>();
  for (const flow of flows) {
    const byTarget = bySource.get(flow.source) ?? new Map<string, Joined>();
    if (byTarget.size === 0) bySource.set(flow.source, byTarget);
    const joined = byTarget.get(flow.target) ?? [];
    if (joined.length === 0) byTarget.set(flow.target, joined);
    const colour = flow.affected ? 1 : 0;
    const known = joined[colour];
    joined[colour] = known === undefined ? flow : { ...known, value: known.value + flow.value, count: known.count + flow.count };
  }
  const ordered = inCodeOrder(bySource).flatMap(([, byTarget]) => inCodeOrder(byTarget).flatMap(([, joined]) => joined));
  return ordered.filter((flow) => flow !== undefined);
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
    for (const end of [source, target]) if (!ids.has(end)) throw new RangeError(`a link of the river names ${end}, which is no node`);
    if (!(value >= 0 && Number.isFinite(value))) throw new RangeError(`the link from ${source} to ${target} has no width: ${value}`);
  }
  return {
    nodes: graph.nodes.toSorted((a, b) => byCodeUnits(a.at ?? '', b.at ?? '') || byCodeUnits(a.id, b.id)),
    flows: mergeFlows(graph.links.map(({ source, target, value, affected }) => ({ source, target, value, affected, count: 1 }))),
  };
}
