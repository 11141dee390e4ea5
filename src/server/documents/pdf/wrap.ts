import type { Faces, Weight } from './faces.js';

/** After these a code or an address may be broken when it is longer than a whole line. */
const SOFT = /[-/_.,;:@+\u00a0\u2009]/u;

/**
 * Breaks text into lines no wider than `width` points. Breaks fall at spaces (never at no-break or thin spaces, so that `2 880`
 * stays whole); a word that is wider than a whole line is broken after a hyphen or the like, or else anywhere. The space at a break
 * ends its line and is not counted in the width: put together again, the lines are the text, as a screen reader or a search puts them.
 */
export function wrapText(faces: Faces, text: string, weight: Weight, size: number, width: number): string[] {
  const lines: string[] = [];
  for (const paragraph of text.replaceAll('\t', ' ').split(/\r\n|[\n\r]/u)) {
    if (lines.length > 0) lines.push(`${lines.pop() ?? ''} `);
    lines.push(...wrapParagraph(faces, paragraph, weight, size, width));
  }
  return lines;
}

function wrapParagraph(faces: Faces, text: string, weight: Weight, size: number, width: number): string[] {
  if (faces.width(text, weight, size) <= width) return [text];
  const lines: string[] = [];
  let line: string | null = null;
  for (const word of text.split(' ')) {
    const longer: string = line === null ? word : `${line} ${word}`;
    if (faces.width(longer, weight, size) <= width) {
      line = longer;
      continue;
    }
    if (line !== null) lines.push(`${line} `);
    const pieces = faces.width(word, weight, size) <= width ? [word] : breakWord(faces, word, weight, size, width);
    lines.push(...pieces.slice(0, -1));
    line = pieces.at(-1) ?? '';
  }
  if (line !== null) lines.push(line);
  return lines;
}

const segmenter = new Intl.Segmenter('en');

/** The letters as a reader counts them: one with its accents is one letter. */
function lettersOf(text: string): string[] {
  return Array.from(segmenter.segment(text), ({ segment }) => segment);
}

function breakWord(faces: Faces, word: string, weight: Weight, size: number, width: number): string[] {
  const pieces: string[] = [];
  let rest = lettersOf(word);
  while (rest.length > 0) {
    let fits = 0;
    let soft = 0;
    while (fits < rest.length && (fits === 0 || faces.width(rest.slice(0, fits + 1).join(''), weight, size) <= width)) {
      fits += 1;
      if (SOFT.test(rest[fits - 1] ?? '')) soft = fits;
    }
    const cut = fits === rest.length ? fits : soft > fits / 2 ? soft : fits;
    pieces.push(rest.slice(0, cut).join(''));
    rest = rest.slice(cut);
  }
  return pieces;
}

/** The text, or as much of it as fits with an ellipsis; empty where not even two letters would. */
export function cutToFit(faces: Faces, text: string, weight: Weight, size: number, width: number): string {
  if (faces.width(text, weight, size) <= width) return text;
  const letters = lettersOf(text);
  for (let kept = letters.length - 1; kept >= 2; kept -= 1) {
    const cut = `${letters.slice(0, kept).join('').trimEnd()}…`;
    if (faces.width(cut, weight, size) <= width) return cut;
  }
  return '';
}
