import { parseQuantity } from '../../../shared/quantity.js';
import { parseSpans } from '../../../shared/spans.js';
import { writtenCount, writtenPieces, writtenQuantity, writtenSpans } from '../../../shared/written.js';

/** An amount of the wire with its unit; pieces are counted in words. */
export function amount(quantity: string, unit: string): string {
  const micro = parseQuantity(quantity);
  return unit === 'each' ? writtenPieces(micro / 1_000_000) : writtenQuantity(micro, unit);
}

/** Piece numbers of the wire as people read them. */
export const piecesWritten = (pieces: string): string => writtenSpans(parseSpans(pieces));

/** A part of a lot in a few words: which pieces and how many, or how much. */
export const partWritten = (part: { pieces: string | null; quantity: string; unit: string }): string =>
  part.pieces === null ? amount(part.quantity, part.unit) : `pieces ${piecesWritten(part.pieces)} (${amount(part.quantity, 'each')})`;

/** Totals of amounts by unit, as `120 pieces and 40 kg`. */
export function totalWritten(parts: readonly { quantity: string; unit: string }[]): string {
  const sums = new Map<string, number>();
  for (const { quantity, unit } of parts) sums.set(unit, (sums.get(unit) ?? 0) + parseQuantity(quantity));
  const some = [...sums].filter(([, micro]) => micro !== 0);
  const told = some.length > 0 ? some : [...sums].slice(0, 1);
  if (told.length === 0) return writtenCount(0);
  return told.map(([unit, micro]) => (unit === 'each' ? writtenPieces(micro / 1_000_000) : writtenQuantity(micro, unit))).join(' and ');
}

/** A count with its noun: `1 report`, `2 reports`. */
export const counted = (count: number, noun: string): string => `${writtenCount(count)}\u00a0${noun}${count === 1 ? '' : 's'}`;
