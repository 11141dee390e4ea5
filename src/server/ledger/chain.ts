import type { EntityManager } from 'typeorm';
import { canonicalJson } from '../../../shared/canonical-json.js';
import { sha256 } from './append.js';
import { GENESIS } from './fact.js';
import { MerkleTree } from './merkle.js';
import { entryAt, entryPages, type Head, ledgerHead, type StoredEntry } from './read.js';

/** What is wrong with the record, where, and how one can see it. The first wrong thing is named, not all that follow from it. */
export interface Fault {
  /** A word a program can read, as `changed-body`. */
  readonly what: string;
  /** `entry 17`, or a table and the key of a row. */
  readonly where: string;
  readonly detail: string;
}

/** A place in the ledger somebody wrote down earlier, from a report or a backup. */
export type KnownHead = Head;

/** A checkpoint somebody kept: the root of the Merkle tree over the hashes of the first `size` entries, 32 bytes. */
export interface KnownTree {
  readonly size: number;
  readonly root: Buffer;
}

interface ChainReport {
  /** Number of entries that are right, from the first on. */
  readonly sound: number;
  /** The hash of the last of them. */
  readonly hash: string;
  /** The first wrong entry, or null. */
  readonly fault: Fault | null;
}

/**
 * Checks the chain from its first entry: numbers without gap, the SHA-256 of each stored text, each naming the one before, the text
 * canonical, the columns saying what the text says, and the head row naming the last. Stops at the first wrong entry.
 * Reads page by page, so other work gets its turn.
 *
 * @param known a head or a checkpoint of earlier, which this ledger must continue
 * @see docs/rules/ledger.md L-1 to L-5, docs/decisions/0007-verify-rebuilds-beside-the-live-tables.md
 */
export async function verifyChain(
  tx: EntityManager,
  known?: KnownHead | KnownTree,
  onSound?: (entries: number) => void,
): Promise<ChainReport> {
  const head = await ledgerHead(tx);
  let sound = 0;
  let hash = GENESIS;
  const tree = known && 'root' in known ? new MerkleTree() : null;
  const found = (what: string, detail: string, seq = sound + 1): ChainReport => ({
    sound,
    hash,
    fault: { what, where: `entry ${seq}`, detail },
  });
  for await (const page of entryPages(tx, 0, true)) {
    for (const entry of page) {
      const fault = entryFault(entry, sound + 1, hash);
      if (fault) return { sound, hash, fault };
      sound = entry.seq;
      hash = entry.hash;
      tree?.append(hash);
    }
    onSound?.(sound);
  }
  if (head.seq > sound) return found('missing-entry', `the head row says the ledger has ${head.seq} entries, it has ${sound}`);
  if (head.seq < sound)
    return found('head-moved', `the head row says the ledger ends at ${head.seq}, but it has ${sound} entries`, head.seq);
  if (head.hash !== hash) return found('head-moved', `the head row names another hash than entry ${sound} has`, sound);
  if (!known) return { sound, hash, fault: null };
  return { sound, hash, fault: 'root' in known ? continuesTree(tree!, known) : await continues(tx, known) };
}

/** What is wrong with one entry, given the number it should have and the hash of the one before; null when it is right. */
export function entryFault(entry: StoredEntry, seq: number, prev: string): Fault | null {
  const fault = (what: string, detail: string): Fault => ({ what, where: `entry ${seq}`, detail });
  if (entry.seq !== seq) {
    return entry.seq < seq
      ? fault('doubled-entry', `number ${entry.seq} comes again after ${seq - 1}`)
      : fault('missing-entry', `after entry ${seq - 1} comes entry ${entry.seq}`);
  }
  if (sha256(entry.body) !== entry.hash) return fault('changed-body', 'its text does not have the hash that is stored with it');
  const body = parsed(entry.body);
  if (body === null) return fault('not-canonical', 'its text is not a JSON object');
  if (!isCanonical(entry.body, body)) return fault('not-canonical', 'its text is JSON, but not the canonical text of what it says');
  if (body['prev'] !== prev) {
    return fault('broken-chain', seq === 1 ? 'it does not start the chain with 64 zeros' : `it does not name the hash of entry ${seq - 1}`);
  }
  for (const column of ['seq', 'at', 'actor', 'kind', 'v'] as const) {
    if (body[column] === entry[column]) continue;
    return fault(
      'column-differs',
      `its column "${column}" says ${JSON.stringify(entry[column])}, its text ${JSON.stringify(body[column])}`,
    );
  }
  return null;
}

function parsed(text: string): Readonly<Record<string, unknown>> | null {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as Record<string, unknown>) : null;
  } catch {
    return null;
  }
}

/**
 * Whether `text` is the canonical text of `value`, which was parsed from it. JSON.stringify writes numbers and strings as RFC 8785
 * asks and keeps the order of members, so when it gives the same text only that order is left to check. It does not keep the order
 * of members that look like list indexes, nor mind half a surrogate pair: those few texts go the long way.
 */
function isCanonical(text: string, value: unknown): boolean {
  if (JSON.stringify(value) === text && membersInOrder(value) && !text.includes('\\ud')) return true;
  try {
    return canonicalJson(value) === text;
  } catch {
    return false;
  }
}

function membersInOrder(value: unknown): boolean {
  if (typeof value !== 'object' || value === null) return true;
  if (Array.isArray(value)) return value.every(membersInOrder);
  const members = value as Readonly<Record<string, unknown>>;
  let before: string | null = null;
  for (const name in members) {
    if (before !== null && name <= before) return false;
    const member = members[name];
    if (typeof member === 'object' && !membersInOrder(member)) return false;
    before = name;
  }
  return true;
}

const historyCut = (size: number): Fault => ({
  what: 'history-cut',
  where: `entry ${size}`,
  detail: `a ledger of ${size} entries was known before; this one is shorter`,
});

/**
 * Why the ledger of this tree is no continuation of the one a checkpoint was made of; null when it is.
 * @see docs/rules/ledger.md L-15
 */
export function continuesTree(tree: MerkleTree, { size, root }: KnownTree): Fault | null {
  if (size > tree.size) return historyCut(size);
  if (tree.root(size).equals(root)) return null;
  const detail = `the first ${size} entries have another tree than was known before: at least one of them is another one now`;
  return { what: 'history-rewritten', where: `entry ${size}`, detail };
}

async function continues(tx: EntityManager, known: KnownHead): Promise<Fault | null> {
  const where = `entry ${known.seq}`;
  const stands = known.seq === 0 ? GENESIS : (await entryAt(tx, known.seq))?.hash;
  if (stands === undefined) return historyCut(known.seq);
  if (stands === known.hash) return null;
  return { what: 'history-rewritten', where, detail: 'it has another hash than was known before: this is another history' };
}
