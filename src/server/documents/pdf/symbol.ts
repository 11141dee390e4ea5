import { toSVG } from 'bwip-js/node';
import type { LabelSymbol } from '../label.model.js';
import type { Canvas } from './canvas.js';
import { rounded } from './inside.js';

/** One dot of a printer with 300 dots to the inch, in points. A module is whole dots wide, so that all are alike on paper. */
const DOT = 72 / 300;

/** The clear border a DataMatrix needs, in modules. */
const QUIET = 1;

/** bwip-js draws a module two units wide at scale 1. */
const UNITS = 2;

/** ISO 8859-1 printable characters: what a DataMatrix holds without saying which character set it is in. */
const LATIN_1 = /^[ -~\u00a0-\u00ff]*$/u;

/** A DataMatrix as an outline, in modules across. */
interface Outline {
  readonly modules: number;
  /** Path in SVG notation, in units of bwip-js. */
  readonly path: string;
}

/** Copies of a label share their symbol, and its outline. */
const outlines = new WeakMap<LabelSymbol, Outline>();

/**
 * The outline of a DataMatrix (ISO/IEC 16022). One that carries GS1 elements begins with FNC1. Outlines are drawn as vectors: a picture
 * in dots would be blurred by every printer of another resolution.
 */
function outlineOf(symbol: LabelSymbol): Outline {
  let outline = outlines.get(symbol);
  if (outline === undefined) outlines.set(symbol, (outline = drawOutline(symbol)));
  return outline;
}

function drawOutline({ kind, message }: LabelSymbol): Outline {
  const text = kind === 'gs1' ? `^FNC1${message.replaceAll('\u001d', '^FNC1')}` : message;
  const svg = toSVG({ bcid: 'datamatrix', scale: 1, ...encoding(kind, text) });
  const width = /viewBox="0 0 (\d+) \1"/.exec(svg)?.[1];
  const path = /<path d="([MLZ\d ]+)"/.exec(svg)?.[1];
  if (width === undefined || path === undefined) throw new Error('bwip-js drew something else than one square outline');
  return { modules: Number(width) / UNITS, path };
}

/** Letters beyond ISO 8859-1 go in as UTF-8, which readers guess; others as the single bytes every reader expects. */
function encoding(kind: LabelSymbol['kind'], text: string): { text: string; parsefnc?: boolean; binarytext?: boolean } {
  if (kind === 'gs1') return { text, parsefnc: true };
  if (LATIN_1.test(text)) return { text, binarytext: true };
  return { text };
}

/** Draws a symbol, its clear border included, in a square with its top left at (x, y); in the middle of what whole dots leave. */
export function drawSymbol(canvas: Canvas, symbol: LabelSymbol, x: number, y: number, side: number): void {
  const { modules, path } = outlineOf(symbol);
  const module = Math.floor(side / (modules + 2 * QUIET) / DOT) * DOT;
  const from = (side - modules * module) / 2;
  const scaled = path.replaceAll(/\d+/g, (units) => `${rounded((Number(units) / UNITS) * module)}`);
  canvas.path(scaled, x + from, y + from, { fill: '#000000', holes: true });
}
