import type { Stamp } from '../sheet.model.js';
import type { Canvas } from './canvas.js';
import type { Faces } from './faces.js';
import { INK, STAMP_INK } from './palette.js';

const SPREAD = 0.08; // letters of a stamp stand a little apart, by this share of their size

/** How wide a stamp is at a type size, its frame included. */
export function stampWidth(faces: Faces, stamp: Stamp, size: number): number {
  return lettersWidth(faces, stamp.word, size) + size * (stamp.look === 'refused' ? 2 : 1.3);
}

/** How high a stamp is at a type size, its frame included. */
export function stampHeight(size: number): number {
  return size * 1.75;
}

function lettersWidth(faces: Faces, word: string, size: number): number {
  const text = word.toUpperCase();
  return faces.width(text, 'bold', size) + (text.length - 1) * size * SPREAD;
}

/** Draws a stamp with its top left at (x, y), a hair askew as a hand would set it. */
export function drawStamp(canvas: Canvas, faces: Faces, stamp: Stamp, x: number, y: number, size: number): void {
  const w = stampWidth(faces, stamp, size);
  const h = stampHeight(size);
  const color = STAMP_INK[stamp.look];
  canvas.turned(-1.5, x + w / 2, y + h / 2, () => {
    drawFrame(canvas, stamp.look, x, y, w, h, Math.max(0.8, size / 9));
    const from = x + (w - lettersWidth(faces, stamp.word, size)) / 2;
    canvas.text(stamp.word.toUpperCase(), from, y + h / 2 + size * 0.345, 'bold', size, color, size * SPREAD);
  });
}

function drawFrame(canvas: Canvas, look: Stamp['look'], x: number, y: number, w: number, h: number, line: number): void {
  const color = STAMP_INK[look];
  const stroke = { color, width: line };
  switch (look) {
    case 'released':
      return canvas.rect(x, y, w, h, { stroke, radius: h / 2 });
    case 'quarantine':
      return canvas.rect(x, y, w, h, { stroke: { ...stroke, dash: [line * 3, line * 2] }, radius: 1.5 });
    case 'held':
    case 'open':
      canvas.rect(x, y, w, h, { stroke, radius: 1.5 });
      return canvas.rect(x + line * 1.9, y + line * 1.9, w - line * 3.8, h - line * 3.8, {
        stroke: { color, width: line * 0.6 },
        radius: 1,
      });
    case 'refused': {
      const n = h / 2.6;
      return canvas.path(`M${n} 0H${w - n}L${w} ${h / 2}L${w - n} ${h}H${n}L0 ${h / 2}Z`, x, y, { stroke });
    }
    case 'drill':
      drawHatch(canvas, x, y, w, h);
      return canvas.rect(x, y, w, h, { stroke, radius: 1.5 });
    case 'muted':
      return canvas.rect(x, y, w, h, { stroke });
  }
}

/** Slanted bars that stay inside the frame. */
function drawHatch(canvas: Canvas, x: number, y: number, w: number, h: number): void {
  const step = h * 0.62;
  for (let at = 0; at + h * 0.75 + step / 2 < w; at += step) {
    canvas.path(`M${at + h * 0.75} 0h${step / 2}l${-h * 0.75} ${h}h${-step / 2}Z`, x, y, { fill: INK.ghost });
  }
}
