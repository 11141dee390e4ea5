import { MAX_PIECE } from '../../../shared/spans.js';

/** The number of a piece, or how many pieces, as it is being typed; 0 while it is none. */
export function pieceNumber(text: string): number {
  const number = /^\s*[1-9][0-9]*\s*$/.test(text) ? Number(text) : 0;
  return number > MAX_PIECE ? 0 : number;
}
