import type { KeyObject } from 'node:crypto';
import { Inject, Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { CONFIG, type Config } from '../platform/config.js';
import { Reader } from '../platform/database/reader.js';
import { queryRows } from '../platform/database/rows.js';
import { type Checkpoint, originOf, signedNote } from './checkpoint-note.js';
import { MerkleTree } from './merkle.js';
import { plantKey } from './plant-key.js';
import { entryAt } from './read.js';

/** Some 10 ms of hashing, then other work gets its turn. */
const PAGE = 2000;

/** Adds the entries to a tree that it does not hold yet, up to `size` or the end. Reads hashes only, page by page. */
export async function growTree(tx: EntityManager, tree: MerkleTree, size = Number.MAX_SAFE_INTEGER): Promise<void> {
  while (tree.size < size) {
    const rows = await queryRows<{ hash: string }>(tx, 'SELECT "hash" FROM "ledger_entry" WHERE "seq" > ? ORDER BY "seq" LIMIT ?', [
      tree.size,
      Math.min(PAGE, size - tree.size),
    ]);
    if (rows.length === 0) return;
    for (const { hash } of rows) tree.append(hash);
  }
}

/** A checkpoint, its signed note, and the key it is signed with. */
export interface Signed {
  readonly checkpoint: Checkpoint;
  readonly note: string;
  readonly key: KeyObject;
}

/**
 * Signs how far the ledger goes. The tree is kept and grows with the ledger; its root at any older size is at hand. The time of a
 * checkpoint is that of its last entry, so the checkpoint of a size is the same whenever it is asked for.
 * @see docs/rules/ledger.md L-15, L-16
 */
@Injectable()
export class Checkpoints {
  readonly #tree = new MerkleTree();
  #growing: Promise<void> = Promise.resolve();

  constructor(
    private readonly reader: Reader,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  /** Of the ledger as it is, or of its first `size` entries; null if it has not so many. */
  async signed(size?: number): Promise<Signed | null> {
    const tree = await this.tree();
    const of = size ?? tree.size;
    if (of > tree.size) return null;
    const at = of === 0 ? null : (await entryAt(this.reader.manager, of))!.at;
    const checkpoint = { origin: originOf(this.config.plantName), size: of, root: tree.root(of), at };
    const key = await plantKey(this.config);
    return { checkpoint, note: signedNote(checkpoint, key), key };
  }

  /** The tree of all entries that there are now. It goes on growing: ask it of a size. */
  async tree(): Promise<MerkleTree> {
    const grown = this.#growing.then(() => growTree(this.reader.manager, this.#tree));
    this.#growing = grown.catch(() => undefined);
    await grown;
    return this.#tree;
  }
}
