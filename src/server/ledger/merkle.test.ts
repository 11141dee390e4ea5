import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { MerkleTree } from './merkle.js';

const sha256 = (...parts: readonly Buffer[]): Buffer => createHash('sha256').update(Buffer.concat(parts)).digest();
const entry = (n: number): string => sha256(Buffer.from(`entry ${n}`)).toString('hex');

/** RFC 9162 section 2.1.1, word for word, and slow. */
function mth(leaves: readonly string[]): Buffer {
  if (leaves.length === 0) return sha256();
  if (leaves.length === 1) return sha256(Buffer.of(0), Buffer.from(leaves[0]!, 'hex'));
  let k = 1;
  while (k * 2 < leaves.length) k *= 2;
  return sha256(Buffer.of(1), mth(leaves.slice(0, k)), mth(leaves.slice(k)));
}

/** RFC 9162 section 2.1.3.2: the root an inclusion proof leads to. */
function rootByInclusion(leaf: string, index: number, size: number, path: readonly Buffer[]): Buffer | null {
  let [fn, sn, r] = [index, size - 1, sha256(Buffer.of(0), Buffer.from(leaf, 'hex'))];
  for (const p of path) {
    if (sn === 0) return null;
    if (fn % 2 === 1 || fn === sn) {
      r = sha256(Buffer.of(1), p, r);
      while (fn % 2 === 0 && fn !== 0) [fn, sn] = [fn >> 1, sn >> 1];
    } else r = sha256(Buffer.of(1), r, p);
    [fn, sn] = [fn >> 1, sn >> 1];
  }
  return sn === 0 ? r : null;
}

/** RFC 9162 section 2.1.4.2: both roots a consistency proof leads to. */
function rootsByConsistency(older: number, size: number, olderRoot: Buffer, proof: readonly Buffer[]): [Buffer, Buffer] | null {
  if (older === size) return proof.length === 0 ? [olderRoot, olderRoot] : null;
  const path = Number.isInteger(Math.log2(older)) ? [olderRoot, ...proof] : [...proof];
  let [fn, sn] = [older - 1, size - 1];
  while (fn % 2 === 1) [fn, sn] = [fn >> 1, sn >> 1];
  let [fr, sr] = [path[0]!, path[0]!];
  for (const c of path.slice(1)) {
    if (sn === 0) return null;
    if (fn % 2 === 1 || fn === sn) {
      [fr, sr] = [sha256(Buffer.of(1), c, fr), sha256(Buffer.of(1), c, sr)];
      while (fn % 2 === 0 && fn !== 0) [fn, sn] = [fn >> 1, sn >> 1];
    } else sr = sha256(Buffer.of(1), sr, c);
    [fn, sn] = [fn >> 1, sn >> 1];
  }
  return sn === 0 ? [fr, sr] : null;
}

const MOST = 70;
const entries = Array.from({ length: MOST }, (_, i) => entry(i + 1));
const tree = new MerkleTree();
for (const hash of entries) tree.append(hash);

describe('the tree over the hashes of entries (L-15)', () => {
  it('is for none the SHA-256 of nothing', () => {
    // The empty root of RFC 9162 section 2.1.1: SHA-256 of the empty string, FIPS 180-4.
    expect(new MerkleTree().root().toString('hex')).toBe('e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855');
  });

  it('hashes leaves and nodes as the published vectors do', () => {
    // Tree of the leaves "" and 00, and leaf and node alone: transparency-dev/merkle, commit 417fb0c3, testonly/constants.go. Their leaves
    // are not 32 bytes long, so the rule is checked here on the slow copy above, and the tree against that.
    const leaf = (hex: string): Buffer => sha256(Buffer.of(0), Buffer.from(hex, 'hex'));
    expect(mth(['']).toString('hex')).toBe('6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d');
    expect(mth(['', '00']).toString('hex')).toBe('fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125');
    expect(mth(['', '00', '10', '2021', '3031']).toString('hex')).toBe('4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4');
    expect(leaf(Buffer.from('L123456').toString('hex')).toString('hex')).toBe(
      '395aa064aa4c29f7010acfe3f25db9485bbd4b91897b6ad7ad547639252b4d56',
    );
  });

  it('has at every size the root that the definition gives', () => {
    for (let size = 0; size <= MOST; size += 1) {
      expect(tree.root(size).toString('hex'), `${size} entries`).toBe(mth(entries.slice(0, size)).toString('hex'));
    }
  });

  it('proves every entry to be in the tree of every size, and no other', () => {
    for (let size = 1; size <= MOST; size += 1) {
      for (let seq = 1; seq <= size; seq += 1) {
        const path = tree.inclusion(seq, size);
        expect(rootByInclusion(entries[seq - 1]!, seq - 1, size, path)).toEqual(tree.root(size));
        expect(rootByInclusion(entry(0), seq - 1, size, path)).not.toEqual(tree.root(size));
      }
    }
  });

  it('proves every tree to be a continuation of every older one', () => {
    for (let size = 1; size <= MOST; size += 1) {
      for (let older = 1; older <= size; older += 1) {
        const proven = rootsByConsistency(older, size, tree.root(older), tree.consistency(older, size));
        expect(proven, `${older} in ${size}`).toEqual([tree.root(older), tree.root(size)]);
      }
    }
  });

  it('knows nothing of entries that are not there', () => {
    expect(() => tree.root(MOST + 1)).toThrow(RangeError);
    expect(() => tree.inclusion(0, 5)).toThrow(RangeError);
    expect(() => tree.inclusion(6, 5)).toThrow(RangeError);
    expect(() => tree.consistency(6, 5)).toThrow(RangeError);
  });
});
