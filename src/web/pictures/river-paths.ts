import type { RiverGraph } from '../../../shared/trace-graph.js';
import type { PlacedNode, River } from '../../../shared/trace-layout.js';

interface Band {
  readonly source: string;
  readonly target: string;
  readonly value: number;
}

/** Who is next to whom in a picture of the river, the broadest band first. */
export interface RiverPaths {
  readonly onward: ReadonlyMap<string, readonly string[]>;
  readonly back: ReadonlyMap<string, readonly string[]>;
  /** Nodes of each column from top to bottom. */
  readonly columns: readonly (readonly PlacedNode[])[];
  readonly node: ReadonlyMap<string, PlacedNode>;
  /** The node that a node of the trace is drawn in: itself or the fold it is in. */
  readonly drawnIn: ReadonlyMap<string, string>;
}

function grouped(bands: readonly Band[], from: 'source' | 'target', to: 'source' | 'target'): Map<string, string[]> {
  const groups = new Map<string, string[]>();
  for (const band of bands) {
    const group = groups.get(band[from]);
    if (group === undefined) groups.set(band[from], [band[to]]);
    else if (!group.includes(band[to])) group.push(band[to]);
  }
  return groups;
}

export function pathsOf(river: River): RiverPaths {
  const bands = [...river.links, ...river.backLinks].toSorted((a, b) => b.value - a.value);
  const columns = Array.from({ length: river.columns }, (): PlacedNode[] => []);
  for (const node of river.nodes) columns[node.column]?.push(node);
  return {
    onward: grouped(bands, 'source', 'target'),
    back: grouped(bands, 'target', 'source'),
    columns: columns.map((column) => column.toSorted((a, b) => a.y - b.y)),
    node: new Map(river.nodes.map((node) => [node.id, node])),
    drawnIn: new Map(river.nodes.flatMap((node) => node.members.map((member) => [member, node.id] as const))),
  };
}

/** Who is next to whom in the trace itself, folded or not. */
interface Neighbours {
  readonly onward: ReadonlyMap<string, readonly string[]>;
  readonly back: ReadonlyMap<string, readonly string[]>;
}

const neighbours = new WeakMap<RiverGraph, Neighbours>();

/** Found out when a node of a trace is first pointed at: drawing it does not wait for that. */
function neighboursIn(graph: RiverGraph): Neighbours {
  const known = neighbours.get(graph);
  if (known !== undefined) return known;
  const onward = new Map<string, string[]>();
  const back = new Map<string, string[]>();
  const note = (side: Map<string, string[]>, id: string, other: string): void => {
    const list = side.get(id);
    if (list === undefined) side.set(id, [other]);
    else list.push(other);
  };
  for (const { source, target } of graph.links) {
    note(onward, source, target);
    note(back, target, source);
  }
  neighbours.set(graph, { onward, back });
  return { onward, back };
}

function reachOneWay(from: readonly string[], next: ReadonlyMap<string, readonly string[]>): Set<string> {
  const found = new Set(from);
  const waiting = [...from];
  for (let id = waiting.pop(); id !== undefined; id = waiting.pop()) {
    for (const other of next.get(id) ?? []) {
      if (found.has(other)) continue;
      found.add(other);
      waiting.push(other);
    }
  }
  return found;
}

/** Everything up- and downstream of a node: what came into it and what became of it, and the bands between these. */
export interface Reach {
  readonly nodes: ReadonlySet<string>;
  readonly holdsBand: (band: Pick<Band, 'source' | 'target'>) => boolean;
}

/**
 * Followed in the trace itself and not in the picture: what goes into one lot of a fold has not gone into what became of the others. A
 * fold lights up as soon as one lot in it is reached.
 */
export function reachOf(id: string, { node, drawnIn }: Pick<RiverPaths, 'node' | 'drawnIn'>, graph: RiverGraph): Reach {
  const from = node.get(id)?.members ?? [];
  const { onward, back } = neighboursIn(graph);
  const [down, up] = [reachOneWay(from, onward), reachOneWay(from, back)];
  const nodes = new Set<string>();
  for (const side of [up, down]) for (const one of side) nodes.add(drawnIn.get(one) ?? one);
  const bands = new Map<string, Set<string>>();
  for (const { source, target } of graph.links) {
    if (!((down.has(source) && down.has(target)) || (up.has(source) && up.has(target)))) continue;
    const end = drawnIn.get(source) ?? source;
    const targets = bands.get(end) ?? new Set();
    bands.set(end, targets.add(drawnIn.get(target) ?? target));
  }
  return { nodes, holdsBand: ({ source, target }) => bands.get(source)?.has(target) ?? false };
}

/**
 * Where an arrow key leads: left and right along the broadest band, or back to where one came from; up and down within the column;
 * Home and End to its ends. Null when there is nothing that way.
 */
export function stepFrom(id: string, key: string, paths: RiverPaths, cameFrom: string | null): string | null {
  const column = paths.columns[paths.node.get(id)?.column ?? -1] ?? [];
  const at = column.findIndex((node) => node.id === id);
  const along = (next: readonly string[] = []): string | null =>
    (cameFrom !== null && next.includes(cameFrom) ? cameFrom : next.find((other) => other !== id)) ?? null;
  switch (key) {
    case 'ArrowRight':
      return along(paths.onward.get(id));
    case 'ArrowLeft':
      return along(paths.back.get(id));
    case 'ArrowDown':
      return column[at + 1]?.id ?? null;
    case 'ArrowUp':
      return at > 0 ? (column[at - 1]?.id ?? null) : null;
    case 'Home':
      return column[0]?.id ?? null;
    case 'End':
      return column.at(-1)?.id ?? null;
    default:
      return null;
  }
}
