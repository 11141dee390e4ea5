import type { HeadingBlock, Sheet, Tone } from '../sheet.model.js';
import type { Canvas } from './canvas.js';
import type { Faces, Weight } from './faces.js';
import { INK } from './palette.js';
import { PAPER, TYPE } from './paper.js';
import { drawStamp, stampHeight, stampWidth } from './stamp.js';
import { cutToFit, wrapText } from './wrap.js';

/** What the first pass learns and the second prints. */
export interface PagePlan {
  readonly pages: number;
  readonly headingPages: ReadonlyMap<HeadingBlock, number>;
}

/** Where setting has come to: the page, the height reached on it, and how to go on. */
export class Flow {
  y: number = PAPER.bottom;
  page = 0;
  readonly headingPages = new Map<HeadingBlock, number>();

  constructor(
    readonly canvas: Canvas,
    readonly faces: Faces,
    readonly sheet: Sheet,
    /** Null in the first pass. */
    readonly plan: PagePlan | null,
  ) {}

  /** Height left on the page. */
  get room(): number {
    return PAPER.bottom - this.y;
  }

  /** Goes to a new page unless so much height is left. */
  need(height: number): void {
    if (this.page === 0 || height > this.room) this.turn();
  }

  /** Goes to a new page and draws what every page carries. */
  turn(): void {
    this.page += 1;
    this.canvas.page();
    this.y = PAPER.top;
    this.canvas.artifact(() => {
      this.#head();
      this.#foot();
    });
  }

  /** Draws lines of one look downwards from `y` and returns the height used. */
  lines(lines: readonly string[], x: number, y: number, look: { weight?: Weight; size: number; leading: number; tone?: Tone }): number {
    const { weight = 'regular', size, leading, tone = 'ink' } = look;
    lines.forEach((line, i) => {
      if (line !== '') this.canvas.text(line, x, y + i * leading + (leading + size * 0.66) / 2, weight, size, INK[tone]);
    });
    return lines.length * leading;
  }

  wrap(text: string, width: number, size: number, weight: Weight = 'regular'): string[] {
    return wrapText(this.faces, text, weight, size, width);
  }

  textRight(text: string, right: number, y: number, weight: Weight, size: number, tone: Tone): void {
    this.canvas.text(text, right - this.faces.width(text.trimEnd(), weight, size), y, weight, size, INK[tone]);
  }

  rule(y: number, tone: Tone, width: number): void {
    this.canvas.line(PAPER.left, y, PAPER.right, y, { color: INK[tone], width });
  }

  #head(): void {
    const { size } = TYPE.small;
    const stamp = this.sheet.pageStamp;
    let right = PAPER.right;
    if (stamp !== null) {
      right -= stampWidth(this.faces, stamp, 9);
      drawStamp(this.canvas, this.faces, stamp, right, 41 - stampHeight(9), 9);
      right -= 10;
    }
    const reference = cutToFit(this.faces, this.sheet.reference, 'semibold', size, 150);
    this.canvas.text(reference, PAPER.left, 36, 'semibold', size, INK.ink);
    const from = PAPER.left + this.faces.width(reference, 'semibold', size) + 8;
    const title = cutToFit(this.faces, this.sheet.title, 'regular', size, right - from);
    this.canvas.text(title, from, 36, 'regular', size, INK.quiet);
    this.rule(48, 'ruleStrong', 0.5);
  }

  #foot(): void {
    const { size } = TYPE.small;
    const y = PAPER.height - 34;
    this.rule(y - 14, 'ruleStrong', 0.5);
    const count = `page ${this.page} of ${this.plan?.pages ?? 0}`;
    const width = this.faces.width(count, 'regular', size);
    this.canvas.text(count, PAPER.right - width, y, 'regular', size, INK.quiet);
    const proof = cutToFit(this.faces, this.sheet.proof, 'regular', size, PAPER.right - PAPER.left - width - 16);
    this.canvas.text(proof, PAPER.left, y, 'regular', size, INK.quiet);
  }
}
