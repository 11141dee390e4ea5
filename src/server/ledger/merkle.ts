import { hash as digest } from 'node:crypto';

/** Bytes of a SHA-256. */
const WIDE = 32;

const sha256Bytes = (bytes: Uint8Array): Buffer => digest('sha256', bytes, 'buffer');

/**
 * The Merkle tree of RFC 9162 section 2.1 over the hashes of entries: leaf k is SHA-256(0x00 || the 32 bytes of the hash of entry k + 1),
 * a node is SHA-256(0x01 || left || right), a tree of n leaves is split at the largest power of two below n.
 * It only grows. Every complete subtree is kept, 64 bytes an entry in all, so roots and proofs of any size cost a few hashes.
 * @see https://www.rfc-editor.org/rfc/rfc9162.html#section-2.1
 * @see docs/rules/ledger.md L-15
 */
export class MerkleTree {
  /** Level k holds the roots of the complete subtrees of 2^k leaves, in order. */
  readonly #levels: Hashes[] = [];

  /** Number of entries. */
  get size(): number {
    return this.#levels[0]?.count ?? 0;
  }

  /** @param entryHash 64 hexadecimal digits, as an entry's `hash` */
  append(entryHash: string): void {
    let node = sha256Bytes(Buffer.concat([Buffer.of(0), Buffer.from(entryHash, 'hex')]));
    for (let level = 0; ; level += 1) {
      const hashes = (this.#levels[level] ??= new Hashes());
      hashes.push(node);
      if (hashes.count % 2 === 1) return;
      node = joined(hashes.at(hashes.count - 2), node);
    }
  }

  /**
   * The root of the first `size` entries.
   * @throws RangeError if the tree is not so large
   */
  root(size = this.size): Buffer {
    if (!Number.isInteger(size) || size < 0 || size > this.size) throw new RangeError(`a tree of ${this.size} has no root of ${size}`);
    return this.#over(0, size);
  }

  /**
   * The hashes that lead from entry `seq` to the root of the first `size` entries (RFC 9162 section 2.1.3).
   * @param seq 1 to size
   */
  inclusion(seq: number, size = this.size): Buffer[] {
    this.#bound(seq, size);
    const path: Buffer[] = [];
    let [from, to] = [0, size];
    while (to - from > 1) {
      const middle = from + splitOf(to - from);
      const isLeft = seq - 1 < middle;
      path.unshift(isLeft ? this.#over(middle, to) : this.#over(from, middle));
      if (isLeft) to = middle;
      else from = middle;
    }
    return path;
  }

  /**
   * The hashes that prove the tree of `size` entries to be a continuation of the one of its first `older` (RFC 9162 section 2.1.4).
   * @param older 1 to size
   */
  consistency(older: number, size = this.size): Buffer[] {
    this.#bound(older, size);
    const proof: Buffer[] = [];
    let [from, to] = [0, size];
    while (to !== older) {
      const middle = from + splitOf(to - from);
      const isLeft = older <= middle;
      proof.unshift(isLeft ? this.#over(middle, to) : this.#over(from, middle));
      if (isLeft) to = middle;
      else from = middle;
    }
    if (from > 0) proof.unshift(this.#over(from, to)); // an older root that is a whole left side needs no saying
    return proof;
  }

  #bound(part: number, size: number): void {
    if (!Number.isInteger(part) || part < 1 || part > size || size > this.size) {
      throw new RangeError(`a tree of ${this.size} proves nothing of ${part} in ${size}`);
    }
  }

  /** The root over leaves `from` to before `to`; a stretch as the splits of RFC 9162 make them. */
  #over(from: number, to: number): Buffer {
    const wide = to - from;
    if (wide === 0) return sha256Bytes(Buffer.alloc(0));
    const level = Math.log2(wide);
    if (Number.isInteger(level)) return this.#levels[level]!.at(from / wide);
    const middle = from + splitOf(wide);
    return joined(this.#over(from, middle), this.#over(middle, to));
  }
}

/** The largest power of two below `wide`, which is at least 2. */
const splitOf = (wide: number): number => 2 ** (31 - Math.clz32(wide - 1));

const joined = (left: Buffer, right: Buffer): Buffer => sha256Bytes(Buffer.concat([Buffer.of(1), left, right]));

/** A list of hashes in one piece of memory. */
class Hashes {
  count = 0;
  #bytes = Buffer.alloc(WIDE * 16);

  push(hash: Buffer): void {
    if (this.count * WIDE === this.#bytes.length) {
      const larger = Buffer.alloc(this.#bytes.length * 2);
      this.#bytes.copy(larger);
      this.#bytes = larger;
    }
    hash.copy(this.#bytes, this.count * WIDE);
    this.count += 1;
  }

  /** A copy: what is handed out does not change. */
  at(i: number): Buffer {
    return Buffer.from(this.#bytes.subarray(i * WIDE, (i + 1) * WIDE));
  }
}
