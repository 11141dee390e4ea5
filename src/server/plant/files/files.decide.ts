import { Reasons } from '../../../../shared/refusal.js';
import type { AttachedAs, FileAttached, FileDetached, StoredFile } from './files.facts.js';

/**
 * Every file that is named must be stored already: a record never points at nothing.
 * @param hashes SHA-256 of each file, in hexadecimal
 * @param known those of them that are stored
 * @param pointer JSON pointer to the list of them
 * @see docs/rules/files.md FI-3
 */
export function checkFiles(no: Reasons, hashes: readonly string[], known: ReadonlySet<string>, pointer: string): void {
  hashes.forEach((sha256, i) => {
    if (!known.has(sha256)) fileUnknown(no, sha256, `${pointer}/${i}`);
  });
}

function fileUnknown(no: Reasons, sha256: string, pointer: string): void {
  no.unknown('file-unknown', `no stored file ${sha256}: send it first`, { pointer, sha256 });
}

export interface AttachFile {
  readonly lot: string;
  readonly file: string;
  readonly what: AttachedAs;
  readonly note?: string | undefined;
}

export interface AttachState {
  readonly lotExists: boolean;
  readonly file: StoredFile | undefined;
  /** Standing attachments of this file to this lot. */
  readonly standing: readonly { readonly attachment: number; readonly what: AttachedAs }[];
}

/** A stored file belongs to a lot. @see docs/rules/files.md FI-5 */
export function decideAttach(command: AttachFile, state: AttachState): FileAttached {
  const no = new Reasons();
  const { lot, file: sha256, what, note } = command;
  if (!state.lotExists) no.unknown('lot-unknown', `no lot ${lot}`, { lot });
  if (!state.file) fileUnknown(no, sha256, '/file');
  const twice = state.standing.find((one) => one.what === what);
  if (twice) {
    no.conflict('attached-already', `it belongs to ${lot} as ${what} already, by entry ${twice.attachment}`, {
      pointer: '/file',
      attachment: twice.attachment,
    });
  }
  no.throwIfAny();
  return { kind: 'FileAttached', v: 1, lot, sha256, name: state.file!.name, what, ...(note === undefined ? {} : { note }) };
}

export interface Attachment {
  readonly attachment: number;
  readonly lot: string;
  readonly sha256: string;
  readonly name: string;
  readonly detachedSeq: number | null;
}

/** An attachment was wrong. @see docs/rules/files.md FI-6 */
export function decideDetach(reason: string, attachment: Attachment): FileDetached {
  const no = new Reasons();
  if (attachment.detachedSeq !== null) {
    no.conflict('detached-already', `attachment ${attachment.attachment} was taken back by entry ${attachment.detachedSeq}`, {
      attachment: attachment.attachment,
      seq: attachment.detachedSeq,
    });
  }
  no.throwIfAny();
  const { lot, sha256, name } = attachment;
  return { kind: 'FileDetached', v: 1, lot, sha256, name, corrects: attachment.attachment, reason };
}
