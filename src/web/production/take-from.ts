import { formatQuantity, MICRO, parseQuantity } from '../../../shared/quantity.js';
import { countPieces, formatSpans, parseSpans, type SpanSet, unionSpans } from '../../../shared/spans.js';
import type { Lot, Run } from './run.js';
import { leftMicro, type Want } from './wants.js';

/** What of a lot is on hand. */
export function onHand(lot: Lot): { readonly micro: number; readonly spans: SpanSet | null; readonly places: readonly string[] } {
  const here = lot.places.filter(({ fate }) => fate === 'on-hand');
  return {
    micro: here.reduce((sum, { quantity }) => sum + parseQuantity(quantity), 0),
    spans:
      lot.pieces === null
        ? null
        : here.reduce<SpanSet>((sum, { pieces }) => unionSpans(sum, pieces === null ? [] : parseSpans(pieces)), []),
    places: here.map(({ at }) => at),
  };
}

/** The first so many pieces of a set. */
export function firstPieces(spans: SpanSet, count: number): SpanSet {
  const taken: [number, number][] = [];
  let left = count;
  for (const [first, last] of spans) {
    if (left <= 0) break;
    const upTo = Math.min(last, first + left - 1);
    taken.push([first, upTo]);
    left -= upTo - first + 1;
  }
  return taken;
}

/** What the page proposes to charge of a lot: as much as is still wanted, no more than there is. */
export function proposed(lot: Lot, want: Want | null, piece: number | null): { readonly quantity: string; readonly pieces: string } {
  const there = onHand(lot);
  const wanted = want === null || want.targetMicro === null ? there.micro : leftMicro(want);
  if (there.spans === null) return { quantity: formatQuantity(Math.min(wanted, there.micro)), pieces: '' };
  const pieces = piece === null ? firstPieces(there.spans, Math.floor(wanted / MICRO)) : ([[piece, piece]] as const);
  return { quantity: '', pieces: formatSpans(pieces) };
}

/**
 * From which piece of the lot being made a charge is in use, as far as it is plain: the first lot of its item from piece 1. Where lots of an item
 * change over is for the person at the line to say.
 */
export const proposedFromPiece = (run: Run, item: string): string =>
  run.charges.some((charge) => charge.item === item && charge.quantity !== '0') ? '' : '1';

/** How many pieces a text names, or null while it is no piece numbers. */
export function piecesIn(text: string): number | null {
  try {
    return countPieces(parseSpans(text));
  } catch {
    return null;
  }
}

/** A typed quantity in millionths, or null while it is none. */
export function microIn(text: string): number | null {
  try {
    return parseQuantity(text);
  } catch {
    return null;
  }
}
