import { MICRO, parseQuantity } from '../../../shared/quantity.js';
import { countPieces, parseSpans, type SpanSet } from '../../../shared/spans.js';
import { inWords, writtenCount, writtenPieces, writtenQuantity, writtenSpans } from '../../../shared/written.js';

/** More stretches than this are counted rather than listed. */
const FEW = 3;

/** A quantity as it is read: pieces as a count, anything else with its unit. @param micro whole millionths of the unit */
export function amount(micro: number, unit: string, noun = true): string {
  if (unit !== 'each') return writtenQuantity(micro, unit);
  return noun ? writtenPieces(micro / MICRO) : writtenCount(micro / MICRO);
}

/** A quantity of the wire, as it is read. */
export const amountOf = (quantity: string, unit: string): string => amount(parseQuantity(quantity), unit);

/** Piece numbers of the wire as a set; nothing of a text that is none. */
export function spansIn(text: string | null | undefined): SpanSet {
  if (text === null || text === undefined || text.trim() === '') return [];
  try {
    return parseSpans(text);
  } catch {
    return [];
  }
}

/** Pieces in few words: their numbers where there are few stretches, else from where to where and how many. */
export function briefPieces(spans: SpanSet): string {
  if (spans.length <= FEW) return writtenSpans(spans);
  const [first] = spans[0] ?? [0];
  const [, last] = spans.at(-1) ?? [0, 0];
  return `${writtenPieces(countPieces(spans))} of ${writtenCount(first)}–${writtenCount(last)}`;
}

/** A part of a lot as the wire tells it: pieces, a quantity, or all of it. */
export function partWords(part: { pieces?: string | null; quantity?: string | null }, unit: string): string {
  if (part.pieces) return briefPieces(spansIn(part.pieces));
  return part.quantity ? amountOf(part.quantity, unit) : 'all of it';
}

const FATES: Readonly<Record<string, string>> = {
  'on-hand': 'on hand',
  dispatched: 'dispatched',
  scrapped: 'scrapped',
  retained: 'retained',
  'destroyed-in-test': 'destroyed in test',
  'returned-to-supplier': 'returned to the supplier',
  'count-difference': 'count difference',
};

/** What became of a part. */
export const fateWords = (fate: string): string => FATES[fate] ?? inWords(fate);
