import type { Photograph, PhotographsBlock } from '../sheet.model.js';
import type { Flow } from './flow.js';
import { INK } from './palette.js';
import { PAPER, TYPE } from './paper.js';

const BODY = PAPER.right - PAPER.left;
const GUTTER = 14;
/** Points a pixel: a picture is never printed coarser than 96 pixels an inch. */
const PIXEL = 0.75;
const MOST_HIGH = { alone: 330, paired: 230 } as const;

interface Placed {
  readonly photograph: Photograph;
  readonly x: number;
  readonly w: number;
  readonly h: number;
  readonly caption: readonly string[];
  readonly note: readonly string[];
}

interface PlacedRow {
  readonly placed: readonly Placed[];
  readonly high: number;
  readonly height: number;
}

/** Sets photographs in rows; a row is never cut in two. */
export async function setPhotographs(flow: Flow, block: PhotographsBlock): Promise<void> {
  for (const row of rowsOf(flow, block)) {
    flow.need(row.height);
    for (const placed of row.placed) await setOne(flow, placed, row.high);
    flow.y += row.height;
  }
}

/** The height of the first row, which a heading must not be parted from. */
export function photographsKeep(flow: Flow, block: PhotographsBlock): number {
  return rowsOf(flow, block)[0]?.height ?? 0;
}

function rowsOf(flow: Flow, { photographs }: PhotographsBlock): PlacedRow[] {
  const alone = photographs.length === 1;
  const width = alone ? BODY : (BODY - GUTTER) / 2;
  const rows: PlacedRow[] = [];
  for (let at = 0; at < photographs.length; at += 2) {
    const placed = photographs.slice(at, at + 2).map((photograph, i): Placed => {
      const scale = Math.min(PIXEL, width / photograph.width, MOST_HIGH[alone ? 'alone' : 'paired'] / photograph.height);
      return {
        photograph,
        x: PAPER.left + i * (width + GUTTER),
        w: photograph.width * scale,
        h: photograph.height * scale,
        caption: flow.wrap(photograph.caption, width, TYPE.cell.size),
        note: flow.wrap(photograph.note, width, TYPE.small.size),
      };
    });
    const high = Math.max(...placed.map((one) => one.h));
    const under = Math.max(...placed.map((one) => one.caption.length * TYPE.cell.leading + one.note.length * TYPE.small.leading));
    rows.push({ placed, high, height: high + 5 + under + 14 });
  }
  return rows;
}

/** @param high of the highest in the row: captions stand on one line */
async function setOne(flow: Flow, { photograph, x, w, h, caption, note }: Placed, high: number): Promise<void> {
  const { canvas } = flow;
  const bytes = flow.plan === null ? new Uint8Array() : await photograph.read(); // the first pass prints nothing
  canvas.open('Figure', { alt: photograph.alt });
  canvas.content(() => canvas.picture(bytes, x, flow.y, w, h));
  canvas.close();
  canvas.artifact(() => canvas.rect(x, flow.y, w, h, { stroke: { color: INK.ruleStrong, width: 0.5 } }));
  canvas.open('P');
  canvas.content(() => {
    const y = flow.y + high + 5;
    const used = flow.lines(
      caption.map((line, i) => (i === caption.length - 1 ? `${line} ` : line)), // or the note would be read as one word with this
      x,
      y,
      TYPE.cell,
    );
    flow.lines(note, x, y + used, { ...TYPE.small, tone: 'quiet' });
  });
  canvas.close();
}
