import { LOT_MASK, STRIDE, type Side } from './link-table.js';

/** Spans up to this many pieces are kept sorted by their first piece, so that one piece's links are found by bisection. */
export const SHORT = 32;
/** Links handled between two pauses of a sliced build; about a millisecond or two. */
const SLICE = 16_384;

/**
 * For every lot the links on one of its sides, in one array (compressed sparse rows). Within a lot the links without pieces
 * and with long spans come first, in ledger order, and then the short spans by first piece.
 */
export interface Adjacency {
  /** Lots 1..lots are covered, and the links before `links`. */
  readonly lots: number;
  readonly links: number;
  /** Lot l owns order[starts[l] .. starts[l + 1]); its short spans begin at shorts[l]. */
  readonly starts: Int32Array;
  readonly shorts: Int32Array;
  readonly order: Int32Array;
}

export const EMPTY_ADJACENCY: Adjacency = {
  lots: 0,
  links: 0,
  starts: new Int32Array(2),
  shorts: new Int32Array(1),
  order: new Int32Array(0),
};

const isShort = (first: number, last: number): boolean => first > 0 && last - first < SHORT;

/** Sorts one lot's short spans by first piece, links with the same first piece staying in ledger order. */
function sortShorts(words: Int32Array, order: Int32Array, begin: number, end: number, firstWord: number): void {
  const firstOf = (link: number): number => words[link * STRIDE + firstWord] ?? 0;
  let sorted = true;
  for (let at = begin + 1; at < end && sorted; at++) sorted = firstOf(order[at - 1] ?? 0) <= firstOf(order[at] ?? 0);
  if (sorted) return;
  const row = order.subarray(begin, end);
  if (row.length > 2 ** 22) {
    row.sort((a, b) => firstOf(a) - firstOf(b) || a - b);
    return;
  }
  // A first piece is below 2^31 and a place below 2^22, so both fit one exact float, and floats sort natively.
  const links = row.slice();
  const keys = Float64Array.from(links, (link, place) => firstOf(link) * 2 ** 22 + place).toSorted();
  for (let at = 0; at < keys.length; at++) row[at] = links[(keys[at] ?? 0) % 2 ** 22] ?? 0;
}

/**
 * Builds one side's adjacency, pausing between slices. The rows it reads may be moved to a larger block meanwhile: lots and
 * spans of a link never change, so the block it started on stays right.
 */
export function* buildAdjacency(words: Int32Array, links: number, lots: number, side: Side): Generator<void, Adjacency> {
  const starts = new Int32Array(lots + 2);
  const shorts = new Int32Array(lots + 1);
  for (let link = 0; link < links; link++) {
    const word = link * STRIDE;
    const lot = (words[word + side.lot] ?? 0) & LOT_MASK;
    starts[lot + 1] = (starts[lot + 1] ?? 0) + 1;
    if (!isShort(words[word + side.first] ?? 0, words[word + side.last] ?? 0)) shorts[lot] = (shorts[lot] ?? 0) + 1;
    if (link % SLICE === SLICE - 1) yield;
  }
  for (let lot = 1; lot <= lots + 1; lot++) starts[lot] = (starts[lot] ?? 0) + (starts[lot - 1] ?? 0);
  for (let lot = 0; lot <= lots; lot++) shorts[lot] = (shorts[lot] ?? 0) + (starts[lot] ?? 0);
  yield;
  const order = new Int32Array(links);
  const nextLong = starts.slice();
  const nextShort = shorts.slice();
  for (let link = 0; link < links; link++) {
    const word = link * STRIDE;
    const lot = (words[word + side.lot] ?? 0) & LOT_MASK;
    const next = isShort(words[word + side.first] ?? 0, words[word + side.last] ?? 0) ? nextShort : nextLong;
    const at = next[lot] ?? 0;
    order[at] = link;
    next[lot] = at + 1;
    if (link % SLICE === SLICE - 1) yield;
  }
  let handled = 0;
  for (let lot = 1; lot <= lots; lot++) {
    const begin = shorts[lot] ?? 0;
    const end = starts[lot + 1] ?? 0;
    if (end - begin > 1) sortShorts(words, order, begin, end, side.first);
    handled += end - begin;
    if (handled > SLICE) {
      handled = 0;
      yield;
    }
  }
  return { lots, links, starts, shorts, order };
}
