import type { Writable } from 'node:stream';
import type { SpanSet } from '../../../shared/spans.js';

/** A stretch of pieces of one lot that are at one place: what the rows of the piece list are made from. */
export interface PieceStretch {
  readonly lot: string;
  readonly spans: SpanSet;
  readonly whereabouts: string;
  readonly shipment: string;
  readonly customer: string;
  /** Serials by piece, where the pieces carry their own. */
  readonly serials: ReadonlyMap<number, string> | null;
}

const PIECES_HEADER = 'lot,piece,serial,shipment,customer,whereabouts';

const CHUNK = 64 * 1024;

/** RFC 4180 quoting; a leading character that a spreadsheet would take for a formula is kept from being one. */
function field(value: string): string {
  const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/**
 * Writes one line a piece. Chunked, waiting for the reader and giving way between chunks, so that millions of lines cost neither
 * memory nor other people's patience.
 */
export async function writePieces(out: Writable, stretches: Iterable<PieceStretch>): Promise<void> {
  let chunk = `${PIECES_HEADER}\r\n`;
  const flush = async (): Promise<void> => {
    if (!out.write(chunk)) {
      await new Promise<void>((resolve, reject) => {
        out.once('drain', resolve);
        out.once('error', reject);
        out.once('close', resolve);
      });
    }
    chunk = '';
    await new Promise(setImmediate); // drain alone does not give way on a fast socket
  };
  for (const stretch of stretches) {
    if (out.destroyed) return;
    const before = `${field(stretch.lot)},`;
    const after = `,${field(stretch.shipment)},${field(stretch.customer)},${field(stretch.whereabouts)}\r\n`;
    for (const [first, last] of stretch.spans) {
      for (let piece = first; piece <= last; piece++) {
        chunk += before + piece + (stretch.serials ? `,${field(stretch.serials.get(piece) ?? '')}` : ',') + after;
        if (chunk.length > CHUNK) {
          await flush();
          if (out.destroyed) return;
        }
      }
    }
  }
  if (chunk.length > 0) await flush();
  out.end();
}
