import { type Aql, AQLS } from './aql.js';
import { CODE_LETTERS, type CodeLetter } from './code-letter.js';

export const SEVERITIES = ['normal', 'tightened', 'reduced'] as const;
export type Severity = (typeof SEVERITIES)[number];

export const PLAN_TYPES = ['single', 'double'] as const;
export type PlanType = (typeof PLAN_TYPES)[number];

/** The rows of the tables: the code letters, and S, which only tightened inspection has, for its one plan at AQL 0.025. */
export const ROWS = [...CODE_LETTERS, 'S'] as const;
export type Letter = CodeLetter | 'S';

/** Take n items; accept up to ac, do not accept from re on. */
export interface SinglePlan {
  readonly letter: Letter;
  readonly n: number;
  readonly ac: number;
  readonly re: number;
}

/** Take n1 items and decide at ac1 or re1; between them take n2 more, and decide on all found in both by ac2 and re2. */
export interface DoublePlan {
  readonly letter: Letter;
  readonly n1: number;
  readonly ac1: number;
  readonly re1: number;
  readonly n2: number;
  readonly ac2: number;
  readonly re2: number;
}

export type Arrow = 'up' | 'down';

/** What stands at a letter and an AQL. An asterisk is printed in the tables of double plans: use the single plan of this place. */
export type Cell = Arrow | '*' | SinglePlan | DoublePlan;

/** The sample sizes, five a decade like the AQLs: of single plans by letter from A to S under normal and tightened inspection. */
const SIZES = [2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000, 3150] as const;

/**
 * What a single table says depends only on the place of the letter and of the AQL added up: one step to a larger sample and one step to a
 * laxer limit change the same thing. Before the first place all arrows point down, after the last one up; numbers are Ac.
 */
interface Diagonals {
  readonly first: number;
  readonly run: readonly (Arrow | number)[];
  /** Rows A to E go on for these two, where the others turn back to smaller samples. */
  readonly corner: readonly [number, number];
}

const DIAGONALS: Readonly<Record<Severity, Diagonals>> = {
  normal: { first: 14, run: [0, 'up', 'down', 1, 2, 3, 5, 7, 10, 14, 21], corner: [30, 44] },
  tightened: { first: 15, run: [0, 'down', 'down', 1, 2, 3, 5, 8, 12, 18], corner: [27, 41] },
  reduced: { first: 14, run: [0, 'up', 'down', 'down', 1, 2, 3, 5, 6, 8, 10], corner: [14, 21] },
};
const LAST_CORNER_ROW = 4;
const AQL_10 = AQLS.indexOf('10');

/** [ac1, re1, ac2] of the double plan that goes with the single plan of this Ac. re2 is one more than ac2. */
const PAIRS: Readonly<Record<number, readonly [ac1: number, re1: number, ac2: number]>> = {
  1: [0, 2, 1],
  2: [0, 3, 3],
  3: [1, 3, 4],
  5: [2, 5, 6],
  6: [3, 6, 7],
  7: [3, 6, 9],
  8: [4, 7, 10],
  10: [5, 9, 12],
  12: [6, 10, 15],
  14: [7, 11, 18],
  18: [9, 14, 23],
  21: [11, 16, 26],
  27: [15, 20, 34],
  30: [17, 22, 37],
  41: [23, 29, 52],
  44: [25, 31, 56],
};

/** Whether the table has a cell there at all: row S has one, and only in the tightened tables. */
const isPrinted = (severity: Severity, row: number, column: number): boolean =>
  row < CODE_LETTERS.length || (row === CODE_LETTERS.length && severity === 'tightened' && AQLS[column] === '0.025');

function onDiagonal(severity: Severity, row: number, column: number): Arrow | number {
  // Reduced samples stop shrinking at two, so from AQL 10 on the first two rows are those of a sample of two under normal inspection.
  if (severity === 'reduced' && row <= 1 && column >= AQL_10) return onDiagonal('normal', 0, column);
  // The one plan left out of its diagonal: all copies of the table have an arrow there.
  if (severity === 'tightened' && row === 0 && column === AQL_10) return 'down';
  const { first, run, corner } = DIAGONALS[severity];
  const along = row + column - first;
  if (along < 0) return 'down';
  return run[along] ?? (row <= LAST_CORNER_ROW ? corner[along - run.length] : undefined) ?? 'up';
}

function planRow(severity: Severity, row: number, column: number, direction: Arrow): number | undefined {
  const step = direction === 'up' ? -1 : 1;
  for (let at = row + step; at >= 0 && isPrinted(severity, at, column); at += step) {
    if (typeof onDiagonal(severity, at, column) === 'number') return at;
  }
  return undefined;
}

/** At the edges of a table an arrow would point out of it: it is turned to where its column has a plan. */
function turned(severity: Severity, row: number, column: number, arrow: Arrow): Arrow {
  if (planRow(severity, row, column, arrow) !== undefined) return arrow;
  return arrow === 'up' ? 'down' : 'up';
}

/** A reduced sample is that of two letters earlier. */
const sizeOf = (severity: Severity, row: number): number => Math.max(0, severity === 'reduced' ? row - 2 : row);

/**
 * What Table 2-A, 2-B, 2-C (single) or 3-A, 3-B, 3-C (double) says at a letter and an AQL, before any arrow is followed.
 * @returns null where nothing is printed: row S outside its one plan
 */
export function cell(type: PlanType, severity: Severity, letter: Letter, aql: Aql): Cell | null {
  const row = ROWS.indexOf(letter);
  const column = AQLS.indexOf(aql);
  if (!isPrinted(severity, row, column)) return null;
  const said = onDiagonal(severity, row, column);
  if (typeof said !== 'number') return turned(severity, row, column, said);
  const size = sizeOf(severity, row);
  if (type === 'single') return { letter, n: SIZES[size]!, ac: said, re: said + 1 };
  // A double plan takes twice the sample of one letter earlier; there is none below two items, and none that could accept nothing.
  const pair = PAIRS[said];
  if (size === 0 || pair === undefined) return '*';
  const [ac1, re1, ac2] = pair;
  const each = SIZES[size - 1]!;
  return { letter, n1: each, ac1, re1, n2: each, ac2, re2: ac2 + 1 };
}

/**
 * The letter of the first plan an arrow leads to in its column.
 * @returns the letter itself when a plan stands there
 */
export function letterAtEndOfArrow(severity: Severity, letter: Letter, aql: Aql): Letter {
  const said = cell('single', severity, letter, aql) ?? 'up';
  if (said !== 'up' && said !== 'down') return letter;
  return ROWS[planRow(severity, ROWS.indexOf(letter), AQLS.indexOf(aql), said)!]!;
}
