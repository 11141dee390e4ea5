import { createPrivateKey, createPublicKey } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import {
  checkpointText,
  NoteFault,
  originOf,
  rawPublicKey,
  readNote,
  signatureStanding,
  signedNote,
  verifierKey,
} from './checkpoint-note.js';

/** An Ed25519 key from its 32 bytes: PKCS #8 of RFC 8410 section 7. */
const keyOf = (seed: string) =>
  createPrivateKey({ key: Buffer.from(`302e020100300506032b657004220420${seed}`, 'hex'), format: 'der', type: 'pkcs8' });

// Key and public key of RFC 8032 section 7.1, test 1.
const privateKey = keyOf('9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60');
const publicKey = createPublicKey(privateKey);
const other = keyOf('4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb');

const checkpoint = {
  origin: originOf('Fernhollow Works'),
  size: 745,
  root: Buffer.alloc(32, 7),
  at: '2026-03-02T08:00:00.000Z',
};
const note = signedNote(checkpoint, privateKey);

describe('the note of a checkpoint (L-16)', () => {
  it('is text, a blank line and a signature', () => {
    expect(originOf('Fernhollow Works')).toBe('kinledger/Fernhollow-Works');
    expect(rawPublicKey(publicKey).toString('hex')).toBe('d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a');
    expect(note).toMatch(
      /^kinledger\/Fernhollow-Works\n745\nBwcHB[A-Za-z0-9+/]{38}=\nat 2026-03-02T08:00:00\.000Z\n\n\u2014 kinledger\/Fernhollow-Works [A-Za-z0-9+/]{91}=\n$/u,
    );
    expect(signedNote(checkpoint, privateKey)).toBe(note);
  });

  it('writes names of keys as the format of notes does', () => {
    // The example key of https://pkg.go.dev/golang.org/x/mod/sumdb/note, whose format the notes keep: name, id, and 0x01 with the key.
    const [name, id, base64] = ['PeterNeumann', 'c74f20a3', 'ARpc2QcUPDhMQegwxbzhKqiBfsVkmqq/LDE4izWy10TW'];
    expect(verifierKey(name, Buffer.from(base64, 'base64').subarray(1))).toBe(`${name}+${id}+${base64}`);
  });

  it('is read back as it was written', () => {
    const read = readNote(note);
    expect(read.checkpoint).toEqual(checkpoint);
    expect(read.text).toBe(checkpointText(checkpoint));
    expect(signatureStanding(read, publicKey)).toBe('plant');
  });

  it.each<[string, (text: string) => string]>([
    ['lines ended as on Windows', (text) => text.replaceAll('\n', '\r\n')],
    ['blanks around lines', (text) => text.replaceAll('\n', '  \n  ')],
    ['no blank line', (text) => text.replace('\n\n', '\n')],
    ['the signature broken after its name', (text) => text.replace(/(\u2014 \S+) /u, '$1\n')],
    ['the signature broken in two', (text) => text.replace(/(\u2014 \S+ \S{40})/u, '$1\n')],
  ])('is understood with %s', (_what, change) => {
    expect(change(note)).not.toBe(note);
    expect(signatureStanding(readNote(change(note)), publicKey)).toBe('plant');
  });

  it.each<[string, (text: string) => string]>([
    ['another number of entries', (text) => text.replace('745', '746')],
    ['another time', (text) => text.replace('08:00', '09:00')],
    ['another root', (text) => text.replace('BwcHB', 'BwcHC')],
  ])('is not believed with %s', (_what, change) => {
    expect(change(note)).not.toBe(note);
    expect(signatureStanding(readNote(change(note)), publicKey)).toBe('wrong');
  });

  it('tells another key, and no signature', () => {
    expect(signatureStanding(readNote(signedNote(checkpoint, other)), publicKey)).toBe('other-key');
    expect(signatureStanding(readNote(checkpointText(checkpoint)), publicKey)).toBe('none');
    const renamed = signedNote({ ...checkpoint, origin: originOf('Old Name') }, privateKey);
    expect(signatureStanding(readNote(renamed), publicKey)).toBe('plant');
  });

  it.each([
    ['nothing', ''],
    ['some words', 'a page of\na report'],
    ['a number with zeros before it', note.replace('745', '0745')],
    ['a root of another length', note.replace('BwcHB', 'Bwc')],
    ['a signature that is none', `${checkpointText(checkpoint)}\n\u2014 somebody\n`],
  ])('is refused for %s', (_what, text) => expect(() => readNote(text)).toThrow(NoteFault));
});
