import { createPublicKey, hash as digest, type KeyObject, sign, verify } from 'node:crypto';

/**
 * How far a ledger goes, so that anybody who holds it can tell later whether the history is still the one it was: a checkpoint in the
 * open formats https://c2sp.org/tlog-checkpoint and https://c2sp.org/signed-note, read there on 2026-11-25.
 * @see docs/rules/ledger.md L-15, L-16
 */
export interface Checkpoint {
  /** Whose ledger. */
  readonly origin: string;
  /** Number of entries. */
  readonly size: number;
  /** Root of the Merkle tree over their hashes, 32 bytes. */
  readonly root: Buffer;
  /** When the last of them was recorded; null for none. An extension line of the note, `at` and the instant. */
  readonly at: string | null;
}

/** What is wrong with a text that should be a checkpoint. */
export class NoteFault extends Error {}

interface NoteSignature {
  readonly name: string;
  /** First four bytes: which key it claims to be of. */
  readonly id: Buffer;
  readonly signature: Buffer;
}

/** A note that was read: the text that was signed, what it says, its signatures. Nothing of it is believed yet. */
export interface ReadNote {
  readonly text: string;
  readonly checkpoint: Checkpoint;
  readonly signatures: readonly NoteSignature[];
}

/**
 * Whether the plant's key signed a note: `plant`; `wrong`, when a signature says it is of that key and is not; `other-key`; `none`.
 */
export type SignatureStanding = 'plant' | 'wrong' | 'other-key' | 'none';

const ED25519 = Buffer.of(0x01);
const EM_DASH = '\u2014';

/** Whose ledger a note is of, from the plant's name: key names hold no blanks and no plus. */
export const originOf = (plantName: string): string => `kinledger/${plantName.replaceAll(/[\s+\p{C}]+/gu, '-')}`;

/** The 32 bytes of an Ed25519 public key, RFC 8032: the last of its SubjectPublicKeyInfo (RFC 8410 section 4). */
export const rawPublicKey = (key: KeyObject): Buffer => publicOf(key).export({ type: 'spki', format: 'der' }).subarray(-32);

/** The public half of a key, whichever half is given. */
export const publicOf = (key: KeyObject): KeyObject => (key.type === 'public' ? key : createPublicKey(key));

/** Which key signed: SHA-256(name || newline || 0x01 || public key), its first four bytes. */
const keyId = (name: string, publicKey: Buffer): Buffer =>
  digest('sha256', Buffer.concat([Buffer.from(`${name}\n`), ED25519, publicKey]), 'buffer').subarray(0, 4);

/** The public key as verifiers of notes take it: `name+id+key`. */
export const verifierKey = (name: string, publicKey: Buffer): string =>
  `${name}+${keyId(name, publicKey).toString('hex')}+${Buffer.concat([ED25519, publicKey]).toString('base64')}`;

/** The text that is signed, with its last newline. */
export function checkpointText({ origin, size, root, at }: Checkpoint): string {
  return `${origin}\n${size}\n${root.toString('base64')}\n${at === null ? '' : `at ${at}\n`}`;
}

/** The signed note of a checkpoint. The same checkpoint and key give the same note: Ed25519 draws no random number. */
export function signedNote(checkpoint: Checkpoint, privateKey: KeyObject): string {
  const text = checkpointText(checkpoint);
  const id = keyId(checkpoint.origin, rawPublicKey(privateKey));
  const signature = Buffer.concat([id, sign(null, Buffer.from(text), privateKey)]).toString('base64');
  return `${text}\n${EM_DASH} ${checkpoint.origin} ${signature}\n`;
}

/**
 * Reads a note from a file, or as it was copied from a page or a PDF: blanks at the ends of lines, empty lines and a signature broken
 * into two lines are forgiven, since the signature is checked over the text as it is read.
 * @throws NoteFault in a sentence that says what is missing
 */
export function readNote(given: string): ReadNote {
  const lines = given
    .split(/\r\n?|\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '');
  const firstSigned = lines.findIndex((line) => line.startsWith(EM_DASH));
  const said = firstSigned < 0 ? lines : lines.slice(0, firstSigned);
  const signed = firstSigned < 0 ? [] : lines.slice(firstSigned);
  const checkpoint = checkpointOf(said);
  return { text: `${said.join('\n')}\n`, checkpoint, signatures: signaturesOf(signed) };
}

function checkpointOf([origin, size, root, ...more]: readonly string[]): Checkpoint {
  if (origin === undefined || size === undefined || root === undefined) {
    throw new NoteFault('a checkpoint has at least three lines: whose ledger, how many entries, the root of their tree');
  }
  if (!/^(0|[1-9]\d{0,14})$/.test(size))
    throw new NoteFault(`its second line is the number of entries, not ${JSON.stringify(size.slice(0, 40))}`);
  if (!/^[A-Za-z0-9+/]{43}=$/.test(root)) throw new NoteFault('its third line is the root of the tree, 32 bytes in base64');
  const at = more.find((line) => line.startsWith('at '))?.slice('at '.length) ?? null;
  return { origin, size: Number(size), root: Buffer.from(root, 'base64'), at };
}

function signaturesOf(lines: readonly string[]): NoteSignature[] {
  const whole: string[] = [];
  for (const line of lines) {
    if (line.startsWith(EM_DASH)) whole.push(line);
    else whole.push(`${whole.pop()!}${/^\S+ \S+ \S/.test(whole.at(-1) ?? '') ? '' : ' '}${line}`);
  }
  return whole.map((line) => {
    const [, name, base64] = /^\u2014 *(\S+) +([A-Za-z0-9+/ ]+={0,2})$/u.exec(line) ?? [];
    const bytes = Buffer.from(base64?.replaceAll(' ', '') ?? '', 'base64');
    if (name === undefined || bytes.length < 5) throw new NoteFault('a signature line is a long dash, a name and the signature in base64');
    return { name, id: bytes.subarray(0, 4), signature: bytes.subarray(4) };
  });
}

/**
 * Whether this key signed the note. Its name is not asked for: a plant that was renamed still knows its older notes.
 */
export function signatureStanding(note: ReadNote, key: KeyObject): SignatureStanding {
  if (note.signatures.length === 0) return 'none';
  const raw = rawPublicKey(key);
  const own = note.signatures.filter(({ name, id }) => keyId(name, raw).equals(id));
  if (own.length === 0) return 'other-key';
  return own.every(({ signature }) => verify(null, Buffer.from(note.text), publicOf(key), signature)) ? 'plant' : 'wrong';
}
