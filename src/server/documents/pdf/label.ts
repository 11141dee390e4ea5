import type { Label, LabelNotice } from '../label.model.js';
import type { Canvas } from './canvas.js';
import type { Faces, Weight } from './faces.js';
import { drawSymbol } from './symbol.js';
import { cutToFit, wrapText } from './wrap.js';

/** A label of 100 by 62 mm, in points. */
export const LABEL = { width: (100 * 72) / 25.4, height: (62 * 72) / 25.4 } as const;

/** Label printers know black and white: grey would be dots, and dots are hard to read. */
const BLACK = '#000000';
const WHITE = '#ffffff';

const PAD = 9.5;
const SYMBOL = 86;
const GAP = 8;
const RIGHT = LABEL.width - PAD - SYMBOL;
const LEFT_WIDTH = RIGHT - GAP - PAD;
const BODY = LABEL.width - 2 * PAD;

/** What draws a label: the canvas, shifted to where the label begins. */
interface Pen {
  readonly canvas: Canvas;
  readonly faces: Faces;
  readonly x: number;
  readonly y: number;
}

/** Draws one label with its top left at (x, y). Every text that does not fit is cut with an ellipsis; the symbol has it in full. */
export function drawLabel(canvas: Canvas, faces: Faces, label: Label, x: number, y: number): void {
  const pen: Pen = { canvas, faces, x, y };
  drawHead(pen, label);
  drawFacts(pen, label);
  drawSymbolAndText(pen, label);
  drawFoot(pen, label);
}

function say({ canvas, faces, x, y }: Pen, text: string, at: Place): void {
  const shown = at.width === undefined ? text : cutToFit(faces, text, at.weight, at.size, at.width);
  canvas.text(shown, x + at.x, y + at.y, at.weight, at.size, at.color ?? BLACK);
}

interface Place {
  readonly x: number;
  readonly y: number;
  readonly weight: Weight;
  readonly size: number;
  readonly width?: number;
  readonly color?: string;
}

/** At most so many lines of text; what is left over ends in an ellipsis. */
function fewLines(faces: Faces, text: string, weight: Weight, size: number, width: number, most: number): string[] {
  const lines = wrapText(faces, text, weight, size, width);
  if (lines.length <= most) return lines;
  const last = lines.slice(most - 1).join('');
  return [...lines.slice(0, most - 1), cutToFit(faces, last, weight, size, width)];
}

/** The largest type in which the code fits its room: one line, or for a long code two or three smaller ones. */
function fitCode(faces: Faces, code: string): { size: number; lines: string[] } {
  for (const size of [38, 34, 30, 27, 24, 21, 18]) if (faces.width(code, 'bold', size) <= LEFT_WIDTH) return { size, lines: [code] };
  for (const size of [18, 15, 12]) {
    const lines = wrapText(faces, code, 'bold', size, LEFT_WIDTH);
    if (lines.length * size * 1.1 <= 38) return { size, lines };
  }
  return { size: 10, lines: fewLines(faces, code, 'bold', 10, LEFT_WIDTH, 4) };
}

function drawHead(pen: Pen, label: Label): void {
  const { canvas, faces } = pen;
  const plant = cutToFit(faces, label.plantName, 'semibold', 7.5, LEFT_WIDTH - (label.demo ? 106 : 72));
  canvas.open('P');
  canvas.content(() => {
    say(pen, plant, { x: PAD, y: 15.5, weight: 'semibold', size: 7.5 });
    say(pen, label.printed, { x: PAD + faces.width(plant, 'semibold', 7.5) + 7, y: 15.5, weight: 'regular', size: 6.5 });
  });
  canvas.close();
  if (label.demo) drawDemo(pen);
  const { size, lines } = fitCode(faces, label.code);
  canvas.open('H1');
  canvas.content(() => {
    lines.forEach((line, i) => {
      const y = lines.length === 1 ? 34.5 + size * 0.36 : 19.5 + size * 0.85 + i * size * 1.1;
      say(pen, line, { x: PAD, y, weight: 'bold', size });
    });
  });
  canvas.close();
  const name = fewLines(faces, label.itemName, 'semibold', 11, LEFT_WIDTH, 2);
  canvas.open('P');
  canvas.content(() => {
    name.forEach((line, i) => say(pen, line, { x: PAD, y: 64.5 + i * 12, weight: 'semibold', size: 11 }));
    say(pen, label.itemCode, { x: PAD, y: 64.5 + name.length * 12 - 1, weight: 'regular', size: 9, width: LEFT_WIDTH });
  });
  canvas.close();
}

function drawDemo(pen: Pen): void {
  const { canvas, x, y } = pen;
  canvas.open('P');
  canvas.content(() => {
    canvas.rect(x + PAD + LEFT_WIDTH - 34, y + 7.6, 34, 11, { fill: BLACK });
    canvas.text('DEMO', x + PAD + LEFT_WIDTH - 30.5, y + 16, 'bold', 8.5, WHITE, 0.6);
  });
  canvas.close();
}

/** Two facts a row, the name above the value; closer together where a caution stands beneath. */
function drawFacts(pen: Pen, { facts, notice }: Label): void {
  const { canvas, faces } = pen;
  const [top, pitch] = notice === null ? [104, 23] : [95.5, 18.2];
  const left = LEFT_WIDTH * 0.42;
  facts.forEach(({ name, value }, i) => {
    const x = PAD + (i % 2) * left;
    const y = top + Math.floor(i / 2) * pitch;
    const width = i % 2 === 0 ? left - 6 : LEFT_WIDTH - left;
    canvas.open('P');
    canvas.content(() => {
      say(pen, name, { x, y, weight: 'regular', size: 6.5, width });
      say(pen, value, { x, y: y + 10.2, weight: 'semibold', size: fitSize(faces, value, width), width });
    });
    canvas.close();
  });
}

const fitSize = (faces: Faces, text: string, width: number): number =>
  [11.5, 10.5, 9.5, 8.5].find((size) => faces.width(text, 'semibold', size) <= width) ?? 8;

function drawSymbolAndText(pen: Pen, { symbol, codeName, code }: Label): void {
  const { canvas, faces, x, y } = pen;
  canvas.open('Figure', { alt: `DataMatrix of ${codeName.toLowerCase()} ${code}: ${symbol.printed.join(' ')}` });
  canvas.content(() => drawSymbol(canvas, symbol, x + RIGHT, y + 6, SYMBOL));
  canvas.close();
  const width = SYMBOL - 3;
  const size = symbol.printed.every((line) => faces.width(line, 'regular', 7.5) <= width) ? 7.5 : 6;
  const most = symbol.printed.length > 1 ? 2 : 4;
  const lines = symbol.printed.flatMap((line) => fewLines(faces, line, 'regular', size, width, most));
  canvas.open('P');
  canvas.content(() => lines.forEach((line, i) => say(pen, line, { x: RIGHT + 3, y: 100 + i * (size + 1.3), weight: 'regular', size })));
  canvas.close();
}

/** What to mind, and how the goods begin: a dashed frame says quarantine without colour. */
function drawFoot(pen: Pen, { notice, standing }: Label): void {
  const { canvas, faces, x, y } = pen;
  const height = 17;
  const top = LABEL.height - PAD - height;
  const word = standing.word.toUpperCase();
  const width = faces.width(word, 'bold', 10) + word.length * 0.8 + 14;
  canvas.open('P');
  canvas.content(() => {
    canvas.rect(x + PAD, y + top, width, height, { stroke: { color: BLACK, width: 1.2, dash: [3.6, 2.4] }, radius: 1.5 });
    canvas.text(word, x + PAD + 7.4, y + top + 12.1, 'bold', 10, BLACK, 0.8);
    say(pen, standing.says, { x: PAD + width + 7, y: top + 12, weight: 'semibold', size: 9.2, width: BODY - width - 7 });
  });
  canvas.close();
  if (notice !== null) drawNotice(pen, notice, top - 4);
}

/** The largest type in which a notice fits its band; one that fits in none ends by saying where the rest is. */
function fitNotice(faces: Faces, text: string, width: number): { size: number; lines: string[] } {
  for (const [size, most] of [
    [8, 1],
    [7.3, 1],
    [6.4, 2],
    [4.9, 3],
  ] as const) {
    const lines = wrapText(faces, text, 'semibold', size, width);
    if (lines.length <= most) return { size, lines };
  }
  const rest = '… scan for the rest';
  const lines = wrapText(faces, text, 'semibold', 4.9, width);
  const room = width - faces.width(rest, 'semibold', 4.9);
  const last = cutToFit(faces, lines.slice(2).join(''), 'semibold', 4.9, room).replace(/…$/, '');
  return { size: 4.9, lines: [...lines.slice(0, 2), `${last}${rest}`] };
}

/** A hazard stands white on black with a sign, advice on storage in a frame. */
function drawNotice(pen: Pen, { word, text }: LabelNotice, bottom: number): void {
  const { canvas, faces, x, y } = pen;
  const height = 16;
  const hazard = word === 'CAUTION';
  const color = hazard ? WHITE : BLACK;
  const from = PAD + (hazard ? 19 : 6);
  const textFrom = from + faces.width(word, 'bold', 7.5) + 6;
  const { size, lines } = fitNotice(faces, text, LABEL.width - PAD - 4 - textFrom);
  canvas.open('P');
  canvas.content(() => {
    canvas.rect(x + PAD, y + bottom - height, BODY, height, hazard ? { fill: BLACK } : { stroke: { color: BLACK, width: 0.8 } });
    if (hazard) {
      canvas.path('M6 0L12 10.6H0Z', x + PAD + 4, y + bottom - height + 2.6, { fill: WHITE });
      say(pen, '!', { x: PAD + 8.7, y: bottom - 4.2, weight: 'bold', size: 8, color: BLACK });
    }
    say(pen, word, { x: from, y: bottom - 5.3, weight: 'bold', size: 7.5, color });
    const leading = size * 1.06;
    const top = bottom - height / 2 - (lines.length * leading) / 2 + size * 0.84;
    lines.forEach((line, i) => say(pen, line, { x: textFrom, y: top + i * leading, weight: 'semibold', size, color }));
  });
  canvas.close();
}
