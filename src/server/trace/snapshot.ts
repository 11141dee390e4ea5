import { createHash } from 'node:crypto';
import type { Adjacency } from './adjacency.js';
import { Genealogy } from './genealogy.js';
import { STRIDE } from './link-table.js';
import { GenealogyFault } from './link.js';

/** A snapshot that is damaged, of another format or of another ledger. The caller builds the index from rows instead. */
export class SnapshotFault extends Error {
  override name = 'SnapshotFault';
}

/** The ledger entry up to which a snapshot holds every link, and that entry's hash. */
interface SnapshotCover {
  readonly seq: number;
  readonly hash: string;
}

/*
 * Layout, little-endian, every section padded to 8 bytes:
 *   8 bytes magic, u32 format version, u32 byte-order mark, f64 ledger seq, 64 bytes ledger hash (hex),
 *   u32 number of sections, u32 zero, then per section f64 byte length; the sections; 32 bytes SHA-256 of all before.
 * A change in the meaning of any section is a new version; an older snapshot is simply built anew from rows.
 */
const MAGIC = Buffer.from('KNLGENIX', 'latin1');
const VERSION = 1;
const BYTE_ORDER = 0x0102_0304;
const HEAD = 96;
const DIGEST = 32;
const SECTIONS = 14;

const padded = (bytes: number): number => Math.ceil(bytes / 8) * 8;
const digestOf = (bytes: Uint8Array): Buffer => createHash('sha256').update(bytes).digest();

/**
 * Packs the committed index. Compacts it first.
 * @param hash hash of ledger entry `genealogy.committedSeq`, in hex
 * @throws GenealogyFault if links or voids are still uncommitted
 */
export function packSnapshot(genealogy: Genealogy, hash: string): Buffer {
  if (genealogy.hasUncommitted) throw new GenealogyFault('there are uncommitted links or voids');
  genealogy.compact();
  const sections = sectionsOf(genealogy).map((section) => Buffer.from(section.buffer, section.byteOffset, section.byteLength));
  const headBytes = HEAD + SECTIONS * 8;
  const bodyBytes = sections.reduce((sum, section) => sum + padded(section.length), 0);
  const packed = Buffer.alloc(headBytes + bodyBytes + DIGEST);
  MAGIC.copy(packed, 0);
  packed.writeUInt32LE(VERSION, 8);
  new Uint32Array(packed.buffer, packed.byteOffset + 12, 1)[0] = BYTE_ORDER;
  packed.writeDoubleLE(genealogy.committedSeq, 16);
  packed.write(hash.padEnd(64), 24, 64, 'latin1');
  packed.writeUInt32LE(SECTIONS, 88);
  let at = headBytes;
  for (const [index, section] of sections.entries()) {
    packed.writeDoubleLE(section.length, HEAD + index * 8);
    section.copy(packed, at);
    at += padded(section.length);
  }
  digestOf(packed.subarray(0, at)).copy(packed, at);
  return packed;
}

/**
 * What a snapshot covers, read from its head alone, so that a caller can compare the hash with its own ledger first.
 * @throws SnapshotFault if the head is not one of this format
 */
export function snapshotCover(packed: Buffer): SnapshotCover {
  if (packed.length < HEAD + SECTIONS * 8 + DIGEST) throw new SnapshotFault('the snapshot is cut short');
  if (!packed.subarray(0, 8).equals(MAGIC)) throw new SnapshotFault('this is not a genealogy snapshot');
  if (packed.readUInt32LE(8) !== VERSION) throw new SnapshotFault(`snapshot format ${packed.readUInt32LE(8)} is not ${VERSION}`);
  if (new Uint32Array(Uint8Array.from(packed.subarray(12, 16)).buffer)[0] !== BYTE_ORDER) {
    throw new SnapshotFault('the snapshot was written on a machine of another byte order');
  }
  return { seq: packed.readDoubleLE(16), hash: packed.toString('latin1', 24, 88).trimEnd() };
}

/**
 * Restores an index.
 * @param expected what the caller's ledger says the snapshot must cover
 * @throws SnapshotFault if it is damaged or covers something else
 */
export function unpackSnapshot(packed: Buffer, expected: SnapshotCover): Genealogy {
  const cover = snapshotCover(packed);
  if (cover.seq !== expected.seq || cover.hash !== expected.hash) throw new SnapshotFault('the snapshot belongs to another ledger');
  const body = packed.length - DIGEST;
  if (!digestOf(packed.subarray(0, body)).equals(packed.subarray(body))) throw new SnapshotFault('the checksum does not match');
  if (packed.readUInt32LE(88) !== SECTIONS) throw new SnapshotFault('the number of sections is wrong');
  let at = HEAD + SECTIONS * 8;
  const sections = Array.from({ length: SECTIONS }, (_, index) => {
    const length = packed.readDoubleLE(HEAD + index * 8);
    if (!Number.isInteger(length) || length < 0 || at + length > body) throw new SnapshotFault('a section does not fit');
    // Copied into memory of its own: the caller's buffer may be unaligned, and may be let go.
    const section = new Uint8Array(padded(length));
    section.set(packed.subarray(at, at + length));
    at += padded(length);
    return { bytes: section.buffer, length };
  });
  return restore(sections, cover.seq);
}

/** The arrays of an index, in the order `restore` takes them. */
function sectionsOf(genealogy: Genealogy): ArrayBufferView[] {
  const { table, out, into } = genealogy;
  const { stretches } = table;
  const pieces = Int32Array.from({ length: genealogy.lotCount + 1 }, (_, lot) => genealogy.piecesOf(lot));
  const voids = Float64Array.from([...table.voids].flat());
  return [
    pieces,
    table.words.subarray(0, table.count * STRIDE),
    table.ownMasses.rows.subarray(0, table.ownMasses.count),
    table.ownMasses.masses.subarray(0, table.ownMasses.count),
    stretches.starts.subarray(0, stretches.count),
    stretches.seqs.subarray(0, stretches.count),
    stretches.ords.subarray(0, stretches.count),
    voids,
    ...[out, into].flatMap((side) => [side.starts, side.shorts, side.order]),
  ];
}

function restore(sections: readonly { bytes: ArrayBuffer; length: number }[], seq: number): Genealogy {
  const int32 = (index: number): Int32Array<ArrayBuffer> =>
    new Int32Array(sections[index]?.bytes ?? new ArrayBuffer(0), 0, (sections[index]?.length ?? 0) / 4);
  const uint32 = (index: number): Uint32Array => new Uint32Array(int32(index).buffer, 0, (sections[index]?.length ?? 0) / 4);
  const float64 = (index: number): Float64Array => new Float64Array(int32(index).buffer, 0, (sections[index]?.length ?? 0) / 8);
  const side = (index: number): Adjacency => ({
    lots: int32(index + 1).length - 1,
    links: int32(index + 2).length,
    starts: int32(index),
    shorts: int32(index + 1),
    order: int32(index + 2),
  });
  const genealogy = new Genealogy();
  const { table } = genealogy;
  const words = int32(1);
  table.adopt(words, new Int32Array(0));
  table.count = words.length / STRIDE;
  table.ownMasses.adopt(uint32(2), float64(3));
  table.stretches.adopt(uint32(4), uint32(5), uint32(6));
  const voids = float64(7);
  for (let at = 0; at < voids.length; at += 2) table.setVoid(voids[at] ?? 0, voids[at + 1] ?? 0);
  const out = side(8);
  const into = side(11);
  if (out.links !== table.count || into.links !== table.count) throw new SnapshotFault('the sections contradict each other');
  genealogy.adopt({ pieces: int32(0), out, into, seq });
  return genealogy;
}
