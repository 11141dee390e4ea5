import type { Cell, CellPart, Row, Stamp, Tone } from '../sheet.model.js';
import type { Weight } from './faces.js';
import type { Flow } from './flow.js';
import { PAPER, TYPE } from './paper.js';

const { size: SIZE } = TYPE.cell;

/** A line of a cell, ready to be drawn. */
export interface Line {
  /** Set further right than the cell begins. */
  readonly indent?: number;
  /** On the line before it. */
  readonly beside?: boolean;
  readonly text: string;
  readonly weight: Weight;
  readonly tone: Tone;
  readonly stamp?: Stamp;
}

/** The lines of a cell, each of its parts beginning on one of its own. */
export function cellLines(flow: Flow, cell: Cell, width: number, weight: Weight): Line[] {
  const parts: readonly CellPart[] = typeof cell === 'string' ? [{ text: cell }] : cell;
  const last = parts.at(-1);
  return parts.flatMap((part): Line[] => {
    const strong = part.look === 'code' || part.look === 'accent' ? 'semibold' : weight;
    const tone = part.look === 'quiet' ? 'quiet' : part.look === 'accent' ? 'accent' : 'ink';
    if (part.stamp !== undefined) return [{ text: part.text, weight, tone, stamp: part.stamp }];
    const lines = flow.wrap(part.text, width, SIZE, strong);
    if (part !== last) lines.push(`${lines.pop() ?? ''} `); // or the next part would be read as one word with this
    return lines.map((text) => ({ text, weight: strong, tone }));
  });
}

/** The parts of a group's name, on one line where they fit beside the amount. */
export function groupLines(flow: Flow, row: Extract<Row, { kind: 'group' }>): Line[] {
  const room = PAPER.right - PAPER.left - flow.faces.width(row.amount, 'semibold', SIZE) - 16;
  const lines = cellLines(flow, row.title, room, 'regular');
  let indent = 0;
  const inOne = lines.map((line, i): Line => {
    const placed = { ...line, indent, beside: i > 0 };
    indent += flow.faces.width(line.text.trimEnd(), line.weight, SIZE) + 14;
    return placed;
  });
  return indent - 14 <= room ? inOne : lines;
}
