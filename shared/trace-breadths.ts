import { sankey } from 'd3-sankey';
import type { FoldedRiver } from './trace-fold.js';
import type { Flow } from './trace-graph.js';

/** The lengths the vertical layout rests on, in the units of the picture. */
interface BreadthSize {
  readonly width: number;
  readonly margin: number;
  readonly bandHeight: number;
  readonly minBand: number;
  readonly nodeWidth: number;
  readonly labelHeight: number;
}

/** Lowest node, so that one without any band is still seen. */
const MIN_NODE = 3;

/** How long things are: picture lengths per link value, each node's height, and what the fullest column needs. */
interface Sized {
  readonly scale: number;
  readonly nodeHeight: ReadonlyMap<string, number>;
  readonly contentHeight: number;
}

/** The larger of what flows into and out of every node. */
function throughput(river: FoldedRiver, bandOf: (flow: Flow) => number): Map<string, number> {
  const inward = new Map<string, number>();
  const outward = new Map<string, number>();
  for (const flow of river.onward) {
    inward.set(flow.target, (inward.get(flow.target) ?? 0) + bandOf(flow));
    outward.set(flow.source, (outward.get(flow.source) ?? 0) + bandOf(flow));
  }
  return new Map(river.nodes.map(({ id }) => [id, Math.max(inward.get(id) ?? 0, outward.get(id) ?? 0)]));
}

/** The fullest column: its nodes and the gaps between them. */
function perColumn(heights: ReadonlyMap<string, number>, column: ReadonlyMap<string, number>, gap: number): number {
  const sums: number[] = [];
  for (const [id, height] of heights) {
    const i = column.get(id) ?? 0;
    sums[i] = (sums[i] ?? -gap) + height + gap;
  }
  return sums.reduce((most, sum) => Math.max(most, sum), 0);
}

/** Chooses the scale by the fullest column, then the height that column needs once thin bands are widened to be seen. */
export function measure(river: FoldedRiver, column: ReadonlyMap<string, number>, size: BreadthSize): Sized {
  const fullest = perColumn(
    throughput(river, ({ value }) => value),
    column,
    0,
  );
  const scale = fullest > 0 ? size.bandHeight / fullest : 0;
  const bands = throughput(river, ({ value }) => Math.max(size.minBand, value * scale));
  const nodeHeight = new Map([...bands].map(([id, height]) => [id, Math.max(MIN_NODE, height)]));
  return { scale, nodeHeight, contentHeight: perColumn(nodeHeight, column, size.labelHeight) };
}

type SankeyNode = { id: string; fixedValue: number };
type SankeyLink = { source: string; target: string; value: number; flow: Flow };

/** Where nodes and bands lie up and down; a band's y0 and y1 are its middle at either end. */
interface Breadths {
  readonly tops: ReadonlyMap<string, { y0: number; y1: number }>;
  readonly bands: readonly { flow: Flow; y0: number; y1: number; width: number }[];
}

/** Lets d3-sankey order each column and place it up and down, in lengths that are already those of the picture. */
export function settle(river: FoldedRiver, column: ReadonlyMap<string, number>, sized: Sized, size: BreadthSize): Breadths {
  const top = size.margin + size.labelHeight / 2;
  const layout = sankey<SankeyNode, SankeyLink>()
    .nodeId(({ id }) => id)
    .nodeAlign((node) => ('id' in node ? (column.get(node.id) ?? 0) : 0))
    .nodeWidth(size.nodeWidth)
    .nodePadding(size.labelHeight)
    .iterations(12)
    .extent([
      [0, top],
      [size.width, top + sized.contentHeight],
    ]);
  const { nodes, links } = layout({
    nodes: river.nodes.map(({ id }) => ({ id, fixedValue: sized.nodeHeight.get(id) ?? 0 })),
    links: river.onward.map((flow) => ({
      source: flow.source,
      target: flow.target,
      value: Math.max(size.minBand, flow.value * sized.scale),
      flow,
    })),
  });
  return {
    tops: new Map(nodes.map(({ id, y0 = 0, y1 = 0 }) => [id, { y0, y1 }])),
    bands: links.map(({ flow, y0 = 0, y1 = 0, width = 0 }) => ({ flow, y0, y1, width })),
  };
}
