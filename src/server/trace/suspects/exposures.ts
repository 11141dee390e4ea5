import { type AtomSet, Atoms } from './atoms.js';
import { componentsLastFirst } from './components.js';
import type { ExposureGraph } from './exposure-graph.js';

/** What every node of a graph leads to. */
export interface Exposures {
  readonly atoms: Atoms;
  /** By node. */
  readonly sets: readonly AtomSet[];
}

/** Words of sets joined between two pauses; a millisecond or so. */
const SLICE = 1_000_000;

/**
 * The places each node of an expanded graph leads to: its own and those of all nodes it leads to. Nodes that lead to each other, by rework,
 * lead to the same.
 * @param failed places that failed, in order
 */
export function* exposuresOf(graph: ExposureGraph, failed: readonly number[]): Generator<void, Exposures> {
  const { nodes } = graph;
  const ends: number[] = [];
  for (const { places } of nodes) for (let at = 0; at < places.length; at++) ends.push((places[at] ?? 0) + (at & 1));
  yield;
  const atoms = new Atoms(ends, failed);
  yield;
  const components = componentsLastFirst(nodes.map(({ next }) => next));
  yield;
  const sets: AtomSet[] = [];
  let joined = 0;
  for (const component of components) {
    const inside = new Set(component);
    const leads = new Set<AtomSet>();
    const places: number[] = [];
    for (const at of component) {
      const node = nodes[at]!;
      for (const next of node.next) if (!inside.has(next)) leads.add(sets[next]!);
      for (const place of node.places) places.push(place);
    }
    const set = atoms.union([...leads], places);
    for (const at of component) sets[at] = set;
    joined += (leads.size + 1) * (atoms.count >>> 5) + places.length + 50;
    if (joined > SLICE) {
      joined = 0;
      yield;
    }
  }
  return { atoms, sets };
}
