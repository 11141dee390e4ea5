import { Inject, Injectable } from '@nestjs/common';
import { Refusal } from '../../../shared/refusal.js';
import { continuesTree } from '../ledger/chain.js';
import { publicOf, rawPublicKey, signatureStanding, verifierKey } from '../ledger/checkpoint-note.js';
import { Checkpoints, growTree, type Signed } from '../ledger/checkpoints.js';
import { MerkleTree } from '../ledger/merkle.js';
import { Reader } from '../platform/database/reader.js';
import type { CheckpointCheckView, CheckpointView } from './checkpoint.dto.js';
import { givenNote } from './given-note.js';

/** Shows how far the ledger goes, signed, and checks what was shown earlier. */
@Injectable()
export class CheckpointService {
  constructor(
    private readonly checkpoints: Checkpoints,
    @Inject(Reader) private readonly reader: Reader,
  ) {}

  /** @throws Refusal `entry-unknown` when the ledger has not so many entries */
  async checkpoint(size?: number): Promise<CheckpointView> {
    const signed = await this.checkpoints.signed(size);
    if (!signed) throw new Refusal('unknown', [{ code: 'entry-unknown', detail: `the ledger has no entry ${size}`, pointer: '/size' }]);
    return viewOf(signed);
  }

  /**
   * Checks a note that somebody kept: is it the plant's, and is the ledger of now its continuation? The tree is built anew from the
   * hashes as they stand in the database, not taken from memory, so that what was changed beneath a running server is found.
   */
  async check(text: string): Promise<CheckpointCheckView> {
    const note = givenNote(text, '/note');
    const now = (await this.checkpoints.signed())!;
    const tree = new MerkleTree();
    await growTree(this.reader.manager, tree, now.checkpoint.size);
    const { origin, size, root, at } = note.checkpoint;
    const fault = continuesTree(tree, note.checkpoint);
    return {
      origin,
      size,
      root: root.toString('base64'),
      at,
      signature: signatureStanding(note, now.key),
      continues: fault === null,
      fault,
      now: viewOf(now),
      proof: fault === null && size > 0 ? tree.consistency(size).map((hash) => hash.toString('base64')) : [],
    };
  }
}

const viewOf = ({ checkpoint: { origin, size, root, at }, note, key }: Signed): CheckpointView => ({
  origin,
  size,
  root: root.toString('base64'),
  at,
  note,
  verifierKey: verifierKey(origin, rawPublicKey(key)),
  publicKey: publicOf(key).export({ type: 'spki', format: 'pem' }).toString(),
});
