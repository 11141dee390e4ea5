import type { ShareNode } from './share-graph.js';

interface Frame {
  readonly node: ShareNode;
  readonly index: number;
  low: number;
  next: number;
}

/**
 * The nodes in topological order of blending, sources first, with every cycle condensed into one component (Tarjan 1972,
 * "Depth-first search and linear graph algorithms"; a loop instead of recursion, as heel chains run to thousands of lots).
 * Linear in nodes and links.
 */
export function componentsInOrder(nodes: readonly ShareNode[]): ShareNode[][] {
  const indices = new Map<ShareNode, number>();
  const open = new Set<ShareNode>();
  const stack: ShareNode[] = [];
  const components: ShareNode[][] = [];
  const enter = (node: ShareNode): Frame => {
    const index = indices.size;
    indices.set(node, index);
    open.add(node);
    stack.push(node);
    return { node, index, low: index, next: 0 };
  };
  for (const root of nodes) {
    if (indices.has(root)) continue;
    const frames: Frame[] = [enter(root)];
    for (let frame = frames.at(-1); frame !== undefined; frame = frames.at(-1)) {
      const inflow = frame.node.inflows[frame.next++];
      if (inflow === undefined) {
        frames.pop();
        const parent = frames.at(-1);
        if (parent && frame.low < parent.low) parent.low = frame.low;
        if (frame.low === frame.index) components.push(closeComponent(stack, open, frame.node));
        continue;
      }
      if (inflow.source === null) continue;
      const seen = indices.get(inflow.source);
      if (seen === undefined) frames.push(enter(inflow.source));
      else if (open.has(inflow.source) && seen < frame.low) frame.low = seen;
    }
  }
  return components;
}

function closeComponent(stack: ShareNode[], open: Set<ShareNode>, root: ShareNode): ShareNode[] {
  const component: ShareNode[] = [];
  for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
    open.delete(node);
    component.push(node);
    if (node === root) break;
  }
  return component;
}
