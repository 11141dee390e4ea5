import { finished } from 'node:stream/promises';
import type { Writable } from 'node:stream';
import { setImmediate } from 'node:timers/promises';
import type { Label } from '../label.model.js';
import { Faces } from './faces.js';
import { InkCanvas } from './ink.js';
import { drawLabel, LABEL } from './label.js';
import { PAPER } from './paper.js';

/** What labels are printed on: a roll of labels, or sheets of A4 with two across and four down. */
export type LabelPaper = 'roll' | 'a4';

/** After so many labels others have their turn. */
const BREATH = 4;

const COLUMNS = 2;
const ROWS = 4;
const CELL = { width: PAPER.width / COLUMNS, height: PAPER.height / ROWS };

/** What the file says of itself. */
interface LabelFile {
  readonly title: string;
  readonly author: string;
  /** UTC ISO 8601; equal labels made at one instant give equal bytes. */
  readonly madeAt: string;
}

/**
 * Writes labels as a tagged PDF and ends the stream: on a roll one label a page, on A4 eight with lines to cut along.
 * @throws what the stream fails with; a reader that goes away is such a failure
 */
export async function writeLabelsPdf(labels: readonly Label[], paper: LabelPaper, file: LabelFile, out: Writable): Promise<void> {
  const faces = new Faces();
  const done = finished(out);
  // Waited for below; should drawing fail first, its error is the one to report.
  done.catch(() => undefined);
  try {
    const canvas = new InkCanvas(file, faces, out, paper === 'roll' ? LABEL : PAPER);
    for (const [i, label] of labels.entries()) {
      if (i % BREATH === 0) await setImmediate();
      draw[paper](canvas, faces, label, i);
    }
    canvas.end();
  } catch (error) {
    out.destroy(error instanceof Error ? error : new Error(String(error)));
    throw error;
  }
  await done;
}

const draw = {
  roll(canvas: InkCanvas, faces: Faces, label: Label): void {
    canvas.page();
    drawLabel(canvas, faces, label, 0, 0);
  },
  a4: drawOnSheet,
} as const satisfies Record<LabelPaper, (canvas: InkCanvas, faces: Faces, label: Label, i: number) => void>;

function drawOnSheet(canvas: InkCanvas, faces: Faces, label: Label, i: number): void {
  const at = i % (COLUMNS * ROWS);
  if (at === 0) {
    canvas.page();
    canvas.artifact(() => drawCuts(canvas));
  }
  const x = (at % COLUMNS) * CELL.width + (CELL.width - LABEL.width) / 2;
  const y = Math.floor(at / COLUMNS) * CELL.height + (CELL.height - LABEL.height) / 2;
  drawLabel(canvas, faces, label, x, y);
}

function drawCuts(canvas: InkCanvas): void {
  const stroke = { color: '#808080', width: 0.4, dash: [3, 3] } as const;
  for (let column = 1; column < COLUMNS; column += 1) canvas.line(column * CELL.width, 0, column * CELL.width, PAPER.height, stroke);
  for (let row = 1; row < ROWS; row += 1) canvas.line(0, row * CELL.height, PAPER.width, row * CELL.height, stroke);
}
