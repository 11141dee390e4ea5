import type { Block, CautionBlock, Cell, FactsBlock, HeadingBlock, ListBlock, ParagraphBlock } from '../sheet.model.js';
import { figureKeep, setFigure } from './figure.js';
import type { Flow } from './flow.js';
import { setContents, setTitle } from './front.js';
import { INK } from './palette.js';
import { PAPER, TYPE } from './paper.js';
import { photographsKeep, setPhotographs } from './photographs.js';
import { setTable, tableKeep } from './table.js';

const BODY = PAPER.right - PAPER.left;

/** Sets one block below what is already set. @param rest the blocks after it, which a heading must not be parted from */
export async function setBlock(flow: Flow, block: Block, rest: readonly Block[]): Promise<void> {
  switch (block.kind) {
    case 'title':
      return setTitle(flow, block);
    case 'heading':
      return setHeading(flow, block, keepHeight(flow, rest));
    case 'paragraph':
      return setParagraph(flow, block);
    case 'list':
      return setList(flow, block);
    case 'facts':
      return setFacts(flow, block);
    case 'figure':
      return setFigure(flow, block);
    case 'photographs':
      return setPhotographs(flow, block);
    case 'caution':
      return setCaution(flow, block);
    case 'contents':
      return setContents(flow);
    case 'table':
      if (block.rows.length === 0) return setParagraph(flow, { kind: 'paragraph', text: block.empty });
      return setTable(flow, block);
  }
}

/** How much of what follows a heading must stand on its page. */
function keepHeight(flow: Flow, [next, ...rest]: readonly Block[]): number {
  switch (next?.kind) {
    case 'figure':
      return figureKeep(flow, next);
    case 'photographs':
      return photographsKeep(flow, next);
    case 'table':
      return next.rows.length === 0 ? 2 * TYPE.body.leading : tableKeep(flow, next);
    case 'heading':
      return headingSize(flow, next).height + keepHeight(flow, rest);
    case 'paragraph':
      return (flow.wrap(next.text, BODY, TYPE.body.size).length + 3) * TYPE.body.leading;
    case 'caution':
      return cautionHeight(cautionLines(flow, next));
    default:
      return 60;
  }
}

function headingSize(flow: Flow, block: HeadingBlock): { size: number; before: number; lines: string[]; note: string[]; height: number } {
  const main = block.level === 2;
  const size = main ? 13 : 10.5;
  const before = main ? 12 : 6;
  const lines = flow.wrap(block.text, BODY, size, 'bold');
  const note = block.note === undefined ? [] : flow.wrap(block.note, BODY, TYPE.body.size);
  return { size, before, lines, note, height: before + lines.length * size * 1.35 + note.length * TYPE.body.leading + (main ? 9 : 3) };
}

function setHeading(flow: Flow, block: HeadingBlock, keep: number): void {
  const { size, before, lines, note, height } = headingSize(flow, block);
  flow.need(Math.min(height + keep, PAPER.bottom - PAPER.top));
  flow.y += flow.y > PAPER.top ? before : 0;
  flow.headingPages.set(block, flow.page);
  const { canvas } = flow;
  canvas.open(block.level === 2 ? 'H2' : 'H3');
  canvas.content(() => {
    flow.y += flow.lines(lines, PAPER.left, flow.y, { weight: 'bold', size, leading: size * 1.35 });
  });
  canvas.close();
  if (block.level === 2) canvas.bookmark(block.text);
  if (note.length > 0) {
    canvas.open('P');
    canvas.content(() => {
      flow.y += flow.lines(note, PAPER.left, flow.y, { ...TYPE.body, tone: 'quiet' });
    });
    canvas.close();
  }
  if (block.level === 2) canvas.artifact(() => flow.rule(flow.y + 3, 'rule', 0.7));
  flow.y += block.level === 2 ? 9 : 3;
}

function setParagraph(flow: Flow, block: ParagraphBlock): void {
  const lines = flow.wrap(block.text, BODY, TYPE.body.size);
  setLines(flow, lines, 0, block.quiet === true, 'P');
  flow.y += 5;
}

/** Lines that may run over a page's end; one element for the reader. */
function setLines(flow: Flow, lines: readonly string[], indent: number, quiet: boolean, tag: 'P' | 'LBody'): void {
  const { canvas } = flow;
  flow.need(Math.min(lines.length, 2) * TYPE.body.leading);
  canvas.open(tag);
  for (let from = 0; from < lines.length;) {
    if (from > 0) flow.turn();
    const fit = Math.max(1, Math.floor(flow.room / TYPE.body.leading));
    canvas.content(() => {
      const shown = lines.slice(from, from + fit);
      flow.y += flow.lines(shown, PAPER.left + indent, flow.y, { ...TYPE.body, tone: quiet ? 'quiet' : 'ink' });
    });
    from += fit;
  }
  canvas.close();
}

function setList(flow: Flow, block: ListBlock): void {
  const { canvas } = flow;
  canvas.open('L');
  for (const item of block.items) {
    const lines = flow.wrap(item, BODY - 12, TYPE.body.size);
    flow.need(Math.min(lines.length, 2) * TYPE.body.leading);
    canvas.open('LI');
    canvas.artifact(() => canvas.rect(PAPER.left + 1, flow.y + 5.4, 3, 3, { fill: INK.quiet }));
    setLines(flow, lines, 12, false, 'LBody');
    canvas.close();
    flow.y += 2;
  }
  canvas.close();
  flow.y += 5;
}

/** Labels on the left, what holds on the right. */
function setFacts(flow: Flow, block: FactsBlock): void {
  const { canvas } = flow;
  const indent = 118;
  for (const { label, value } of block.facts) {
    const labels = flow.wrap(label, indent - 10, TYPE.body.size);
    const lines = factLines(flow, value, BODY - indent);
    flow.need(Math.min(Math.max(labels.length, lines.length), 3) * TYPE.body.leading);
    canvas.open('P');
    canvas.content(() => flow.lines(labels, PAPER.left, flow.y, { ...TYPE.body, tone: 'quiet' }));
    for (const { text, strong } of lines) {
      if (flow.room < TYPE.body.leading) flow.turn();
      canvas.content(() => {
        flow.y += flow.lines([text], PAPER.left + indent, flow.y, { ...TYPE.body, weight: strong ? 'semibold' : 'regular' });
      });
    }
    canvas.close();
    flow.y += Math.max(0, labels.length - lines.length) * TYPE.body.leading + 2.5;
  }
  flow.y += 5;
}

function factLines(flow: Flow, value: Cell, width: number): { text: string; strong: boolean }[] {
  const parts = typeof value === 'string' ? [{ text: value }] : value;
  return parts.flatMap((part) => {
    const strong = 'look' in part && (part.look === 'code' || part.look === 'accent');
    return flow.wrap(part.text, width, TYPE.body.size, strong ? 'semibold' : 'regular').map((text) => ({ text, strong }));
  });
}

const CAUTION = { indent: 34, head: 28, foot: 6, gap: 3 } as const;

interface CautionLine {
  readonly line: string;
  readonly gap: number;
}

function cautionLines(flow: Flow, block: CautionBlock): CautionLine[] {
  return block.lines.flatMap((text) =>
    flow.wrap(text, BODY - CAUTION.indent - 12, TYPE.body.size).map((line, i, all) => ({
      line: i === all.length - 1 ? `${line} ` : line, // or the next sentence would be read as one word with this
      gap: i === 0 ? CAUTION.gap : 0,
    })),
  );
}

const cautionHeight = (lines: readonly CautionLine[]): number =>
  lines.reduce((sum, { gap }) => sum + TYPE.body.leading + gap, CAUTION.head + CAUTION.foot);

/** A caution stands beside a bar and under a triangle, so that it is seen without colour. A long one goes on overleaf. */
function setCaution(flow: Flow, block: CautionBlock): void {
  const lines = cautionLines(flow, block);
  flow.need(Math.min(cautionHeight(lines), PAPER.bottom - PAPER.top));
  flow.canvas.open('Note');
  for (let from = 0; from < lines.length;) {
    if (from > 0) flow.turn();
    let part = lines.slice(from);
    while (part.length > 1 && cautionHeight(part) > flow.room)
      part = part.slice(0, Math.floor((part.length * flow.room) / cautionHeight(part)) || 1);
    drawCaution(flow, from === 0 ? block.title : `${block.title}, continued`, part, cautionHeight(part));
    from += part.length;
  }
  flow.canvas.close();
  flow.y += 12;
}

function drawCaution(flow: Flow, title: string, lines: readonly CautionLine[], height: number): void {
  const { canvas } = flow;
  canvas.artifact(() => {
    canvas.rect(PAPER.left, flow.y, BODY, height, { fill: INK.accentWash });
    canvas.rect(PAPER.left, flow.y, 3, height, { fill: INK.accent });
    canvas.path('M8 0L16 14H0Z', PAPER.left + 11, flow.y + 9, { stroke: { color: INK.accent, width: 1.3 } });
    canvas.line(PAPER.left + 19, flow.y + 14, PAPER.left + 19, flow.y + 18.5, { color: INK.accent, width: 1.5 });
    canvas.rect(PAPER.left + 18.2, flow.y + 19.8, 1.6, 1.6, { fill: INK.accent });
  });
  canvas.content(() => {
    flow.lines([`${title} `], PAPER.left + CAUTION.indent, flow.y + 9, { weight: 'bold', size: 11, leading: 14 });
    let y = flow.y + CAUTION.head - CAUTION.gap;
    for (const { line, gap } of lines) y += gap + flow.lines([line], PAPER.left + CAUTION.indent, y + gap, TYPE.body);
  });
  flow.y += height;
}
