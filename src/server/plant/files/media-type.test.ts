import { describe, expect, it } from 'vitest';
import { MediaSniffer } from './media-type.js';

function kindOf(content: Buffer | string, step = 7): string | null {
  const bytes = Buffer.from(content as string);
  const sniffer = new MediaSniffer();
  for (let at = 0; at < bytes.length; at += step) sniffer.add(bytes.subarray(at, at + step));
  return sniffer.end();
}

const bytes = (...parts: readonly (string | number[])[]): Buffer =>
  Buffer.concat(parts.map((part) => (typeof part === 'string' ? Buffer.from(part, 'latin1') : Buffer.from(part))));

const ftyp = (major: string, ...compatible: readonly string[]): Buffer =>
  bytes([0, 0, 0, 16 + 4 * compatible.length], 'ftyp', major, [0, 0, 0, 0], ...compatible, [0, 0, 0, 8], 'meta');

describe('what a file is follows from its content (FI-2)', () => {
  it.each<[string, Buffer | string, string | null]>([
    ['a JPEG', bytes([0xff, 0xd8, 0xff, 0xe0], 'JFIF', [0]), 'image/jpeg'],
    ['a PNG', bytes([0x89], 'PNG\r\n', [0x1a, 0x0a, 0]), 'image/png'],
    ['a WebP', bytes('RIFF', [1, 0, 0, 0], 'WEBPVP8 '), 'image/webp'],
    ['a sound in the same wrapping as a WebP', bytes('RIFF', [1, 0, 0, 0], 'WAVEfmt '), null],
    ['a HEIC', ftyp('heic', 'mif1'), 'image/heic'],
    ['a HEIC of the general brand', ftyp('mif1', 'miaf', 'heic'), 'image/heic'],
    ['another picture of the general brand', ftyp('mif1', 'avif'), null],
    ['a film', ftyp('isom', 'mp41'), null],
    ['a brand named after the list of brands', bytes([0, 0, 0, 16], 'ftyp', 'isom', [0, 0, 0, 0], 'heic'), null],
    ['a PDF', '%PDF-1.7\n%\u00e2\u00e3', 'application/pdf'],
    ['a table', 'piece,net g\r\n1,250.4\r\n', 'text/plain'],
    ['text with every length of character, cut anywhere', 'Prüfbericht Ω 250 g ≥ 240 g 🔩', 'text/plain'],
    ['a page, which is only text here', '<script>alert(1)</script>', 'text/plain'],
    ['Latin-1', bytes('Pr', [0xfc], 'fbericht'), null],
    ['half a character at the end', bytes('Pr', [0xc3]), null],
    ['a zero byte', 'a\u0000b', null],
    ['an archive', bytes('PK', [3, 4, 20, 0]), null],
    ['a program', bytes([0x7f], 'ELF', [2, 1, 1, 0]), null],
  ])('%s', (_name, content, kind) => {
    for (const step of [1, 2, 3, 7, 10_000]) expect(kindOf(content, step), `in steps of ${step}`).toBe(kind);
  });
});
