import { type SpanSet, spanSet } from '../../../../shared/spans.js';

/** A line as asked for: pieces or a quantity of a lot, or pieces of an item by their serials. */
export interface AskedLine {
  readonly lot?: string | undefined;
  readonly spans?: SpanSet | undefined;
  readonly quantityMicro?: number | undefined;
  readonly item?: string | undefined;
  readonly serials?: readonly string[] | undefined;
}

/** What is asked of one lot: pieces of a numbered one, a quantity of a bulk one. */
interface AskedOfLot {
  readonly spans?: SpanSet | undefined;
  readonly quantityMicro?: number | undefined;
}

/** The piece that carries a serial. */
export interface SerialPiece {
  readonly item: string;
  readonly serial: string;
  readonly lot: string;
  readonly piece: number;
}

/** What a line wants of one lot; a line of serials may want pieces of several. */
export interface AskedPart {
  /** Place of the line among the lines, from 0. */
  readonly line: number;
  readonly lot: string;
  readonly asked: AskedOfLot;
}

const keyOf = (item: string, serial: string): string => `${item}\u0000${serial}`;

export const bySerial = (pieces: readonly SerialPiece[]): Map<string, SerialPiece> =>
  new Map(pieces.map((piece) => [keyOf(piece.item, piece.serial), piece]));

export const pieceOf = (pieces: ReadonlyMap<string, SerialPiece>, item: string, serial: string): SerialPiece | undefined =>
  pieces.get(keyOf(item, serial));

/** The lines lot by lot, serials turned into piece numbers; serials nobody knows are left out here and refused by `checkLines`. */
export function partsAsked(lines: readonly AskedLine[], pieces: ReadonlyMap<string, SerialPiece>): AskedPart[] {
  return lines.flatMap((line, i): AskedPart[] => {
    if (line.serials === undefined || line.item === undefined) {
      return line.lot === undefined ? [] : [{ line: i, lot: line.lot, asked: { spans: line.spans, quantityMicro: line.quantityMicro } }];
    }
    const byLot = new Map<string, number[]>();
    for (const serial of line.serials) {
      const found = pieceOf(pieces, line.item, serial);
      if (found) byLot.set(found.lot, [...(byLot.get(found.lot) ?? []), found.piece]);
    }
    return [...byLot].map(([lot, numbers]) => ({ line: i, lot, asked: { spans: spanSet(numbers.map((piece) => [piece, piece])) } }));
  });
}
