/** The inspection levels of Table 1: the special ones for small samples, then the general ones, of which II is the usual. */
export const LEVELS = ['S-1', 'S-2', 'S-3', 'S-4', 'I', 'II', 'III'] as const;
export type Level = (typeof LEVELS)[number];

/** The code letters of ISO 2859-1:1999, without I and O. */
export const CODE_LETTERS = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'J', 'K', 'L', 'M', 'N', 'P', 'Q', 'R'] as const;
export type CodeLetter = (typeof CODE_LETTERS)[number];

/** The smallest lot Table 1 speaks of. */
export const SMALLEST_LOT = 2;

/** The largest lot that is understood: beyond it whole numbers are no longer exact. The table itself has no end. */
export const LARGEST_LOT = 2 ** 53;

/** The largest lot of each row of Table 1; the last row has no end. */
const ROW_ENDS = [8, 15, 25, 50, 90, 150, 280, 500, 1_200, 3_200, 10_000, 35_000, 150_000, 500_000, Infinity] as const;

/**
 * How far along the letters a level stands in a row of the table. Level II takes a new letter every row, III stands one ahead;
 * S-1, S-2 and S-3 take a new one every fourth, third and second row, S-4 two in three; I goes with S-4 until II is two ahead of it.
 */
const STANDS_AT: Readonly<Record<Level, (row: number) => number>> = {
  'S-1': (row) => Math.floor(row / 4),
  'S-2': (row) => Math.floor(row / 3),
  'S-3': (row) => Math.floor(row / 2),
  'S-4': (row) => Math.floor((row * 2) / 3),
  I: (row) => Math.max(Math.floor((row * 2) / 3), row - 2),
  II: (row) => row,
  III: (row) => row + 1,
};

/** Whether a number is a lot size: whole, one or more, and small enough to be exact. */
export const isLotSize = (lotSize: number): boolean => Number.isInteger(lotSize) && lotSize >= 1 && lotSize <= LARGEST_LOT;

/**
 * The code letter of Table 1. The table begins at lots of two; a lot of one is given the letter of the smallest lots, and
 * `samplingPlan` then asks for all of it.
 * @param lotSize items in the lot
 * @throws RangeError when the lot size is no whole number of one or more
 */
export function codeLetter(lotSize: number, level: Level): CodeLetter {
  if (!isLotSize(lotSize)) throw new RangeError(`${lotSize} is no lot size`);
  const row = ROW_ENDS.findIndex((end) => lotSize <= end);
  return CODE_LETTERS[STANDS_AT[level](row)]!;
}
