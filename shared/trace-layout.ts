import { linkHorizontal } from 'd3-shape';
import { hundredths } from './hundredths.js';
import { measure, settle } from './trace-breadths.js';
import { columnsOf } from './trace-cycles.js';
import type { Fold, FoldedNode, OpenedFold } from './trace-fold.js';
import { foldRiver } from './trace-fold.js';
import type { Flow, RiverGraph } from './trace-graph.js';
import { orderGraph } from './trace-graph.js';

/** How large and how detailed; lengths in the units of the picture (CSS pixels on screen, points in a PDF). */
export interface RiverOptions {
  /** Width of the whole picture; it is exceeded only when the columns would run into one another. */
  readonly width: number;
  /** Smallest height; the picture grows with its fullest column. Default 0. */
  readonly minHeight?: number;
  /** Fold when there are more nodes. Default 300. */
  readonly maxNodes?: number;
  /** Fold across columns when a chain is longer. Default 24. */
  readonly maxColumns?: number;
  /** Ids that never fold. */
  readonly keep?: readonly string[];
  /** Ids of folds that are drawn as their parts: as the nodes they stand for, or, if those are many, as smaller folds. */
  readonly open?: readonly string[];
  /** The text of a folded node. Default `34 × batch, 2026-03-01 to 2026-03-28`. */
  readonly foldLabel?: (fold: Fold) => string;
  /** Height of the bands of the fullest column, all together. Default 260. */
  readonly bandHeight?: number;
  /** Thinnest band. Default 1. */
  readonly minBand?: number;
  /** Width of a node. Default 9. */
  readonly nodeWidth?: number;
  /** Height a node's label takes, both lines; nodes of a column keep that distance. Default 28. */
  readonly labelHeight?: number;
  /** Room for the labels right of the last column. Default 170. */
  readonly labelRoom?: number;
  /** Mean width of a character of a label. Default 6.4. */
  readonly charWidth?: number;
  /** Empty border on every side. Default 16. */
  readonly margin?: number;
  /** Shortest way from a column to the next. Default 33, which leaves no room for labels. */
  readonly columnRoom?: number;
}

/** A node with its place. `label` and `note` are whole; `shortLabel` and `shortNote` fit `labelWidth`. */
export interface PlacedNode extends FoldedNode {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly column: number;
  readonly labelX: number;
  /** The middle of the label's height. */
  readonly labelY: number;
  readonly labelWidth: number;
  readonly shortLabel: string;
  readonly shortNote: string;
}

/** A band with its place: an SVG path along its middle, to be stroked `width` wide. */
export interface PlacedLink extends Flow {
  readonly path: string;
  readonly width: number;
}

/** The river as positions and paths: the same for the screen and for a document. */
export interface River {
  readonly width: number;
  readonly height: number;
  readonly columns: number;
  readonly nodes: readonly PlacedNode[];
  readonly links: readonly PlacedLink[];
  /** Links that run back (rework into an earlier batch), led below the columns; their width is not to scale. */
  readonly backLinks: readonly PlacedLink[];
  /** Nodes of the trace before folding. */
  readonly totalNodes: number;
  /** Folds that are drawn as their parts, outermost first. */
  readonly opened: readonly OpenedFold[];
}

type Size = Required<Omit<RiverOptions, 'keep' | 'open' | 'foldLabel' | 'maxNodes' | 'maxColumns'>>;

const LABEL_GAP = 6;
const LANE = 10;
const LANE_BAND = 6;
const TURN = 12;
const DEFAULTS: Omit<Size, 'width'> = {
  minHeight: 0,
  bandHeight: 260,
  minBand: 1,
  nodeWidth: 9,
  labelHeight: 28,
  labelRoom: 170,
  charWidth: 6.4,
  margin: 16,
  columnRoom: 33,
};

function defaultFoldLabel({ kind, count, from, until }: Fold): string {
  const first = from?.slice(0, 10);
  const last = until?.slice(0, 10);
  const time = first === undefined || last === undefined ? '' : first === last ? `, ${first}` : `, ${first} to ${last}`;
  return `${count} × ${kind}${time}`;
}

/** The text cut to fit a width, its end marked; empty when not even two characters fit. */
function cutText(text: string, width: number, charWidth: number): string {
  const characters = Array.from(text);
  const fit = Math.floor(width / charWidth);
  if (characters.length <= fit) return text;
  return fit < 2
    ? ''
    : `${characters
        .slice(0, fit - 1)
        .join('')
        .trimEnd()}…`;
}

function placeNode(
  node: FoldedNode,
  column: number,
  step: number,
  lastColumn: number,
  { y0, y1 }: { y0: number; y1: number },
  size: Size,
): PlacedNode {
  const x = hundredths(size.margin + column * step);
  const room = column === lastColumn ? size.labelRoom - LABEL_GAP : step - size.nodeWidth - 2 * LABEL_GAP;
  const labelWidth = hundredths(Math.max(0, room));
  return {
    ...node,
    x,
    y: hundredths(y0),
    width: size.nodeWidth,
    height: hundredths(y1 - y0),
    column,
    labelX: hundredths(x + size.nodeWidth + LABEL_GAP),
    labelY: hundredths((y0 + y1) / 2),
    labelWidth,
    shortLabel: cutText(node.label, labelWidth, size.charWidth),
    shortNote: cutText(node.note ?? '', labelWidth, size.charWidth),
  };
}

/** The way of a link that runs back: out to the right, down below every column, left, and up into its target. */
function backPath(source: PlacedNode, target: PlacedNode, lane: number): string {
  const sx = hundredths(source.x + source.width);
  const sy = hundredths(source.y + source.height / 2);
  const ty = hundredths(target.y + target.height / 2);
  const [right, left, tx] = [hundredths(sx + TURN), hundredths(target.x - TURN), target.x];
  return `M${sx},${sy}C${right},${sy},${right},${lane},${sx},${lane}L${tx},${lane}C${left},${lane},${left},${ty},${tx},${ty}`;
}

function at(placed: ReadonlyMap<string, PlacedNode>, id: string): PlacedNode {
  const node = placed.get(id);
  if (node === undefined) throw new RangeError(`the river has no node ${id}`);
  return node;
}

/**
 * Lays out a trace from suppliers' lots on the left to customers on the right: rectangles for nodes, a path for each band, width by
 * value. Pure, and the same for the same graph in whatever order it is given. Circles are cut and listed as `backLinks`; more than
 * `maxNodes` nodes are folded by kind and time, every fold saying how many it holds. Bands thinner than `minBand` are drawn that wide.
 * @throws RangeError when two nodes share an id, or a link names no node or has no finite width
 * @throws QuantityFault when folded quantities add up to more than can be kept exactly
 */
export function layoutTrace(graph: RiverGraph, options: RiverOptions): River {
  const asked: Size = { ...DEFAULTS, ...options };
  const { nodes, flows } = orderGraph(graph);
  const river = foldRiver(nodes, flows, {
    maxNodes: options.maxNodes ?? 300,
    maxColumns: options.maxColumns ?? 24,
    keep: new Set(options.keep),
    open: new Set(options.open),
    label: options.foldLabel ?? defaultFoldLabel,
  });
  const column = columnsOf(river.nodes, river.onward);
  const lastColumn = [...column.values()].reduce((last, i) => Math.max(last, i), 0);
  const narrowest =
    2 * asked.margin + asked.labelRoom + asked.nodeWidth + lastColumn * Math.max(asked.columnRoom, asked.nodeWidth + 2 * TURN);
  const size: Size = { ...asked, width: Math.max(asked.width, narrowest) };
  const base = { width: size.width, totalNodes: nodes.length, opened: river.opened };
  if (nodes.length === 0)
    return { ...base, height: Math.max(size.minHeight, 2 * size.margin), columns: 0, nodes: [], links: [], backLinks: [] };

  const sized = measure(river, column, size);
  const { tops, bands } = settle(river, column, sized, size);
  const step = lastColumn === 0 ? size.labelRoom : (size.width - 2 * size.margin - size.labelRoom - size.nodeWidth) / lastColumn;
  const placed = new Map(
    river.nodes.map((node) => {
      const spot = tops.get(node.id) ?? { y0: 0, y1: 0 };
      return [node.id, placeNode(node, column.get(node.id) ?? 0, step, lastColumn, spot, size)] as const;
    }),
  );
  const floor = size.margin + sized.contentHeight + size.labelHeight;
  const curve = linkHorizontal();
  return {
    ...base,
    height: hundredths(Math.max(size.minHeight, floor + river.back.length * LANE + size.margin)),
    columns: lastColumn + 1,
    nodes: [...placed.values()],
    links: bands.map(({ flow, y0, y1, width }) => {
      const source = at(placed, flow.source);
      const ends = { source: [source.x + source.width, hundredths(y0)], target: [at(placed, flow.target).x, hundredths(y1)] } as const;
      return { ...flow, path: curve({ source: [...ends.source], target: [...ends.target] }) ?? '', width: hundredths(width) };
    }),
    backLinks: river.back.map((flow, i) => ({
      ...flow,
      path: backPath(at(placed, flow.source), at(placed, flow.target), hundredths(floor + i * LANE + LANE / 2)),
      width: hundredths(Math.min(LANE_BAND, Math.max(size.minBand, flow.value * sized.scale))),
    })),
  };
}
