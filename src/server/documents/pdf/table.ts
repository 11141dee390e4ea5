import { setImmediate as nextTurn } from 'node:timers/promises';
import type { Row, TableBlock, Tone } from '../sheet.model.js';
import { cellLines, groupLines, type Line } from './cell-lines.js';
import type { Flow } from './flow.js';
import { INK } from './palette.js';
import { PAPER, TYPE } from './paper.js';
import { drawStamp } from './stamp.js';
import { cutToFit } from './wrap.js';

const PAD_X = 6;
const PAD_Y = 3;
const { size: SIZE, leading: LEAD } = TYPE.cell;
/** A table of so few rows is not parted if half a page holds it. */
const SMALL = 12;
/** Other requests get their turn after so many rows. */
const ROWS_A_TURN = 200;

interface Place {
  readonly x: number;
  readonly width: number;
  readonly right: boolean;
}

/** Sets a table: its head again on every page, hairlines between rows, and rows as high as their longest cell. */
export async function setTable(flow: Flow, block: TableBlock): Promise<void> {
  const table = new TableSetter(flow, block);
  let row = 0;
  flow.canvas.open('Table', { summary: block.summary });
  table.begin();
  for (const each of block.rows) {
    table.set(each, block.rows[row + 1]);
    row += 1;
    if (row % ROWS_A_TURN === 0) await nextTurn();
  }
  flow.canvas.close();
  flow.y += 12;
}

/** How much of a table should stand on the page it begins on: all of a small one, the head and first rows of a larger. */
export function tableKeep(flow: Flow, block: TableBlock): number {
  return new TableSetter(flow, block).keep();
}

class TableSetter {
  readonly #places: readonly Place[];
  readonly #head: readonly (readonly string[])[];
  readonly #headHeight: number;
  readonly #rowLines = new Map<Row, Line[][]>();
  readonly #groupNames = new Map<Row, Line[]>();
  #group: string | null = null;

  constructor(
    private readonly flow: Flow,
    private readonly block: TableBlock,
  ) {
    const total = block.columns.reduce((sum, column) => sum + column.share, 0);
    let x: number = PAPER.left;
    this.#places = block.columns.map((column, i) => {
      const full = ((PAPER.right - PAPER.left) * column.share) / total;
      // The outer columns stand flush with the rules.
      const left = i === 0 ? 0 : PAD_X;
      const right = i === block.columns.length - 1 ? 0 : PAD_X;
      const place = { x: x + left, width: full - left - right, right: column.align === 'right' };
      x += full;
      return place;
    });
    this.#head = block.columns.map((column, i) => flow.wrap(column.head, this.#place(i).width, TYPE.head.size, 'semibold'));
    this.#headHeight = Math.max(...this.#head.map((lines) => lines.length)) * TYPE.head.leading + 2 * PAD_Y;
  }

  keep(): number {
    const { rows } = this.block;
    const few = rows.length <= SMALL ? rows : [];
    const whole = few.reduce((sum, row) => sum + this.#height(row), this.#headHeight);
    const [first, second] = rows;
    if (first === undefined) return this.#headHeight;
    return few.length > 0 && whole < (PAPER.bottom - PAPER.top) / 2 ? whole : this.#headHeight + this.#keep(first, second);
  }

  /** The first head is part of the table for a screen reader; its repeats are not. */
  begin(): void {
    this.flow.need(this.keep());
    const { canvas } = this.flow;
    canvas.open('TR');
    this.#head.forEach((_, i) => {
      canvas.open('TH', { scope: 'Column' });
      canvas.content(() => this.#headCell(i));
      canvas.close();
    });
    canvas.close();
    this.#belowHead();
  }

  set(row: Row, next: Row | undefined): void {
    if (this.#keep(row, next) > this.flow.room && this.flow.y > PAPER.top + this.#headHeight + 1) this.#turn(row);
    if (row.kind === 'group') this.#setGroup(row);
    else this.#setCells(row);
  }

  /** A group's name never stands alone at the foot of a page. */
  #keep(row: Row, next: Row | undefined): number {
    const height = this.#height(row);
    return row.kind === 'group' && next !== undefined ? height + Math.min(this.#height(next), 80) : height;
  }

  #height(row: Row): number {
    if (row.kind === 'group') return this.#groupLines(row).filter((line) => line.beside !== true).length * LEAD + 2 * PAD_Y + 3;
    return Math.max(1, ...this.#lines(row).map((lines) => lines.length)) * LEAD + 2 * PAD_Y;
  }

  /** Lines are asked for to measure a row and again to draw it; only those of the last two rows are kept. */
  #linesOf<R extends Row, L>(kept: Map<Row, L>, row: R, make: (row: R) => L): L {
    const known = kept.get(row);
    if (known !== undefined) return known;
    if (kept.size > 1) kept.clear();
    const lines = make(row);
    kept.set(row, lines);
    return lines;
  }

  #lines(row: Exclude<Row, { kind: 'group' }>): Line[][] {
    return this.#linesOf(this.#rowLines, row, (each) => this.#breakRow(each));
  }

  #groupLines(row: Extract<Row, { kind: 'group' }>): Line[] {
    return this.#linesOf(this.#groupNames, row, (each) => groupLines(this.flow, each));
  }

  #breakRow(row: Exclude<Row, { kind: 'group' }>): Line[][] {
    const weight = row.kind === 'total' ? 'semibold' : 'regular';
    return row.cells.map((cell, i) => cellLines(this.flow, cell, this.#place(i).width, weight));
  }

  #setCells(row: Exclude<Row, { kind: 'group' }>): void {
    const cells = this.#lines(row);
    const count = Math.max(1, ...cells.map((lines) => lines.length));
    if (row.kind === 'total') this.flow.canvas.artifact(() => this.flow.rule(this.flow.y, 'ink', 0.7));
    // A row that is higher than what is left (only when it is higher than a whole page) goes on overleaf.
    for (let from = 0; from < count;) {
      const fit = Math.max(1, Math.floor((this.flow.room - 2 * PAD_Y) / LEAD));
      this.#cellRow(cells, from, Math.min(count, from + fit));
      from += fit;
      if (from < count) this.#turn(row);
    }
    if (row.kind === 'total') this.#group = null;
  }

  #cellRow(cells: readonly Line[][], from: number, to: number): void {
    const { canvas } = this.flow;
    canvas.open('TR');
    cells.forEach((lines, i) => {
      canvas.open('TD');
      const shown = lines.slice(from, to);
      if (shown.some((line) => line.text !== '' || line.stamp !== undefined)) {
        canvas.content(() => shown.forEach((line, k) => this.#line(line, this.#place(i), this.flow.y + PAD_Y + k * LEAD)));
      }
      canvas.close();
    });
    canvas.close();
    this.#advance((to - from) * LEAD + 2 * PAD_Y, 'rule');
  }

  #setGroup(row: Extract<Row, { kind: 'group' }>): void {
    const { canvas } = this.flow;
    const lines = this.#groupLines(row);
    const top = this.flow.y + PAD_Y + 3;
    const whole: Place = { x: PAPER.left, width: PAPER.right - PAPER.left, right: false };
    canvas.open('TR');
    canvas.open('TH', { scope: 'Row', span: this.block.columns.length });
    canvas.content(() => {
      lines.forEach((line, i) => this.#line(line, whole, top + (line.beside === true ? 0 : i * LEAD)));
      this.#line({ text: row.amount, weight: 'semibold', tone: 'ink' }, { ...whole, right: true }, top);
    });
    canvas.close();
    canvas.close();
    this.#advance(this.#height(row), 'ruleStrong');
    this.#group = row.again;
  }

  #line(line: Line, place: Place, top: number): void {
    const baseline = top + (LEAD + SIZE * 0.66) / 2;
    if (line.stamp !== undefined) {
      drawStamp(this.flow.canvas, this.flow.faces, line.stamp, place.x, top + 0.5, 6.2);
    } else if (place.right) {
      this.flow.textRight(line.text, place.x + place.width, baseline, line.weight, SIZE, line.tone);
    } else if (line.text !== '') {
      this.flow.canvas.text(line.text, place.x + (line.indent ?? 0), baseline, line.weight, SIZE, INK[line.tone]);
    }
  }

  #advance(height: number, tone: Tone): void {
    this.flow.y += height;
    this.flow.canvas.artifact(() => this.flow.rule(this.flow.y, tone, 0.5));
  }

  /** A new page: the head again, and the name of the group that goes on. */
  #turn(row: Row): void {
    this.flow.turn();
    this.flow.canvas.artifact(() => this.#head.forEach((_, i) => this.#headCell(i)));
    this.#belowHead();
    const again = row.kind === 'row' ? this.#group : null;
    if (again === null) return;
    const line = cutToFit(this.flow.faces, again, 'regular', SIZE, PAPER.right - PAPER.left);
    this.flow.canvas.artifact(() => this.flow.lines([line], PAPER.left, this.flow.y + PAD_Y, { size: SIZE, leading: LEAD, tone: 'quiet' }));
    this.#advance(LEAD + 2 * PAD_Y, 'ruleStrong');
  }

  #headCell(i: number): void {
    const lines = this.#head[i] ?? [];
    const { size, leading } = TYPE.head;
    const place = this.#place(i);
    // Heads stand on their rule, so short ones are pushed down.
    const top = this.flow.y + this.#headHeight - PAD_Y - lines.length * leading;
    if (!place.right) {
      this.flow.lines(lines, place.x, top, { weight: 'semibold', size, leading, tone: 'quiet' });
      return;
    }
    lines.forEach((line, k) => {
      this.flow.textRight(line, place.x + place.width, top + k * leading + (leading + size * 0.66) / 2, 'semibold', size, 'quiet');
    });
  }

  #belowHead(): void {
    this.flow.y += this.#headHeight;
    this.flow.canvas.artifact(() => this.flow.rule(this.flow.y, 'ruleStrong', 0.9));
  }

  #place(i: number): Place {
    const place = this.#places[i];
    if (place === undefined) throw new Error(`the table has no column ${i + 1}`);
    return place;
  }
}
