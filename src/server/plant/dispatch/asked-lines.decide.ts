import type { Reasons } from '../../../../shared/refusal.js';
import { type AskedLine, pieceOf, type SerialPiece } from './asked-lines.facts.js';

/**
 * Adds a reason for every line that does not say what it is about in one of the three ways: a lot with pieces, a lot with a quantity,
 * or an item with serials; and for every serial that nobody knows or that is named twice.
 * @see docs/rules/dispatch.md D-2
 */
export function checkLines(no: Reasons, lines: readonly AskedLine[], pieces: ReadonlyMap<string, SerialPiece>): void {
  const named = new Set<string>();
  lines.forEach((line, i) => {
    const pointer = `/lines/${i}`;
    if (line.lot === undefined && line.item === undefined) {
      no.malformed('line-unclear', 'name a lot with pieces or a quantity, or an item with serials', { pointer });
    }
    if (line.lot !== undefined && (line.item !== undefined || line.serials !== undefined)) {
      no.malformed('line-unclear', 'a line names a lot, or an item with serials, not both', { pointer });
    }
    if (line.item === undefined || line.lot !== undefined) return;
    if (line.serials === undefined || line.spans !== undefined || line.quantityMicro !== undefined) {
      no.malformed('line-unclear', `which serials of ${line.item}? Without serials a line names the lot`, {
        pointer: `${pointer}/serials`,
      });
      return;
    }
    line.serials.forEach((serial, k) => {
      const facts = { pointer: `${pointer}/serials/${k}`, serial };
      if (!pieceOf(pieces, line.item!, serial)) no.unknown('serial-unknown', `no ${line.item} with serial ${serial}`, facts);
      const key = `${line.item}\u0000${serial}`;
      if (named.has(key)) no.conflict('serial-named-twice', `${serial} is named twice`, facts);
      named.add(key);
    });
  });
}
