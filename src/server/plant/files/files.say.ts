import { because } from '../telling/words.facts.js';
import type { AttachedAs, FileAttached, FileDetached, FileStored } from './files.facts.js';

const AS: Readonly<Record<AttachedAs, string>> = {
  certificate: 'a certificate',
  'test-report': 'a test report',
  photograph: 'a photograph',
  other: 'another document',
};

const short = (sha256: string): string => sha256.slice(0, 12);

export const sayFiles = {
  FileStored: (fact: FileStored): string =>
    `File ${fact.name} stored: ${fact.mediaType}, ${fact.bytes} bytes, SHA-256 ${short(fact.sha256)}…`,
  FileAttached: (fact: FileAttached): string =>
    `File ${fact.name} (${short(fact.sha256)}…) belongs to lot ${fact.lot} as ${AS[fact.what]}${because(fact.note)}`,
  FileDetached: (fact: FileDetached): string =>
    `File ${fact.name} (${short(fact.sha256)}…) does not belong to lot ${fact.lot}; entry ${fact.corrects} was wrong: ${fact.reason}`,
};
