import type { FigureBlock, LabelShape, Shape } from '../sheet.model.js';
import type { Flow } from './flow.js';
import { INK } from './palette.js';
import { PAPER, TYPE } from './paper.js';
import { cutToFit } from './wrap.js';

/** Room for the heading that a figure should share its page with. */
const HEADING = 60;

function figureSize(flow: Flow, block: FigureBlock): { caption: string[]; under: number; scale: number; height: number } {
  const caption = block.caption === undefined ? [] : flow.wrap(block.caption, PAPER.right - PAPER.left, TYPE.small.size);
  const under = caption.length * TYPE.small.leading + 12;
  const scale = Math.min(1, (PAPER.right - PAPER.left) / block.width, (PAPER.bottom - PAPER.top - under - HEADING) / block.height);
  return { caption, under, scale, height: block.height * scale };
}

/** The height of a figure and its caption: it is never cut in two. */
export function figureKeep(flow: Flow, block: FigureBlock): number {
  const { height, under } = figureSize(flow, block);
  return height + under;
}

/** Sets a figure at its own size; one too high for a page is made smaller. */
export function setFigure(flow: Flow, block: FigureBlock): void {
  const { canvas } = flow;
  const { caption, under, scale, height } = figureSize(flow, block);
  flow.need(height + under);
  canvas.open('Figure', { alt: block.alt });
  canvas.content(() => {
    for (const shape of block.shapes) drawShape(flow, shape, PAPER.left, flow.y, scale);
  });
  canvas.close();
  flow.y += height + 3;
  if (caption.length > 0) {
    canvas.open('P');
    canvas.content(() => flow.lines(caption, PAPER.left, flow.y, { ...TYPE.small, tone: 'quiet' }));
    canvas.close();
  }
  flow.y += under - 3;
}

function drawShape(flow: Flow, shape: Shape, x: number, y: number, scale: number): void {
  const { canvas } = flow;
  switch (shape.kind) {
    case 'rect': {
      const { fill, stroke, opacity } = shape;
      return canvas.rect(x + shape.x * scale, y + shape.y * scale, shape.w * scale, shape.h * scale, {
        ...(fill === undefined ? {} : { fill: INK[fill] }),
        ...(opacity === undefined ? {} : { opacity }),
        ...(stroke === undefined
          ? {}
          : { stroke: { color: INK[stroke], width: 0.8, ...(shape.dashed === true ? { dash: [2.4, 1.8] as const } : {}) } }),
      });
    }
    case 'line':
      return canvas.line(x + shape.x1 * scale, y + shape.y1 * scale, x + shape.x2 * scale, y + shape.y2 * scale, {
        color: INK[shape.tone],
        width: shape.width,
      });
    case 'band':
      return canvas.path(scaledPath(shape.d, scale), x, y, {
        stroke: { color: INK[shape.tone], width: Math.max(0.6, shape.width * scale), opacity: shape.opacity },
      });
    case 'label':
      return drawLabel(flow, shape, x + shape.x * scale, y + shape.y * scale, scale);
  }
}

/** The coordinates of a path times `scale`; paths of the layouts hold only absolute moves, lines and curves. */
function scaledPath(d: string, scale: number): string {
  return scale === 1 ? d : d.replace(/-?\d+(?:\.\d+)?/gu, (number) => `${Math.round(Number(number) * scale * 100) / 100}`);
}

function drawLabel(flow: Flow, label: LabelShape, x: number, y: number, scale: number): void {
  const { canvas, faces } = flow;
  const weight = label.strong === true ? 'semibold' : 'regular';
  const text = label.maxWidth === undefined ? label.text : cutToFit(faces, label.text, weight, label.size, label.maxWidth * scale);
  if (text === '') return;
  const width = faces.width(text, weight, label.size);
  const from = label.align === 'right' ? x - width : label.align === 'center' ? x - width / 2 : x;
  if (label.onPaper === true)
    canvas.rect(from - 1, y - label.size * 0.82, width + 2, label.size * 1.08, { fill: INK.paper, opacity: 0.72 });
  canvas.text(text, from, y, weight, label.size, INK[label.tone]);
}
