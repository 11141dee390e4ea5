import type { MediaType } from './files.facts.js';

/** Enough for every signature, and for the brands that a HEIC file lists. */
const HEAD_BYTES = 256;

const CONTROL_BUT_LAYOUT = /(?![\t\n\f\r])\p{Cc}/u;

/**
 * Brands of which one is among the compatible ones of every HEIC picture: registration of image/heic, www.iana.org/assignments/media-types/
 * image/heif. Telephones write `heic` as the major brand too, or `mif1`.
 */
const HEIC_BRANDS: ReadonlySet<string> = new Set(['heic', 'heix', 'heim', 'heis']);

const startsWith =
  (...bytes: readonly number[]) =>
  (head: Buffer): boolean =>
    bytes.every((byte, i) => head[i] === byte);

const ascii = (head: Buffer, start: number, end: number): string => head.subarray(start, end).toString('latin1');

function isHeic(head: Buffer): boolean {
  if (ascii(head, 4, 8) !== 'ftyp') return false;
  const end = Math.min(head.length, head.readUInt32BE(0));
  if (HEIC_BRANDS.has(ascii(head, 8, 12))) return true;
  for (let at = 16; at + 4 <= end; at += 4) if (HEIC_BRANDS.has(ascii(head, at, at + 4))) return true;
  return false;
}

/** Signatures of WHATWG MIME Sniffing, "matching an image type pattern" and "identifying a resource with an unknown MIME type". */
const SIGNATURES: readonly (readonly [MediaType, (head: Buffer) => boolean])[] = [
  ['image/jpeg', startsWith(0xff, 0xd8, 0xff)],
  ['image/png', startsWith(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)],
  ['image/webp', (head) => ascii(head, 0, 4) === 'RIFF' && ascii(head, 8, 14) === 'WEBPVP'],
  ['image/heic', isHeic],
  ['application/pdf', (head) => ascii(head, 0, 5) === '%PDF-'],
];

/**
 * Tells what a file is from its bytes as they pass. Whatever is UTF-8 without control characters is plain text, whether it calls itself
 * a table, a page or a program: it is never answered as anything that runs.
 * @see docs/rules/files.md FI-2
 */
export class MediaSniffer {
  readonly #decoder = new TextDecoder('utf-8', { fatal: true });
  #head = Buffer.alloc(0);
  #isText = true;

  add(chunk: Buffer): void {
    if (this.#head.length < HEAD_BYTES) this.#head = Buffer.concat([this.#head, chunk.subarray(0, HEAD_BYTES - this.#head.length)]);
    this.#read(chunk);
  }

  /** What the file is, or null when it is of no kind that is taken. */
  end(): MediaType | null {
    const [binary] = SIGNATURES.find(([, matches]) => matches(this.#head)) ?? [];
    if (binary) return binary;
    this.#read(null);
    return this.#isText ? 'text/plain' : null;
  }

  /** @param chunk null at the end, where half a character is a fault */
  #read(chunk: Buffer | null): void {
    if (!this.#isText) return;
    try {
      const text = chunk === null ? this.#decoder.decode() : this.#decoder.decode(chunk, { stream: true });
      this.#isText = !CONTROL_BUT_LAYOUT.test(text);
    } catch {
      this.#isText = false;
    }
  }
}
