import type { RiverOptions } from '../../../shared/trace-layout.js';
import { foldLabel } from './river-words.js';

/** Height of a node's label, both lines. */
export const LABEL_HEIGHT = 36;
/** More nodes than this are too many to read at once; what is alike folds. */
const MOST_NODES = 80;
const MOST_COLUMNS = 12;

/** How a river of so many lots, customers and places is laid out in so much room on screen. */
export const riverOptions = (nodes: number, width: number): RiverOptions => ({
  width,
  /** Bands are the broader the more there is to tell apart: all labels beside thin lines would be no river. */
  bandHeight: 280 + 4 * Math.min(nodes, MOST_NODES),
  minBand: 1.2,
  nodeWidth: 10,
  labelHeight: LABEL_HEIGHT,
  labelRoom: 190,
  margin: 12,
  columnRoom: 132,
  maxNodes: MOST_NODES,
  maxColumns: MOST_COLUMNS,
  foldLabel,
});
