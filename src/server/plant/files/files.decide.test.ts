import { describe, expect, it } from 'vitest';
import { Reasons } from '../../../../shared/refusal.js';
import { checkFiles, decideAttach } from './files.decide.js';

const A = 'a'.repeat(64);
const B = 'b'.repeat(64);
const C = 'c'.repeat(64);

describe('what names files names stored ones (FI-3)', () => {
  it.each<[string, readonly string[], readonly string[]]>([
    ['none', [], []],
    ['known ones', [A, B], []],
    ['each that is unknown, with its place', [A, C, 'x'], ['/photographs/1', '/photographs/2']],
  ])('%s', (_name, hashes, pointers) => {
    const no = new Reasons();
    checkFiles(no, hashes, new Set([A, B]), '/photographs');
    expect(no.list.map((reason) => [reason.code, reason['pointer']])).toEqual(pointers.map((pointer) => ['file-unknown', pointer]));
  });
});

describe('attaching (FI-5)', () => {
  const file = { sha256: A, name: 'certificate.pdf', mediaType: 'application/pdf', bytes: 9 } as const;
  const standing = [{ attachment: 7, what: 'certificate' }] as const;

  it('is once for each thing a file is to a lot', () => {
    const as = (what: 'certificate' | 'other') => () => decideAttach({ lot: 'R26-1', file: A, what }, { lotExists: true, file, standing });
    expect(as('certificate')).toThrow(/by entry 7/);
    expect(as('other')()).toEqual({ kind: 'FileAttached', v: 1, lot: 'R26-1', sha256: A, name: 'certificate.pdf', what: 'other' });
  });
});
