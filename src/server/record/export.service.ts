import { Inject, Injectable } from '@nestjs/common';
import { rawPublicKey, verifierKey } from '../ledger/checkpoint-note.js';
import { Checkpoints, type Signed } from '../ledger/checkpoints.js';
import type { MerkleTree } from '../ledger/merkle.js';
import { entriesAfter, entryAt, type StoredEntry } from '../ledger/read.js';
import { oneSubject, subjectsAsked } from '../plant/telling/subject-asked.js';
import type { Subject } from '../plant/telling/subjects.js';
import { entriesNaming } from '../plant/telling/telling.query.js';
import { Reader } from '../platform/database/reader.js';
import type { ExportQueryDto } from './export.dto.js';

/** First line of an export. */
interface ExportHead {
  readonly format: 'kinledger-entries';
  readonly v: 1;
  /** The record whose entries these are, by its kind; null: all entries up to the checkpoint. */
  readonly selected: Readonly<Record<string, string>> | null;
  /** Signed note of the checkpoint that proves them. */
  readonly checkpoint: string;
  /** The key it is signed with, as verifiers of signed notes take it. */
  readonly verifierKey: string;
}

/** A line an entry: its text exactly as it was hashed. `proof`, in a selection: hashes in base64 that lead from it to the root. */
interface ExportedEntry {
  readonly seq: number;
  readonly hash: string;
  readonly proof?: readonly string[];
  readonly body: string;
}

/** Last line: without it the file was cut. */
interface ExportEnd {
  readonly end: { readonly entries: number };
}

const PAGE = 500;

const line = (value: ExportHead | ExportedEntry | ExportEnd): string => `${JSON.stringify(value)}\n`;

/**
 * Gives entries out, so that somebody without this program can tell that they are the plant's, unchanged and, of the whole ledger,
 * without one left out. Entries up to a checkpoint never change, so nothing need be held while a slow reader takes them.
 * @see docs/rules/ledger.md L-17
 */
@Injectable()
export class ExportService {
  constructor(
    private readonly checkpoints: Checkpoints,
    @Inject(Reader) private readonly reader: Reader,
  ) {}

  /** The lines, made as they are read. Refusals come before the first one. */
  async lines(query: ExportQueryDto): Promise<AsyncGenerator<string>> {
    const asked = subjectsAsked(query);
    const subject = asked.length === 0 ? null : oneSubject(asked);
    const signed = (await this.checkpoints.signed())!;
    return this.#lines(signed, await this.checkpoints.tree(), subject);
  }

  async *#lines({ checkpoint: { origin, size }, note, key }: Signed, tree: MerkleTree, subject: Subject | null): AsyncGenerator<string> {
    yield line({
      format: 'kinledger-entries',
      v: 1,
      selected: subject && { [subject.kind]: subject.code },
      checkpoint: note,
      verifierKey: verifierKey(origin, rawPublicKey(key)),
    });
    let entries = 0;
    for await (const page of subject ? this.#naming(subject, size) : this.#all(size)) {
      entries += page.length;
      yield page.map((entry) => line(exported(entry, subject ? tree.inclusion(entry.seq, size) : null))).join('');
    }
    yield line({ end: { entries } });
  }

  async *#all(size: number): AsyncGenerator<StoredEntry[]> {
    for (let last = 0; last < size;) {
      const page = (await entriesAfter(this.reader.manager, last)).filter(({ seq }) => seq <= size);
      if (page.length === 0) return;
      last = page.at(-1)!.seq;
      yield page;
    }
  }

  async *#naming({ kind, code }: Subject, size: number): AsyncGenerator<StoredEntry[]> {
    for (let from = 1; ;) {
      const named = await entriesNaming(this.reader.manager, kind, code, from, PAGE);
      for (const seq of named) if (seq <= size) yield [(await entryAt(this.reader.manager, seq))!];
      if (named.length < PAGE) return;
      from = named.at(-1)! + 1;
    }
  }
}

const exported = ({ seq, hash, body }: StoredEntry, proof: readonly Buffer[] | null): ExportedEntry => ({
  seq,
  hash,
  ...(proof ? { proof: proof.map((one) => one.toString('base64')) } : {}),
  body,
});
