/** Sets of atoms: few as a sorted list, many as one bit each. A set has one form only, so that equal sets are equal arrays. */
export type AtomSet = { readonly few: readonly number[] } | { readonly bits: Uint32Array };

/** Up to so many atoms are a list. */
const FEW = 24;

const NONE: AtomSet = { few: [] };

/**
 * Places that no candidate can tell apart, taken together: the stretches between all ends of all stretches that anything leads to. Cans of a
 * filling are a few dozen atoms, units with serial-numbered parts one each.
 */
export class Atoms {
  readonly count: number;
  /** First place of each atom, and one past the last. */
  readonly #starts: Int32Array;
  /** Failed pieces by atom, and the atoms with several. */
  readonly #failed: Int32Array;
  readonly #failedSeveral: readonly number[];
  /** Atoms of one piece, and atoms with one failed piece: to be counted 32 at a time. */
  readonly #single: Uint32Array;
  readonly #failedOnce: Uint32Array;

  /**
   * @param ends where stretches begin and one past where they end, in any order, more than once
   * @param failed places that failed, in order
   */
  constructor(ends: readonly number[], failed: readonly number[]) {
    this.#starts = distinct(Int32Array.from(ends).toSorted());
    this.count = Math.max(0, this.#starts.length - 1);
    this.#failed = new Int32Array(this.count);
    for (const place of failed) {
      const atom = this.atomAt(place);
      this.#failed[atom] = (this.#failed[atom] ?? 0) + 1;
    }
    this.#single = new Uint32Array((this.count + 31) >>> 5);
    this.#failedOnce = new Uint32Array(this.#single.length);
    const several: number[] = [];
    for (let atom = 0; atom < this.count; atom++) {
      if (this.#piecesOf(atom) === 1) setBit(this.#single, atom);
      const here = this.#failed[atom] ?? 0;
      if (here === 1) setBit(this.#failedOnce, atom);
      else if (here > 1) several.push(atom);
    }
    this.#failedSeveral = several;
  }

  /** The atom that holds a place. */
  atomAt(place: number): number {
    let [low, high] = [0, this.#starts.length];
    while (low < high) {
      const mid = (low + high) >>> 1;
      if ((this.#starts[mid] ?? 0) <= place) low = mid + 1;
      else high = mid;
    }
    return low - 1;
  }

  /** The union of sets and of stretches of places, from-to pairs whose ends are ends of atoms. */
  union(sets: readonly AtomSet[], places: readonly number[]): AtomSet {
    if (places.length === 0 && sets.length <= 1) return sets[0] ?? NONE;
    const ranges = places.map((place, at) => this.atomAt(place) + (at & 1));
    const listed = listOf(sets, ranges);
    return listed === null ? this.#bitsOf(sets, ranges) : { few: listed };
  }

  /** How many pieces of the population a set holds, and how many of them failed. */
  tally(set: AtomSet): { readonly pieces: number; readonly failed: number } {
    let [pieces, failed] = [0, 0];
    if ('few' in set) {
      for (const atom of set.few) {
        pieces += this.#piecesOf(atom);
        failed += this.#failed[atom] ?? 0;
      }
      return { pieces, failed };
    }
    const { bits } = set;
    for (let word = 0; word < bits.length; word++) {
      const held = bits[word] ?? 0;
      if (held === 0) continue;
      const single = this.#single[word] ?? 0;
      pieces += countBits(held & single);
      failed += countBits(held & (this.#failedOnce[word] ?? 0));
      for (let rest = held & ~single; rest !== 0; rest &= rest - 1) pieces += this.#piecesOf(word * 32 + 31 - Math.clz32(rest & -rest));
    }
    for (const atom of this.#failedSeveral) if (hasBit(bits, atom)) failed += this.#failed[atom] ?? 0;
    return { pieces, failed };
  }

  #bitsOf(sets: readonly AtomSet[], ranges: readonly number[]): AtomSet {
    const bits = new Uint32Array((this.count + 31) >>> 5);
    for (const set of sets) {
      if ('few' in set) for (const atom of set.few) setBit(bits, atom);
      else for (let word = 0; word < bits.length; word++) bits[word] = (bits[word] ?? 0) | (set.bits[word] ?? 0);
    }
    for (let at = 0; at < ranges.length; at += 2) setBits(bits, ranges[at] ?? 0, ranges[at + 1] ?? 0);
    return { bits };
  }

  #piecesOf(atom: number): number {
    return (this.#starts[atom + 1] ?? 0) - (this.#starts[atom] ?? 0);
  }
}

/** Of numbers in order, each once. */
function distinct(sorted: Int32Array): Int32Array {
  let count = 0;
  for (let at = 0; at < sorted.length; at++) {
    const value = sorted[at] ?? 0;
    if (count === 0 || value !== sorted[count - 1]) sorted[count++] = value;
  }
  return sorted.slice(0, count);
}

/** The atoms of a small union in order, or null if they are many. */
function listOf(sets: readonly AtomSet[], ranges: readonly number[]): number[] | null {
  const listed = new Set<number>();
  for (const set of sets) {
    if ('bits' in set) return null;
    for (const atom of set.few) listed.add(atom);
    if (listed.size > FEW) return null;
  }
  for (let at = 0; at < ranges.length; at += 2) {
    for (let atom = ranges[at] ?? 0; atom < (ranges[at + 1] ?? 0); atom++) {
      listed.add(atom);
      if (listed.size > FEW) return null;
    }
  }
  return [...listed].toSorted((a, b) => a - b);
}

/** A number that equal sets share and others hardly ever do. */
export function hashOf(set: AtomSet): number {
  const parts = 'few' in set ? set.few : set.bits;
  let hash = parts.length;
  for (let at = 0; at < parts.length; at++) hash = Math.imul(hash ^ (parts[at] ?? 0), 0x9e3779b1) ^ (hash >>> 15);
  return hash >>> 0;
}

export function sameAtoms(a: AtomSet, b: AtomSet): boolean {
  if (a === b) return true;
  if ('few' in a) return 'few' in b && sameParts(a.few, b.few);
  return 'bits' in b && sameParts(a.bits, b.bits);
}

function sameParts(a: ArrayLike<number>, b: ArrayLike<number>): boolean {
  if (a.length !== b.length) return false;
  for (let at = 0; at < a.length; at++) if (a[at] !== b[at]) return false;
  return true;
}

export const isEmpty = (set: AtomSet): boolean => 'few' in set && set.few.length === 0;

function setBit(bits: Uint32Array, atom: number): void {
  bits[atom >>> 5] = (bits[atom >>> 5] ?? 0) | (1 << (atom & 31));
}

const hasBit = (bits: Uint32Array, atom: number): boolean => (((bits[atom >>> 5] ?? 0) >>> (atom & 31)) & 1) === 1;

/** Sets the bits from `from` to before `past`. */
function setBits(bits: Uint32Array, from: number, past: number): void {
  let atom = from;
  for (; atom < past && (atom & 31) !== 0; atom++) setBit(bits, atom);
  for (; atom + 32 <= past; atom += 32) bits[atom >>> 5] = 0xffff_ffff;
  for (; atom < past; atom++) setBit(bits, atom);
}

/** Bits set in a 32-bit word. */
function countBits(word: number): number {
  let bits = word - ((word >>> 1) & 0x5555_5555);
  bits = (bits & 0x3333_3333) + ((bits >>> 2) & 0x3333_3333);
  return Math.imul((bits + (bits >>> 4)) & 0x0f0f_0f0f, 0x0101_0101) >>> 24;
}
