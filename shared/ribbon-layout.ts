import { hundredths } from './hundredths.js';
import type { RibbonScale } from './ribbon-scale.js';
import { ribbonScale, xOfEdge } from './ribbon-scale.js';
import { ribbonTicks } from './ribbon-ticks.js';
import type { SpanSet } from './spans.js';
import { coversSpans, subtractSpans, wholeLot } from './spans.js';

/** One thing in a strip: an input lot and the pieces it went into, a customer and the pieces they got, a hold. */
export interface RibbonPart {
  readonly label: string;
  /** How it is drawn: `input`, `customer`, `on-hand`, `scrap`, `retain`, `held`, `nonconforming`, … */
  readonly kind: string;
  readonly spans: SpanSet;
  readonly affected?: boolean;
}

/** A strip above or below the pieces. Parts that share pieces are drawn in lanes of their own. */
export interface RibbonStrip {
  readonly label: string;
  readonly parts: readonly RibbonPart[];
}

/** A numbered lot: where its pieces came from and where they went. */
export interface RibbonInput {
  /** The lot's pieces are 1..pieces. */
  readonly pieces: number;
  readonly affected?: SpanSet;
  /** Where the pieces went and what stands against them, from the top. */
  readonly above: readonly RibbonStrip[];
  /** What the pieces were made of, from the top. */
  readonly below: readonly RibbonStrip[];
}

/** Lengths in the units of the picture. */
export interface RibbonOptions {
  readonly width: number;
  /** Room for the strips' labels on the left. Default 110. */
  readonly labelRoom?: number;
  /** Thinnest segment. Default 2. */
  readonly minWidth?: number;
  readonly barHeight?: number;
  readonly stripHeight?: number;
  readonly gap?: number;
  /** Room for the piece numbers on top. Default 18. */
  readonly axisHeight?: number;
  /** Mean width of a character. Default 6.4. */
  readonly charWidth?: number;
}

/** A run of pieces in a row. */
export interface RibbonSegment {
  readonly first: number;
  readonly last: number;
  readonly pieces: number;
  readonly x: number;
  readonly width: number;
  readonly label: string;
  /** The label where it fits into the segment, else empty. */
  readonly shortLabel: string;
  readonly kind: string;
  readonly affected: boolean;
}

/** A lane of a strip, or the bar of pieces. Segments of a row never overlap. */
export interface RibbonRow {
  readonly side: 'above' | 'bar' | 'below';
  readonly label: string;
  /** 0 for the first lane of a strip, which carries its label. */
  readonly lane: number;
  readonly y: number;
  readonly height: number;
  readonly segments: readonly RibbonSegment[];
  /** Where one thing gives way to another or ends: the first piece after the cut. */
  readonly cuts: readonly { readonly piece: number; readonly x: number }[];
}

/** The ribbon as positions. */
export interface Ribbon {
  readonly width: number;
  readonly height: number;
  readonly rows: readonly RibbonRow[];
  readonly ticks: readonly { readonly piece: number; readonly x: number }[];
  /** For `xOfEdge` and `pieceAtX`. */
  readonly scale: RibbonScale;
}

type Size = Required<RibbonOptions>;
type Piece = Pick<RibbonSegment, 'first' | 'last' | 'label' | 'kind' | 'affected'>;

const DEFAULTS: Omit<Size, 'width'> = {
  labelRoom: 110,
  minWidth: 2,
  barHeight: 26,
  stripHeight: 20,
  gap: 6,
  axisHeight: 18,
  charWidth: 6.4,
};
const BORDER = 20;
const SEGMENT_INSET = 6;

function runsOf(part: RibbonPart): Piece[] {
  return part.spans.map(([first, last]) => ({ first, last, label: part.label, kind: part.kind, affected: part.affected ?? false }));
}

/** Spreads runs over as few lanes as it takes for none to overlap; what comes first in the lot gets the higher lane. */
function lanesOf(strip: RibbonStrip): Piece[][] {
  const lanes: Piece[][] = [];
  const runs = strip.parts.flatMap(runsOf).toSorted((a, b) => a.first - b.first); // stable: equal starts keep the order of the parts
  for (const run of runs) {
    const free = lanes.find((lane) => (lane.at(-1)?.last ?? 0) < run.first);
    if (free === undefined) lanes.push([run]);
    else free.push(run);
  }
  return lanes.length === 0 ? [[]] : lanes;
}

function barOf({ pieces, affected = [] }: RibbonInput): Piece[] {
  const clean = subtractSpans(wholeLot(pieces), affected);
  return [
    ...runsOf({ label: 'affected', kind: 'piece', spans: affected, affected: true }),
    ...runsOf({ label: '', kind: 'piece', spans: clean, affected: false }),
  ].toSorted((a, b) => a.first - b.first);
}

function placeRow(
  row: Pick<RibbonRow, 'side' | 'label' | 'lane' | 'y' | 'height'>,
  runs: readonly Piece[],
  pieces: number,
  scale: RibbonScale,
  size: Size,
): RibbonRow {
  const segments = runs.map((run) => {
    const x = hundredths(xOfEdge(scale, run.first - 1));
    const width = hundredths(hundredths(xOfEdge(scale, run.last)) - x);
    const fits = Array.from(run.label).length * size.charWidth + 2 * SEGMENT_INSET <= width;
    return { ...run, pieces: run.last - run.first + 1, x, width, shortLabel: fits ? run.label : '' };
  });
  const inner = new Set(runs.flatMap(({ first, last }) => [first, last + 1]).filter((piece) => piece > 1 && piece <= pieces));
  const cuts = [...inner].toSorted((a, b) => a - b).map((piece) => ({ piece, x: hundredths(xOfEdge(scale, piece - 1)) }));
  return { ...row, segments, cuts };
}

/**
 * Lays out a numbered lot as a ribbon: the pieces as a bar, strips above for where they went, strips below for what they were made
 * of. All rows share one ruler, so a changeover is at the same x everywhere; slivers are widened to `minWidth` and never change order.
 * @throws RangeError when a span lies outside the lot
 */
export function layoutRibbon(input: RibbonInput, options: RibbonOptions): Ribbon {
  const size: Size = { ...DEFAULTS, ...options };
  const { pieces } = input;
  const whole = wholeLot(pieces);
  const strips = [...input.above, ...input.below];
  const named = strips.flatMap(({ parts }) => parts.map(({ label, spans }) => ({ label, spans })));
  for (const { label, spans } of [...named, { label: 'the affected set', spans: input.affected ?? [] }]) {
    if (!coversSpans(whole, spans)) throw new RangeError(`${label} has pieces outside 1 to ${pieces}`);
  }
  const bar = barOf(input);
  const planned = [
    ...input.above.map((strip) => ({ side: 'above' as const, label: strip.label, lanes: lanesOf(strip), height: size.stripHeight })),
    { side: 'bar' as const, label: 'Pieces', lanes: [bar], height: size.barHeight },
    ...input.below.map((strip) => ({ side: 'below' as const, label: strip.label, lanes: lanesOf(strip), height: size.stripHeight })),
  ];
  const edges = planned.flatMap(({ lanes }) => lanes.flat().flatMap(({ first, last }) => [first - 1, last]));
  const rulerWidth = Math.max(1, size.width - size.labelRoom - BORDER);
  const scale = ribbonScale(pieces, edges, size.labelRoom, rulerWidth, size.minWidth);
  let y = size.axisHeight;
  const rows = planned.flatMap(({ side, label, lanes, height }) =>
    lanes.map((runs, lane) => {
      const row = placeRow({ side, label, lane, y, height }, runs, pieces, scale, size);
      y += height + size.gap;
      return row;
    }),
  );
  const ticks = ribbonTicks([1, pieces], (piece) => hundredths(xOfEdge(scale, piece - 0.5)), size.charWidth);
  return { width: size.labelRoom + rulerWidth + BORDER, height: y, rows, ticks, scale };
}
