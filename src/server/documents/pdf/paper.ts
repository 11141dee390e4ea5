import { BODY_WIDTH } from '../sheet.model.js';

/** A4 upright, in points. The body leaves room for a running head and a foot on every page. */
export const PAPER = {
  width: 595.28,
  height: 841.89,
  left: (595.28 - BODY_WIDTH) / 2,
  right: (595.28 + BODY_WIDTH) / 2,
  top: 66,
  bottom: 841.89 - 62,
} as const;

/** Type sizes and leadings, in points. */
export const TYPE = {
  body: { size: 9.5, leading: 13.5 },
  cell: { size: 8.5, leading: 11.5 },
  head: { size: 8, leading: 10.5 },
  small: { size: 7.5, leading: 10 },
} as const;
