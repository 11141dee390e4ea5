import { readFileSync } from 'node:fs';
import { Refusal } from '../../../shared/refusal.js';
import { signatureStanding } from '../ledger/checkpoint-note.js';
import { knownPlantKey, plantKeyFile } from '../ledger/plant-key.js';
import type { KnownTree } from '../ledger/chain.js';
import type { Config } from '../platform/config.js';
import { givenNote } from '../record/given-note.js';
import { tell } from './say.js';

/**
 * What a checkpoint that somebody kept says, from its file. Whose it is, is said on stderr: one of another key still shows whether the
 * history was continued.
 * @throws Refusal `file-unreadable`, `checkpoint-unreadable`, `checkpoint-changed`
 */
export async function keptCheckpoint(config: Config, file: string): Promise<KnownTree> {
  const note = givenNote(textOf(file), '/checkpoint');
  const key = await knownPlantKey(config);
  const signature = key === null ? 'other-key' : signatureStanding(note, key);
  if (signature === 'wrong') {
    const detail = `${file} says that the key of this plant signed it, but it did not sign this text: it was changed`;
    throw new Refusal('conflict', [{ code: 'checkpoint-changed', detail }]);
  }
  if (signature === 'other-key') tell(`the checkpoint is not signed with the key in ${plantKeyFile(config)}`);
  if (signature === 'none') tell('the checkpoint bears no signature');
  return note.checkpoint;
}

function textOf(file: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch (error) {
    throw new Refusal('unknown', [{ code: 'file-unreadable', detail: `${file} cannot be read: ${(error as Error).message}` }]);
  }
}
