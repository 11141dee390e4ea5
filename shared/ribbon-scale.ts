/**
 * The ruler under a ribbon. An edge is a place between two pieces: 0 before the first, n after the n-th, so pieces first..last lie
 * between the edges first − 1 and last. Knots are the edges something begins or ends at, with their place on the ruler.
 */
export interface RibbonScale {
  readonly knots: readonly { readonly edge: number; readonly x: number }[];
}

/** At least this part of the ruler stays true to scale, however many slivers ask to be widened. */
const TRUE_PART = 0.5;

/**
 * The width of each stretch: by its pieces, but none below the least width while that much can be spared. Shortest first, a stretch
 * that its fair share of what is left would leave too thin gets the least width instead; all later ones are longer.
 */
function widths(lengths: readonly number[], width: number, minWidth: number): number[] {
  const least = Math.min(minWidth, ((1 - TRUE_PART) * width) / lengths.length);
  const result = lengths.map(() => 0);
  const shortestFirst = lengths.map((_, i) => i).toSorted((a, b) => (lengths[a] ?? 0) - (lengths[b] ?? 0) || a - b);
  let widthLeft = width;
  let piecesLeft = lengths.reduce((sum, length) => sum + length, 0);
  for (const i of shortestFirst) {
    const length = lengths[i] ?? 0;
    const share = Math.max(least, (length * widthLeft) / piecesLeft);
    result[i] = share;
    widthLeft -= share;
    piecesLeft -= length;
  }
  return result;
}

/**
 * One ruler for all strips of a ribbon: true to scale except that stretches too thin to see are widened at the cost of the others.
 * It only ever stretches, so order is kept, and an edge is at the same place in every strip.
 * @param pieces the lot's pieces are 1..pieces
 * @param edges where something begins or ends; 0 and `pieces` are added
 * @param x where the ruler begins
 */
export function ribbonScale(pieces: number, edges: Iterable<number>, x: number, width: number, minWidth: number): RibbonScale {
  const sorted = [...new Set([0, pieces, ...edges])].toSorted((a, b) => a - b);
  const stretches = widths(
    sorted.slice(1).map((edge, i) => edge - (sorted[i] ?? 0)),
    width,
    minWidth,
  );
  let at = x;
  const knots = sorted.map((edge, i) => {
    at = i === sorted.length - 1 && i > 0 ? x + width : at + (stretches[i - 1] ?? 0);
    return { edge, x: at };
  });
  return { knots };
}

/** The first knot index whose value is not below the wanted one. */
function find(scale: RibbonScale, wanted: number, value: 'edge' | 'x'): number {
  let low = 0;
  let high = scale.knots.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((scale.knots[middle]?.[value] ?? 0) < wanted) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Where an edge lies; between knots, in proportion. Edges outside the lot lie at its ends. */
export function xOfEdge(scale: RibbonScale, edge: number): number {
  const i = find(scale, edge, 'edge');
  const after = scale.knots[i];
  const before = scale.knots[i - 1];
  if (after === undefined) return 0;
  if (before === undefined || edge >= after.edge) return after.x;
  return before.x + ((edge - before.edge) / (after.edge - before.edge)) * (after.x - before.x);
}

/** The piece drawn at a place, for a pointer or a selection; the first piece left of the ruler, the last right of it, 0 in a lot of none. */
export function pieceAtX(scale: RibbonScale, x: number): number {
  const i = find(scale, x, 'x');
  const after = scale.knots[i];
  const before = scale.knots[i - 1];
  const last = scale.knots.at(-1)?.edge ?? 0;
  if (after === undefined || last === 0) return 0;
  if (before === undefined) return Math.min(last, after.edge + 1);
  if (x >= after.x) return after.edge;
  const edge = before.edge + ((x - before.x) / (after.x - before.x)) * (after.edge - before.edge);
  return Math.min(last, Math.floor(edge) + 1);
}
