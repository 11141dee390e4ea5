import { layoutRibbon, type Ribbon, type RibbonInput, type RibbonOptions, type RibbonRow, type RibbonStrip } from './ribbon-layout.js';
import { xOfEdge } from './ribbon-scale.js';
import { ribbonTicks } from './ribbon-ticks.js';
import { intersectSpans, type Span, type SpanSet } from './spans.js';

/** Nearer than this nothing more is to be seen. */
const FEWEST_PIECES = 8;
const CHAR_WIDTH = 6.4;

/**
 * Lays out a stretch of a lot as if one came nearer to its ribbon: every strip stays, cut to the stretch. Piece numbers in the answer are
 * those of the lot.
 * @throws RangeError when a span lies outside the lot
 */
export function layoutRibbonWindow(input: RibbonInput, window: Span, options: RibbonOptions): Ribbon {
  const [first, last] = window;
  if (first <= 1 && last >= input.pieces) return layoutRibbon(input, options);
  const before = first - 1;
  const cut = (spans: SpanSet): SpanSet => intersectSpans(spans, [window]).map(([from, to]): Span => [from - before, to - before]);
  const strip = ({ label, parts }: RibbonStrip): RibbonStrip => ({
    label,
    parts: parts.map((part) => ({ ...part, spans: cut(part.spans) })).filter(({ spans }) => spans.length > 0),
  });
  const near = layoutRibbon(
    { pieces: last - before, affected: cut(input.affected ?? []), above: input.above.map(strip), below: input.below.map(strip) },
    options,
  );
  const scale = { knots: near.scale.knots.map(({ edge, x }) => ({ edge: edge + before, x })) };
  const xOf = (piece: number): number => xOfEdge(scale, piece - 0.5);
  return {
    ...near,
    scale,
    rows: near.rows.map((row) => movedBy(row, before)),
    ticks: ribbonTicks(window, xOf, options.charWidth ?? CHAR_WIDTH),
  };
}

function movedBy(row: RibbonRow, before: number): RibbonRow {
  return {
    ...row,
    segments: row.segments.map((segment) => ({ ...segment, first: segment.first + before, last: segment.last + before })),
    cuts: row.cuts.map(({ piece, x }) => ({ piece: piece + before, x })),
  };
}

/** The stretch of so many pieces that begins at a piece, moved to lie within the lot. */
function stretch(first: number, count: number, pieces: number): Span {
  const many = Math.min(pieces, count);
  const from = Math.max(1, Math.min(first, pieces - many + 1));
  return [from, from + many - 1];
}

/**
 * Nearer to a piece or farther from it, which stays where it is on the ruler.
 * @param factor above 1 comes nearer
 * @param pieces the lot's pieces are 1..pieces
 */
export function zoomedWindow([first, last]: Span, pieces: number, factor: number, around: number): Span {
  const count = last - first + 1;
  const next = Math.max(FEWEST_PIECES, Math.round(count / factor));
  const share = (around + 0.5 - first) / count;
  return stretch(Math.round(around + 0.5 - share * next), next, pieces);
}

/** As much of the lot as before, moved by a part of it: 0.5 is half a stretch later. */
export function movedWindow([first, last]: Span, pieces: number, by: number): Span {
  const count = last - first + 1;
  return stretch(first + Math.round(count * by), count, pieces);
}

/** The same stretch, or one as long around a piece that was not in it. */
export function windowWith(window: Span, pieces: number, piece: number): Span {
  const [first, last] = window;
  const count = last - first + 1;
  return piece >= first && piece <= last ? window : stretch(piece - Math.floor(count / 2), count, pieces);
}

/** A stretch with some room at both ends, for looking at a selection. */
export function windowAround([first, last]: Span, pieces: number): Span {
  const count = last - first + 1;
  const room = Math.max(2, Math.round(count / 10));
  return stretch(first - room, Math.max(FEWEST_PIECES, count + 2 * room), pieces);
}
