import type { TitleBlock } from '../sheet.model.js';
import type { Flow } from './flow.js';
import { INK } from './palette.js';
import { PAPER, TYPE } from './paper.js';
import { drawStamp, stampHeight, stampWidth } from './stamp.js';

const BODY = PAPER.right - PAPER.left;

/** The reference, its stamps, what it is about, and the few numbers the reader came for. */
export function setTitle(flow: Flow, block: TitleBlock): void {
  flow.need(200);
  const { canvas, faces } = flow;
  canvas.open('P');
  canvas.content(() => flow.lines([block.crumb], PAPER.left, flow.y, { ...TYPE.body, tone: 'quiet' }));
  canvas.close();
  flow.y += 16;
  const code = flow.wrap(block.code, BODY - 190, 24, 'bold');
  canvas.open('H1');
  canvas.content(() => {
    flow.lines(code, PAPER.left, flow.y, { weight: 'bold', size: 24, leading: 29 });
  });
  canvas.content(() => {
    let x = PAPER.left + Math.max(...code.map((line) => faces.width(line, 'bold', 24))) + 14;
    for (const stamp of block.stamps) {
      drawStamp(canvas, faces, stamp, x, flow.y + 15 - stampHeight(10.5) / 2, 10.5);
      x += stampWidth(faces, stamp, 10.5) + 9;
    }
  });
  canvas.close();
  flow.y += code.length * 29 + 2;
  const title = flow.wrap(block.title, BODY, 13, 'semibold');
  canvas.open('P');
  canvas.content(() => flow.lines(title, PAPER.left, flow.y, { weight: 'semibold', size: 13, leading: 17 }));
  canvas.close();
  flow.y += title.length * 17 + 10;
  setNumbers(flow, block.numbers);
}

/** The few numbers the reader came for, in one ruled strip. */
function setNumbers(flow: Flow, numbers: TitleBlock['numbers']): void {
  const { canvas } = flow;
  const height = 42;
  const each = BODY / Math.max(1, numbers.length);
  canvas.artifact(() => {
    canvas.rect(PAPER.left, flow.y, BODY, height, { stroke: { color: INK.ruleStrong, width: 0.6 } });
    for (let i = 1; i < numbers.length; i += 1) {
      const x = PAPER.left + i * each;
      canvas.line(x, flow.y, x, flow.y + height, { color: INK.ruleStrong, width: 0.6 });
    }
  });
  numbers.forEach(({ label, value, accent = false }, i) => {
    const x = PAPER.left + i * each + 9;
    const size = [16, 14, 12, 10, 8].find((at) => flow.faces.width(value, 'semibold', at) <= each - 16) ?? 7;
    canvas.open('P');
    canvas.content(() => flow.lines([label], x, flow.y + 5, { ...TYPE.head, tone: 'quiet' }));
    canvas.content(() => {
      canvas.text(value, x, flow.y + 33, 'semibold', size, accent ? INK.accent : INK.ink);
    });
    canvas.close();
  });
  flow.y += height + 14;
}

/** The sheet's main headings with the pages the first pass found them on. */
export function setContents(flow: Flow): void {
  const { canvas } = flow;
  const headings = flow.sheet.blocks.flatMap((block) => (block.kind === 'heading' && block.level === 2 ? [block] : []));
  const half = Math.ceil(headings.length / 2);
  const width = (BODY - 30) / 2;
  const top = flow.y;
  canvas.open('TOC');
  headings.forEach((heading, i) => {
    const x = PAPER.left + (i < half ? 0 : width + 30);
    const y = top + (i % half) * 14;
    const page = `${flow.plan?.headingPages.get(heading) ?? 0}`;
    canvas.open('TOCI');
    canvas.content(() => flow.lines([heading.text], x, y, TYPE.body));
    canvas.content(() => {
      flow.textRight(page, x + width, y + (TYPE.body.leading + TYPE.body.size * 0.66) / 2, 'regular', TYPE.body.size, 'quiet');
    });
    canvas.close();
    canvas.artifact(() => canvas.line(x, y + 13.5, x + width, y + 13.5, { color: INK.rule, width: 0.4 }));
  });
  canvas.close();
  flow.y = top + half * 14 + 8;
}
