import type { Reasons } from '../../../../shared/refusal.js';

/**
 * Every file that is named must be stored already: a record never points at nothing.
 * @param hashes SHA-256 of each file, in hexadecimal
 * @param known those of them that are stored
 * @param pointer JSON pointer to the list of them
 * @see docs/rules/files.md FI-2
 */
export function checkFiles(no: Reasons, hashes: readonly string[], known: ReadonlySet<string>, pointer: string): void {
  hashes.forEach((sha256, i) => {
    if (!known.has(sha256)) no.unknown('file-unknown', `no stored file ${sha256}: send it first`, { pointer: `${pointer}/${i}`, sha256 });
  });
}
