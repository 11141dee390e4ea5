import type { Scan } from '../../../shared/scan/scan.js';
import type { View } from '../wire/client.js';

/** What is asked of the record about a code that was scanned or typed. */
export interface Asked {
  readonly text?: string;
  readonly gtin?: string;
  readonly lot?: string;
  readonly serial?: string;
}

/** What to ask about a scan; null for one that says nothing of a lot or a piece. */
export function askedOf(scan: Scan, text: string): Asked | null {
  if (scan.kind === 'faulty') return null;
  if (scan.kind === 'plain') return { text: text.trim() };
  const asked = {
    ...(scan.gtin === null ? {} : { gtin: scan.gtin }),
    ...(scan.lot === null ? {} : { lot: scan.lot }),
    ...(scan.serial === null ? {} : { serial: scan.serial }),
  };
  return asked.lot === undefined && asked.serial === undefined ? null : asked;
}

/** The code as a person would say it. */
export const sayAsked = ({ text, lot, serial, gtin }: Asked): string => text ?? lot ?? serial ?? gtin ?? '';

type Line = View<'FindLineView'>;

/** A lot to charge, and the piece where a serial was scanned. */
export interface FoundLot {
  readonly lot: string;
  readonly piece: number | null;
  readonly serial: string | null;
  readonly says: string;
}

/** The lots that a code may mean: those of exactly this code, each once; of a supplier's lot every one that it became here. */
export function lotsFound(found: readonly Line[]): FoundLot[] {
  const lots = found.flatMap((line): FoundLot[] => {
    if (!line.exact || line.lot === null || !['lot', 'serial', 'supplier-lot'].includes(line.kind)) return [];
    const isSerial = line.kind === 'serial';
    const { piece, code, says } = line;
    return (line.lots ?? [line.lot]).map((lot) => ({ lot, piece: isSerial ? piece : null, serial: isSerial ? code : null, says }));
  });
  return lots.filter((one, i) => lots.findIndex(({ lot, piece }) => lot === one.lot && piece === one.piece) === i);
}
