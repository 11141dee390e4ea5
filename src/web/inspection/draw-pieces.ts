import { countPieces, type SpanSet } from '../../../shared/spans.js';

const WORD = 2 ** 32;

/** A whole number from 0 to below `bound`, each with the same chance. */
function chance(bound: number): number {
  const fair = WORD - (WORD % bound);
  for (;;) {
    const word = crypto.getRandomValues(new Uint32Array(1))[0]!;
    if (word < fair) return word % bound;
  }
}

function pieceAt(spans: SpanSet, place: number): number {
  let left = place;
  for (const [first, last] of spans) {
    if (left <= last - first) return first + left;
    left -= last - first + 1;
  }
  throw new RangeError(`no piece at place ${place}`);
}

/** So many pieces of these, drawn without putting back, in order; all of them where there are no more. */
export function drawPieces(spans: SpanSet, size: number): number[] {
  const pieces = countPieces(spans);
  // Floyd's way: one draw for each that is taken, however large the lot.
  const places = new Set<number>();
  for (let top = Math.max(0, pieces - size); top < pieces; top++) {
    const place = chance(top + 1);
    places.add(places.has(place) ? top : place);
  }
  return [...places].map((place) => pieceAt(spans, place)).toSorted((a, b) => a - b);
}
