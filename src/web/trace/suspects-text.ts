import { parseSpans } from '../../../shared/spans.js';
import { pieceText } from '../design/piece-text.js';
import type { Reason } from '../../../shared/refusal.js';

export interface Part {
  readonly lot: string;
  readonly pieces?: string;
}
type FailedPiece = Part | { readonly serial: string };

/** The lists as typed. */
export interface Lists {
  readonly failed: string;
  readonly population: string;
}

interface Read<One> {
  readonly read: readonly One[];
  readonly faults: readonly Reason[];
}

/** The word for a whole lot among failed pieces, where a code alone is a serial. */
const ALL = 'all';

const linesOf = (text: string): string[][] =>
  text
    .split(/\r?\n/u)
    .map((line) => line.trim().split(/[ \t]+/u))
    .filter(([first]) => first !== undefined && first !== '');

function readLines<One>(text: string, pointer: string, readLine: (code: string, pieces: string | undefined) => One): Read<One> {
  const read: One[] = [];
  const faults: Reason[] = [];
  for (const words of linesOf(text)) {
    const [code = '', ...rest] = words;
    const pieces = rest.length === 0 ? undefined : pieceText(rest.join(' '));
    try {
      if (pieces !== undefined && pieces !== ALL) parseSpans(pieces);
      read.push(readLine(code, pieces));
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      faults.push({ code: 'line-malformed', detail: `${words.join(' ')}: ${why}`, pointer });
    }
  }
  return { read, faults };
}

const partOf = (lot: string, pieces: string | undefined): Part => (pieces === undefined || pieces === ALL ? { lot } : { lot, pieces });

/** What failed, one a line: `K-02291` is a serial, `F-1 5-17,40` pieces of a lot, `F-1 all` a whole lot. */
export const readFailed = (text: string): Read<FailedPiece> =>
  readLines(text, '/failed', (code, pieces): FailedPiece => (pieces === undefined ? { serial: code } : partOf(code, pieces)));

/** What might have failed, one a line: `F-1` is a whole lot, `F-1 1-400` pieces of it. */
export const readPopulation = (text: string): Read<Part> => readLines(text, '/population', partOf);

/** Parts as lines that are read back as the same. */
export const failedText = (parts: readonly Part[]): string => parts.map(({ lot, pieces }) => `${lot} ${pieces ?? ALL}`).join('\n');

/** The text with lines added that are not in it yet. */
export function withLines(text: string, lines: readonly string[]): string {
  const known = new Set(text.split(/\r?\n/u).map((line) => line.trim()));
  const added = lines.filter((line) => !known.has(line));
  return [...(text.trim() === '' ? [] : [text.trimEnd()]), ...added].join('\n');
}
