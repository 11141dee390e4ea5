import type { SpanSet } from '../../../shared/spans.js';

/*
 * A span set as one flat list [first, last, first, last, …], sorted, disjoint and coalesced like `SpanSet`. The walk spends
 * most of its time on these, and a pair object per span would be most of its garbage.
 */
export type FlatSpans = readonly number[];

export function toSpanSet(flat: FlatSpans): SpanSet {
  const spans: [number, number][] = [];
  for (let at = 0; at < flat.length; at += 2) spans.push([flat[at] ?? 0, flat[at + 1] ?? 0]);
  return spans;
}

export function toFlat(spans: SpanSet): number[] {
  const flat: number[] = [];
  for (const [first, last] of spans) flat.push(first, last);
  return flat;
}

export function countFlat(flat: FlatSpans): number {
  let pieces = 0;
  for (let at = 0; at < flat.length; at += 2) pieces += (flat[at + 1] ?? 0) - (flat[at] ?? 0) + 1;
  return pieces;
}

/** The position of the first span that ends at `piece` or later; flat.length if none does. */
export function firstEnding(flat: FlatSpans, piece: number): number {
  let low = 0;
  let high = flat.length >>> 1;
  while (low < high) {
    const mid = (low + high) >>> 1;
    if ((flat[mid * 2 + 1] ?? 0) < piece) low = mid + 1;
    else high = mid;
  }
  return low * 2;
}

export function meetsFlat(flat: FlatSpans, first: number, last: number): boolean {
  const at = firstEnding(flat, first);
  return at < flat.length && (flat[at] ?? 0) <= last;
}

export function coversFlat(flat: FlatSpans, first: number, last: number): boolean {
  const at = firstEnding(flat, first);
  return at < flat.length && (flat[at] ?? 0) <= first && (flat[at + 1] ?? 0) >= last;
}

/** Sorts every second number from `offset` on; enough for a union, where it does not matter which last belongs to which first. */
function sortEverySecond(pairs: number[], offset: number): void {
  const count = pairs.length >>> 1;
  if (count > 32) {
    const sorted = new Int32Array(count);
    for (let at = 0; at < count; at++) sorted[at] = pairs[at * 2 + offset] ?? 0;
    sorted.sort();
    for (let at = 0; at < count; at++) pairs[at * 2 + offset] = sorted[at] ?? 0;
    return;
  }
  for (let at = offset + 2; at < pairs.length; at += 2) {
    const value = pairs[at] ?? 0;
    let gap = at;
    for (; gap >= 2 && (pairs[gap - 2] ?? 0) > value; gap -= 2) pairs[gap] = pairs[gap - 2] ?? 0;
    pairs[gap] = value;
  }
}

/** Turns any list of first-last pairs into the span set of their pieces, in place. */
export function normalise(pairs: number[]): void {
  if (pairs.length <= 2) return;
  let normal = true;
  for (let at = 2; at < pairs.length && normal; at += 2) normal = (pairs[at] ?? 0) > (pairs[at - 1] ?? 0) + 1;
  if (normal) return;
  // With firsts and lasts each in order, the k-th last closes a stretch exactly if the next first lies beyond it.
  sortEverySecond(pairs, 0);
  sortEverySecond(pairs, 1);
  let length = 0;
  let first = pairs[0] ?? 0;
  for (let at = 1; at < pairs.length; at += 2) {
    const last = pairs[at] ?? 0;
    const next = pairs[at + 1];
    if (next !== undefined && next <= last + 1) continue;
    pairs[length++] = first;
    pairs[length++] = last;
    if (next !== undefined) first = next;
  }
  pairs.length = length;
}

/** The pieces of `set` that are not in `minus`. */
export function subtractFlat(set: FlatSpans, minus: FlatSpans): number[] {
  const rest: number[] = [];
  for (let at = 0; at < set.length; at += 2) {
    let first = set[at] ?? 0;
    const last = set[at + 1] ?? 0;
    for (let cut = firstEnding(minus, first); cut < minus.length && (minus[cut] ?? 0) <= last; cut += 2) {
      const cutFirst = minus[cut] ?? 0;
      if (cutFirst > first) rest.push(first, cutFirst - 1);
      first = (minus[cut + 1] ?? 0) + 1;
    }
    if (first <= last) rest.push(first, last);
  }
  return rest;
}

/** The pieces in `a` or `b`. */
export function uniteFlat(a: FlatSpans, b: FlatSpans): number[] {
  const united: number[] = [];
  let i = 0;
  let j = 0;
  while (i < a.length || j < b.length) {
    const fromA = j >= b.length || (i < a.length && (a[i] ?? 0) <= (b[j] ?? 0));
    const first = (fromA ? a[i] : b[j]) ?? 0;
    const last = (fromA ? a[i + 1] : b[j + 1]) ?? 0;
    if (fromA) i += 2;
    else j += 2;
    const end = united.length - 1;
    if (end < 0 || first > (united[end] ?? 0) + 1) united.push(first, last);
    else if (last > (united[end] ?? 0)) united[end] = last;
  }
  return united;
}
