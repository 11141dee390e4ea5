import type { Font } from 'fontkit';

/** Marks that sit on the letter before them, and scripts that join or run from right to left: only fontkit can set these. */
const NEEDS_SHAPING = /[\p{M}\p{Script=Arabic}\p{Script=Hebrew}\p{Script=Syriac}\p{Script=Devanagari}\p{Script=Thai}]/u;
const ASCII = 128;

/**
 * One font with figures of equal width, measured letter by letter: the advance of each letter and the kerning of each pair are asked
 * of fontkit once and kept. A recall list is tens of thousands of codes of which hardly two are alike, so a cache of whole words
 * (as pdfkit keeps one) would grow with the list and never be hit.
 */
export class Face {
  readonly #known = new Map<number, boolean>();
  readonly #unitsPerEm: number;
  readonly #asciiAdvance = new Float64Array(ASCII).fill(Number.NaN);
  readonly #asciiKerning = new Float64Array(ASCII * ASCII).fill(Number.NaN);
  readonly #advance = new Map<number, number>();
  readonly #kerning = new Map<number, number>();

  constructor(
    readonly name: string,
    private readonly font: Font,
  ) {
    this.#unitsPerEm = font.unitsPerEm;
  }

  /** Whether the text must be shaped as a whole; else its letters stand side by side. */
  static needsShaping(text: string): boolean {
    return NEEDS_SHAPING.test(text);
  }

  has(code: number): boolean {
    let known = this.#known.get(code);
    if (known === undefined) this.#known.set(code, (known = this.font.hasGlyphForCodePoint(code)));
    return known;
  }

  /** Width in thousandths of the type size. */
  width(text: string): number {
    if (Face.needsShaping(text)) return (this.#shape(text).advanceWidth * 1000) / this.#unitsPerEm;
    let width = 0;
    let before = 0;
    for (let i = 0; i < text.length; i += 1) {
      const code = text.codePointAt(i) ?? 0;
      if (code > 0xffff) i += 1;
      width += this.advance(code) + (before === 0 ? 0 : this.kern(before, code));
      before = code;
    }
    return width;
  }

  /** How far one letter moves on, in thousandths of the type size. */
  advance(code: number): number {
    const kept = code < ASCII ? this.#asciiAdvance[code] : this.#advance.get(code);
    if (kept !== undefined && !Number.isNaN(kept)) return kept;
    const advance = ((this.#shape(String.fromCodePoint(code)).glyphs[0]?.advanceWidth ?? 0) * 1000) / this.#unitsPerEm;
    if (code < ASCII) this.#asciiAdvance[code] = advance;
    else this.#advance.set(code, advance);
    return advance;
  }

  /** How much wider two letters stand than side by side, in thousandths of the type size; mostly none, else mostly negative. */
  kern(before: number, code: number): number {
    const ascii = before < ASCII && code < ASCII;
    const key = ascii ? before * ASCII + code : before * 0x110000 + code;
    const kept = ascii ? this.#asciiKerning[key] : this.#kerning.get(key);
    if (kept !== undefined && !Number.isNaN(kept)) return kept;
    const pair = this.#shape(String.fromCodePoint(before, code));
    const kern = pair.positions.length < 2 ? 0 : ((pair.positions[0]?.xAdvance ?? 0) * 1000) / this.#unitsPerEm - this.advance(before);
    if (ascii) this.#asciiKerning[key] = kern;
    else this.#kerning.set(key, kern);
    return kern;
  }

  /** The font as pdfkit is to use it: fontkit's own, but always with figures of equal width, and each glyph for the letter it is used for. */
  forPdf(): Font {
    return Object.create(this.font, { layout: { value: (text: string) => named(text, this.#shape(text)) } }) as Font;
  }

  #shape(text: string): ReturnType<Font['layout']> {
    return this.font.layout(text, ['tnum']);
  }
}

/**
 * fontkit keeps a glyph for the life of the process, with the letter it was first met for: none, if it was met as a part of another glyph,
 * as the dot is of a colon. The text that can be read back from a document would hang on the documents before it, and so would its bytes.
 */
function named(text: string, run: ReturnType<Font['layout']>): ReturnType<Font['layout']> {
  const letters = Array.from(text, (letter) => letter.codePointAt(0) ?? 0);
  if (run.glyphs.length === letters.length) run.glyphs.forEach((glyph, i) => Object.assign(glyph, { codePoints: [letters[i]] }));
  return run;
}
