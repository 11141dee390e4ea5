import { GenealogyFault, type KnownLink, type Link } from './link.js';
import { OwnMasses } from './own-masses.js';

/*
 * A link is eight 32-bit words, 32 bytes, one half of a cache line: the words below and then the quantity as one 64-bit
 * float in words 6 and 7. Rows stay in the order of the ledger, (seq, ord), so a row number is a position in time:
 * "as known at N" is one comparison, and seq and ord are kept once per stretch of consecutive ords, not once per link.
 */
export const STRIDE = 8;
export const LOT_MASK = 0x0fff_ffff;
export const EACH = 1 << 31;
export const VOIDED = 1 << 30;
export const BLENDS = 1 << 29;
/** The blending mass differs from the quantity (litres, cans), so it is in `ownMasses`. */
const OWN_MASS = 1 << 28;

/** Which words of a link belong to the lot looked from, and which to the lot across. */
export interface Side {
  readonly lot: number;
  readonly first: number;
  readonly last: number;
  readonly acrossLot: number;
  readonly acrossFirst: number;
  readonly acrossLast: number;
}
export const FROM_SIDE: Side = { lot: 0, first: 1, last: 2, acrossLot: 3, acrossFirst: 4, acrossLast: 5 };
export const TO_SIDE: Side = { lot: 3, first: 4, last: 5, acrossLot: 0, acrossFirst: 1, acrossLast: 2 };

const grown = (capacity: number, needed: number): number => Math.max(needed, Math.ceil(capacity * 1.25), 1024);

/** The first index in [0, length) for which `isPast` holds, or length; `isPast` must be monotone. */
function firstPast(length: number, isPast: (index: number) => boolean): number {
  let low = 0;
  let high = length;
  while (low < high) {
    const mid = (low + high) >>> 1;
    if (isPast(mid)) high = mid;
    else low = mid + 1;
  }
  return low;
}

/** Stretches of links with one seq and consecutive ords: where each starts, its seq, and the ord of its first link. */
export class Stretches {
  starts: Uint32Array = new Uint32Array(0);
  seqs: Uint32Array = new Uint32Array(0);
  ords: Uint32Array = new Uint32Array(0);
  count = 0;

  push(start: number, seq: number, ord: number): void {
    if (this.count === this.seqs.length) this.#grow();
    this.starts[this.count] = start;
    this.seqs[this.count] = seq;
    this.ords[this.count] = ord;
    this.count++;
  }

  adopt(starts: Uint32Array, seqs: Uint32Array, ords: Uint32Array): void {
    this.starts = starts;
    this.seqs = seqs;
    this.ords = ords;
    this.count = starts.length;
  }

  /** The stretch that holds the link. */
  holding(link: number): number {
    return firstPast(this.count, (at) => (this.starts[at] ?? 0) > link) - 1;
  }

  dropFrom(link: number): void {
    while (this.count > 0 && (this.starts[this.count - 1] ?? 0) >= link) this.count--;
  }

  #grow(): void {
    const capacity = grown(this.seqs.length, this.count + 1);
    const copy = (old: Uint32Array): Uint32Array => {
      const next = new Uint32Array(capacity);
      next.set(old);
      return next;
    };
    this.starts = copy(this.starts);
    this.seqs = copy(this.seqs);
    this.ords = copy(this.ords);
  }
}

/** The links themselves, appended in ledger order and truncated again when a transaction rolls back. */
export class LinkTable {
  words: Int32Array = new Int32Array(0);
  count = 0;
  readonly ownMasses = new OwnMasses();
  readonly stretches = new Stretches();
  /** Link to the entry that voided it. Few links ever are, and a flag in the link says whether to look. */
  readonly voids = new Map<number, number>();
  #quantities: Float64Array = new Float64Array(0);

  /** @throws GenealogyFault if the link does not come after the last one in (seq, ord) */
  append(link: Link): number {
    const last = this.count - 1;
    const lastSeq = last < 0 ? 0 : this.seqAt(last);
    const lastOrd = last < 0 ? -1 : this.ordAt(last);
    if (link.seq < lastSeq || (link.seq === lastSeq && link.ord <= lastOrd)) {
      throw new GenealogyFault(`link (${link.seq}, ${link.ord}) comes after (${lastSeq}, ${lastOrd}) but is not later`);
    }
    this.reserve(this.count + 1);
    if (link.seq !== lastSeq || link.ord !== lastOrd + 1) this.stretches.push(this.count, link.seq, link.ord);
    const at = this.count++;
    const word = at * STRIDE;
    const blends = link.massMicro > 0;
    const ownMass = blends && link.massMicro !== link.quantityMicro;
    const { words } = this;
    words[word] = link.fromLot | (link.map === 'each' ? EACH : 0) | (blends ? BLENDS : 0) | (ownMass ? OWN_MASS : 0);
    words[word + 1] = link.fromFirst;
    words[word + 2] = link.fromLast;
    words[word + 3] = link.toLot;
    words[word + 4] = link.toFirst;
    words[word + 5] = link.toLast;
    this.#quantities[at * 4 + 3] = link.quantityMicro;
    if (ownMass) this.ownMasses.push(at, link.massMicro);
    return at;
  }

  /** Makes room, so that a known number of links can be appended without copying. */
  reserve(links: number): void {
    const capacity = this.words.length / STRIDE;
    if (links <= capacity) return;
    this.adopt(new Int32Array(grown(capacity, links) * STRIDE), this.words.subarray(0, this.count * STRIDE));
  }

  /** Takes over a block of words, with `rows` copied to its start. */
  adopt(words: Int32Array, rows: Int32Array): void {
    words.set(rows);
    this.words = words;
    this.#quantities = new Float64Array(words.buffer, words.byteOffset, words.length / 2);
  }

  truncate(count: number): void {
    this.count = count;
    this.stretches.dropFrom(count);
    this.ownMasses.dropFrom(count);
  }

  seqAt(link: number): number {
    return this.stretches.seqs[this.#stretchOf(link)] ?? 0;
  }

  ordAt(link: number): number {
    const at = this.#stretchOf(link);
    return (this.stretches.ords[at] ?? 0) + link - (this.stretches.starts[at] ?? 0);
  }

  massAt(link: number): number {
    const flags = this.words[link * STRIDE] ?? 0;
    if ((flags & BLENDS) === 0) return 0;
    return (flags & OWN_MASS) !== 0 ? this.ownMasses.at(link) : (this.#quantities[link * 4 + 3] ?? 0);
  }

  /** How many links, from the first, were recorded by entries up to `seq`. */
  countUpTo(seq: number): number {
    const { stretches } = this;
    if (this.count === 0 || (stretches.seqs[stretches.count - 1] ?? 0) <= seq) return this.count;
    const past = firstPast(stretches.count, (at) => (stretches.seqs[at] ?? 0) > seq);
    return stretches.starts[past] ?? this.count;
  }

  /** The row of link (seq, ord), or -1. */
  find(seq: number, ord: number): number {
    const { seqs, ords, starts, count } = this.stretches;
    const at = firstPast(count, (i) => (seqs[i] ?? 0) > seq || (seqs[i] === seq && (ords[i] ?? 0) > ord)) - 1;
    if (at < 0 || seqs[at] !== seq) return -1;
    const link = (starts[at] ?? 0) + ord - (ords[at] ?? 0);
    return link < (at + 1 < count ? (starts[at + 1] ?? 0) : this.count) ? link : -1;
  }

  setVoid(link: number, voidedAt: number): void {
    this.voids.set(link, voidedAt);
    this.words[link * STRIDE] = (this.words[link * STRIDE] ?? 0) | VOIDED;
  }

  clearVoid(link: number): void {
    this.voids.delete(link);
    this.words[link * STRIDE] = (this.words[link * STRIDE] ?? 0) & ~VOIDED;
  }

  read(link: number): KnownLink {
    const word = link * STRIDE;
    const at = (offset: number): number => this.words[word + offset] ?? 0;
    const massMicro = this.massAt(link);
    return {
      seq: this.seqAt(link),
      ord: this.ordAt(link),
      fromLot: at(0) & LOT_MASK,
      fromFirst: at(1),
      fromLast: at(2),
      toLot: at(3),
      toFirst: at(4),
      toLast: at(5),
      quantityMicro: this.#quantities[link * 4 + 3] ?? 0,
      massMicro,
      map: (at(0) & EACH) !== 0 ? 'each' : 'all',
      blends: massMicro > 0,
      voidedAt: this.voids.get(link) ?? null,
    };
  }

  get byteLength(): number {
    return this.words.byteLength + this.stretches.seqs.byteLength * 3 + this.ownMasses.byteLength + this.voids.size * 40;
  }

  #stretchOf(link: number): number {
    const { stretches } = this;
    const last = stretches.count - 1;
    return (stretches.starts[last] ?? 0) <= link ? last : stretches.holding(link);
  }
}
