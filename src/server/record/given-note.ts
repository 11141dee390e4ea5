import { Refusal } from '../../../shared/refusal.js';
import { NoteFault, readNote, type ReadNote } from '../ledger/checkpoint-note.js';

/**
 * Reads a checkpoint that somebody gives.
 * @param pointer the field it was given in
 * @throws Refusal `checkpoint-unreadable`
 */
export function givenNote(text: string, pointer: string): ReadNote {
  try {
    return readNote(text);
  } catch (error) {
    if (!(error instanceof NoteFault)) throw error;
    throw new Refusal('malformed', [{ code: 'checkpoint-unreadable', detail: `this is not a checkpoint: ${error.message}`, pointer }]);
  }
}
