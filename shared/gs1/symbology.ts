import { FNC1 } from './reading.js';

/** What a symbology carries: GS1 elements, the number of an EAN or UPC symbol, or text that means nothing by itself. */
export type Carried = 'elements' | 'ean-13' | 'ean-8' | 'itf' | 'text';

/** Text as a scanner sent it, without the AIM symbology identifier (ISO/IEC 15424) it may have begun with. */
export interface Scanned {
  /** Null when the scanner sent no identifier. */
  readonly identifier: string | null;
  readonly carries: Carried;
  readonly message: string;
  /** How many characters stood before the message, for the places of faults. */
  readonly shift: number;
  /** GS1 elements that a composite symbol adds to an EAN or UPC. */
  readonly added: { readonly message: string; readonly shift: number } | null;
}

/** Those of GS1 come from the reference vectors, fixtures/standards/gs1/; that the others carry plain text is from memory of ISO/IEC 15424. */
const CARRIES: ReadonlyMap<string, Carried> = new Map([
  [']C1', 'elements'],
  [']e0', 'elements'],
  [']d2', 'elements'],
  [']Q3', 'elements'],
  [']J1', 'elements'],
  [']E0', 'ean-13'],
  [']E4', 'ean-8'],
  [']I0', 'itf'],
  [']I1', 'itf'],
  [']d1', 'text'],
  [']Q1', 'text'],
  [']J0', 'text'],
]);
/** Code 39, Code 128, Codabar, Code 93, PDF417, DataMatrix, Aztec, QR and plain DataMatrix of other kinds: text. */
const TEXT = /^\](?:A\d|C[024]|F\d|G\d|L\d|z[0-9A-C]|d[03-6]|Q[0245-6]|X\d)$/;

const COMPOSITE = '|]e0';

/**
 * Takes the symbology identifier off what a scanner sent.
 * @returns null when the text begins like an identifier and is none that is known
 */
export function readSymbology(text: string): Scanned | null {
  if (!text.startsWith(']')) return { identifier: null, carries: 'text', message: text, shift: 0, added: null };
  const identifier = text.slice(0, 3);
  const carries = CARRIES.get(identifier) ?? (TEXT.test(identifier) ? 'text' : undefined);
  if (carries === undefined) return null;
  const cut = carries === 'ean-13' || carries === 'ean-8' ? text.indexOf(COMPOSITE) : -1;
  if (cut >= 0) {
    const from = cut + COMPOSITE.length;
    return { identifier, carries, message: text.slice(3, cut), shift: 3, added: { message: text.slice(from), shift: from } };
  }
  const shift = carries === 'elements' && text[3] === FNC1 ? 4 : 3;
  return { identifier, carries, message: text.slice(shift), shift, added: null };
}
