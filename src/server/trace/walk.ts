import { coversSpans, wholeLot } from '../../../shared/spans.js';
import { SHORT } from './adjacency.js';
import { coversFlat, firstEnding, type FlatSpans, meetsFlat, normalise, subtractFlat, toFlat, uniteFlat } from './flat-spans.js';
import type { Genealogy } from './genealogy.js';
import { BLENDS, EACH, FROM_SIDE, LOT_MASK, type Side, STRIDE, TO_SIDE, VOIDED } from './link-table.js';
import { GenealogyFault } from './link.js';
import { type Direction, type Origin, ReachedLot, Traced, type TraceOptions } from './traced.js';

/**
 * Everything that contains, or may contain, material of the origins (the least fixed point of the link rules).
 * @throws GenealogyFault if an origin is not known or has no such pieces
 */
export function traceForward(genealogy: Genealogy, origins: readonly Origin[], options: TraceOptions = {}): Traced {
  return new Walk(genealogy, 'forward', options).run(origins);
}

/**
 * Everything the origins contain, or may contain, material of: the mirror image of `traceForward`.
 * @throws GenealogyFault if an origin is not known or has no such pieces
 */
export function traceBackward(genealogy: Genealogy, origins: readonly Origin[], options: TraceOptions = {}): Traced {
  return new Walk(genealogy, 'backward', options).run(origins);
}

/**
 * A breadth-first walk, one round per depth. In a round each waiting lot is walked on from once, and only from pieces that
 * are fresh, so every link is followed at most once per fresh span: that bounds the work and ends it on cycles. Rounds are
 * kept apart so that a depth is the fewest links, whatever order the links were recorded in.
 */
class Walk {
  readonly #words: Int32Array;
  readonly #side: Side;
  readonly #sideName: 'out' | 'into';
  readonly #asKnownAt: number;
  readonly #limit: number;
  readonly #conservative: boolean;
  readonly #notBlendedInto: TraceOptions['notBlendedInto'];
  readonly #reached: ReachedLot[] = [];
  #next: ReachedLot[] = [];
  #depth = 0;

  constructor(
    readonly genealogy: Genealogy,
    readonly direction: Direction,
    options: TraceOptions,
  ) {
    this.#words = genealogy.table.words;
    this.#side = direction === 'forward' ? FROM_SIDE : TO_SIDE;
    this.#sideName = direction === 'forward' ? 'out' : 'into';
    this.#asKnownAt = options.asKnownAt ?? genealogy.committedSeq;
    this.#limit = genealogy.countKnownAt(this.#asKnownAt);
    this.#conservative = options.conservative ?? false;
    this.#notBlendedInto = options.notBlendedInto;
  }

  run(origins: readonly Origin[]): Traced {
    this.genealogy.marks.begin(this.genealogy.lotCount);
    for (const origin of origins) this.#start(origin);
    while (this.#next.length > 0) {
      const round = this.#next;
      this.#next = [];
      this.#depth++;
      // Take all that waits before walking on, so that what this round finds waits for the next.
      const fresh = round.map((reached) => this.#takeFresh(reached));
      for (const [at, { lot }] of round.entries()) this.#walkOn(lot, fresh[at] ?? null);
    }
    for (const reached of this.#reached) if (reached.againPairs) normalise(reached.againPairs);
    return new Traced(this.direction, this.#asKnownAt, this.#reached);
  }

  #start({ lot, spans }: Origin): void {
    const pieces = this.genealogy.piecesOf(lot);
    if (pieces < 0) throw new GenealogyFault(`origin lot ${lot} is not known`);
    if (spans !== null && (pieces === 0 || !coversSpans(wholeLot(pieces), spans))) {
      throw new GenealogyFault(`origin lot ${lot} has no such pieces`);
    }
    if (spans !== null && spans.length === 0) return;
    const reached = this.#at(lot) ?? this.#add(new ReachedLot(lot, 0, true, pieces === 0));
    if (pieces > 0) reached.pending.push(...(spans === null || this.#conservative ? [1, pieces] : toFlat(spans)));
  }

  /** What is newly found of a lot, now counted as known; null for a bulk lot. */
  #takeFresh(reached: ReachedLot): FlatSpans | null {
    reached.waits = false;
    if (reached.known === null) return null;
    const { pending, known } = reached;
    normalise(pending);
    reached.pending = [];
    if (known.length === 0) {
      reached.known = pending;
      return pending;
    }
    const fresh = subtractFlat(pending, known);
    if (fresh.length > 0) reached.known = uniteFlat(known, fresh);
    return fresh;
  }

  #walkOn(lot: number, fresh: FlatSpans | null): void {
    if (fresh !== null && fresh.length === 0) return;
    const adjacency = this.genealogy[this.#sideName];
    if (lot <= adjacency.lots) {
      const { order } = adjacency;
      const shorts = adjacency.shorts[lot] ?? 0;
      const end = adjacency.starts[lot + 1] ?? 0;
      for (let at = adjacency.starts[lot] ?? 0; at < shorts; at++) this.#follow(order[at] ?? 0, fresh);
      if (shorts < end) this.#followShorts(order, shorts, end, fresh);
    }
    const { delta } = this.genealogy;
    const heads = this.direction === 'forward' ? delta.outHeads : delta.inHeads;
    const next = this.direction === 'forward' ? delta.outNext : delta.inNext;
    for (let row = heads[lot] ?? -1; row >= delta.base; row = next[row - delta.base] ?? -1) this.#follow(row, fresh);
  }

  /** Short spans are sorted by first piece: for each fresh span only those that can meet it are looked at. */
  #followShorts(order: Int32Array, begin: number, end: number, fresh: FlatSpans | null): void {
    if (fresh === null || this.#conservative) {
      for (let at = begin; at < end; at++) this.#follow(order[at] ?? 0, fresh);
      return;
    }
    let from = begin;
    let done = begin;
    for (let at = 0; at < fresh.length; at += 2) {
      from = this.#firstShortFrom(order, from, end, (fresh[at] ?? 0) - SHORT + 1);
      const last = fresh[at + 1] ?? 0;
      if (from > done) done = from;
      // Links up to `done` were tried against all of `fresh` already, by an earlier span.
      for (; done < end && this.#firstOf(order[done] ?? 0) <= last; done++) this.#follow(order[done] ?? 0, fresh);
      if (done >= end) return;
    }
  }

  /** The first place in [from, end) whose link starts at `piece` or later, by doubling steps and then bisection. */
  #firstShortFrom(order: Int32Array, from: number, end: number, piece: number): number {
    let low = from;
    let step = 1;
    let high = from;
    while (high < end && this.#firstOf(order[high] ?? 0) < piece) {
      low = high + 1;
      high += step;
      step *= 2;
    }
    if (high > end) high = end;
    while (low < high) {
      const mid = (low + high) >>> 1;
      if (this.#firstOf(order[mid] ?? 0) < piece) low = mid + 1;
      else high = mid;
    }
    return low;
  }

  #firstOf(row: number): number {
    return this.#words[row * STRIDE + this.#side.first] ?? 0;
  }

  #follow(row: number, fresh: FlatSpans | null): void {
    if (row >= this.#limit) return;
    const words = this.#words;
    const word = row * STRIDE;
    const flags = words[word] ?? 0;
    if ((flags & VOIDED) !== 0 && this.genealogy.isVoid(row, this.#asKnownAt)) return;
    const side = this.#side;
    const lot = (words[word + side.acrossLot] ?? 0) & LOT_MASK;
    if (this.#conservative) {
      const pieces = this.genealogy.piecesOf(lot);
      this.#arrive(lot, pieces > 0 ? 1 : 0, pieces);
      return;
    }
    const acrossFirst = words[word + side.acrossFirst] ?? 0;
    const acrossLast = words[word + side.acrossLast] ?? 0;
    if (fresh === null) {
      this.#carry(flags, lot, acrossFirst, acrossLast);
      return;
    }
    const first = words[word + side.first] ?? 0;
    const last = words[word + side.last] ?? 0;
    if ((flags & EACH) === 0) {
      if (meetsFlat(fresh, first, last)) this.#carry(flags, lot, acrossFirst, acrossLast);
      return;
    }
    this.#followEach(flags, lot, fresh, first, last, acrossFirst - first);
  }

  #followEach(flags: number, lot: number, fresh: FlatSpans, first: number, last: number, shift: number): void {
    for (let at = firstEnding(fresh, first); at < fresh.length && (fresh[at] ?? 0) <= last; at += 2) {
      this.#carry(flags, lot, Math.max(first, fresh[at] ?? 0) + shift, Math.min(last, fresh[at + 1] ?? 0) + shift);
    }
  }

  /** Arrives at the far side of a link, less what a share cut-off leaves out. */
  #carry(flags: number, lot: number, first: number, last: number): void {
    const cut = this.#notBlendedInto === undefined || (flags & BLENDS) === 0 ? undefined : this.#notBlendedInto.get(lot);
    if (cut === undefined) return this.#arrive(lot, first, last);
    if (cut === null) return;
    const rest = subtractFlat([first, last], cut);
    for (let at = 0; at < rest.length; at += 2) this.#arrive(lot, rest[at] ?? 0, rest[at + 1] ?? 0);
  }

  #arrive(lot: number, first: number, last: number): void {
    const found = this.#at(lot);
    const reached = found ?? this.#add(new ReachedLot(lot, this.#depth, false, first === 0));
    if (reached.isOrigin) this.#reachedAgain(reached, first, last);
    if (reached.known === null || (found && coversFlat(reached.known, first, last))) return;
    reached.pending.push(first, last);
    if (!reached.waits) this.#wait(reached);
  }

  #reachedAgain(origin: ReachedLot, first: number, last: number): void {
    if (origin.againPairs === null) {
      origin.againPairs = [];
      origin.againDepth = this.#depth;
    }
    if (first > 0) origin.againPairs.push(first, last);
  }

  #at(lot: number): ReachedLot | undefined {
    const place = this.genealogy.marks.get(lot);
    return place < 0 ? undefined : this.#reached[place];
  }

  #add(reached: ReachedLot): ReachedLot {
    this.genealogy.marks.set(reached.lot, this.#reached.length);
    this.#reached.push(reached);
    this.#wait(reached);
    return reached;
  }

  #wait(reached: ReachedLot): void {
    reached.waits = true;
    this.#next.push(reached);
  }
}
