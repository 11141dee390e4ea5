/** A closed interval of piece numbers of one lot, both ends included. */
export type Span = readonly [first: number, last: number];

/** Spans sorted, disjoint and coalesced: `[1,3],[4,5]` is written `[1,5]`, so equal sets have equal spans. */
export type SpanSet = readonly Span[];

/** The highest piece number a lot may have: what a portable 32-bit integer column holds. */
export const MAX_PIECE = 2_147_483_647;

/** Piece numbers that make no sense; `part` is the text or span that is wrong, `message` says why. */
export class SpanFault extends Error {
  override readonly name = 'SpanFault';

  constructor(
    readonly part: string,
    why: string,
  ) {
    super(part === '' ? why : `'${part}' ${why}`);
  }
}

function checkSpan([first, last]: Span, part: string): void {
  for (const piece of [first, last]) {
    if (!Number.isSafeInteger(piece)) throw new SpanFault(part, 'is not made of whole piece numbers');
    if (piece < 1) throw new SpanFault(part, 'begins before piece 1');
    if (piece > MAX_PIECE) throw new SpanFault(part, `goes beyond the highest piece number, ${MAX_PIECE}`);
  }
  if (first > last) throw new SpanFault(part, `runs backwards: ${first} comes after ${last}`);
}

/** Joins spans that overlap or touch; the spans must be sorted by their first piece. */
function coalesce(sorted: readonly Span[]): SpanSet {
  const set: Span[] = [];
  let open: Span | undefined;
  for (const span of sorted) {
    if (open !== undefined && span[0] <= open[1] + 1) {
      if (span[1] > open[1]) open = [open[0], span[1]];
    } else {
      if (open !== undefined) set.push(open);
      open = span;
    }
  }
  if (open !== undefined) set.push(open);
  return set;
}

/**
 * The set of the pieces in any of the spans, which may overlap and come in any order.
 * @throws SpanFault when a span is reversed, not whole, or outside 1..MAX_PIECE
 */
export function spanSet(spans: Iterable<Span>): SpanSet {
  const list = [...spans];
  for (const span of list) checkSpan(span, `${span[0]}-${span[1]}`);
  return coalesce(list.toSorted((a, b) => a[0] - b[0]));
}

/** Pieces 1..n; the empty set for n = 0. @throws SpanFault when n is no piece count */
export function wholeLot(n: number): SpanSet {
  return n === 0 ? [] : spanSet([[1, n]]);
}

/** The pieces in `a` or `b`. */
export function unionSpans(a: SpanSet, b: SpanSet): SpanSet {
  if (a.length === 0) return b;
  if (b.length === 0) return a;
  const merged: Span[] = [];
  let j = 0;
  for (const span of a) {
    for (let other = b[j]; other !== undefined && other[0] < span[0]; other = b[(j += 1)]) merged.push(other);
    merged.push(span);
  }
  for (let other = b[j]; other !== undefined; other = b[(j += 1)]) merged.push(other);
  return coalesce(merged);
}

/** The pieces in both `a` and `b`. */
export function intersectSpans(a: SpanSet, b: SpanSet): SpanSet {
  const both: Span[] = [];
  let i = 0;
  let j = 0;
  for (;;) {
    const left = a[i];
    const right = b[j];
    if (left === undefined || right === undefined) return both;
    const first = Math.max(left[0], right[0]);
    const last = Math.min(left[1], right[1]);
    if (first <= last) both.push([first, last]);
    if (left[1] < right[1]) i += 1;
    else j += 1;
  }
}

/** The pieces in `a` that are not in `b`. */
export function subtractSpans(a: SpanSet, b: SpanSet): SpanSet {
  const rest: Span[] = [];
  let j = 0;
  for (const [first, last] of a) {
    let from = first;
    for (; ; j += 1) {
      const cut = b[j];
      if (cut === undefined || cut[0] > last) break;
      if (cut[1] < from) continue;
      if (cut[0] > from) rest.push([from, cut[0] - 1]);
      from = cut[1] + 1;
      if (from > last) break; // this cut may reach into the next span too, so it is not passed yet
    }
    if (from <= last) rest.push([from, last]);
  }
  return rest;
}

/** How many pieces the set holds. */
export function countPieces(set: SpanSet): number {
  let pieces = 0;
  for (const [first, last] of set) pieces += last - first + 1;
  return pieces;
}

/** Whether every piece of `inner` is in `outer`; the empty set is covered by anything. */
export function coversSpans(outer: SpanSet, inner: SpanSet): boolean {
  let i = 0;
  for (const [first, last] of inner) {
    let around = outer[i];
    while (around !== undefined && around[1] < first) around = outer[(i += 1)];
    if (around === undefined || around[0] > first || around[1] < last) return false;
  }
  return true;
}

/** Whether both sets hold the same pieces. */
export function sameSpans(a: SpanSet, b: SpanSet): boolean {
  return a.length === b.length && a.every(([first, last], i) => first === b[i]?.[0] && last === b[i]?.[1]);
}

function parsePart(part: string): Span {
  const match = /^(\d{1,15})(?:\s*-\s*(\d{1,15}))?$/.exec(part);
  if (match === null) throw new SpanFault(part, "is neither a piece number nor a span such as '5-17'");
  const first = Number(match[1]);
  const span: Span = [first, match[2] === undefined ? first : Number(match[2])];
  checkSpan(span, part);
  return span;
}

/**
 * Reads piece numbers as people write them: `5-17,40`. Parts may come in any order and may touch; a piece named twice
 * is taken for a slip and refused.
 * @throws SpanFault naming the part that is unreadable, reversed, outside 1..MAX_PIECE or overlaps another
 */
export function parseSpans(text: string): SpanSet {
  if (text.trim() === '') throw new SpanFault('', 'no pieces are named');
  const parts = text.split(',').map((raw) => {
    const part = raw.trim();
    if (part === '') throw new SpanFault('', 'there is nothing between two commas, or before or after one');
    return { part, span: parsePart(part) };
  });
  const sorted = parts.toSorted((a, b) => a.span[0] - b.span[0]);
  sorted.forEach(({ part, span }, i) => {
    const before = sorted[i - 1];
    if (before !== undefined && before.span[1] >= span[0]) throw new SpanFault(part, `overlaps '${before.part}'`);
  });
  return coalesce(sorted.map(({ span }) => span));
}

/** Writes a set the way `parseSpans` reads it: `5-17,40`; the empty set is the empty text. */
export function formatSpans(set: SpanSet): string {
  return set.map(([first, last]) => (first === last ? `${first}` : `${first}-${last}`)).join(',');
}
