import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { Refusal } from '../../../../shared/refusal.js';
import { entriesAfter, entryAt, ledgerHead, type StoredEntry } from '../../ledger/read.js';
import { Reader } from '../../platform/database/reader.js';
import { say } from '../say.js';
import { oneSubject, subjectsAsked } from './subject-asked.js';
import type { AboutQueryDto, EntriesQueryDto, EntriesView, EntryView, WholeEntryView } from './telling.dto.js';
import { entriesNaming, factOf, knownFor, lastNaming } from './telling.query.js';

const USUAL = 50;
/** Bodies read for one answer: a page of entries of an import is cut short, and `next` goes on from there. */
const MOST_BYTES = 8_000_000;

/** Shows the ledger in plain words. */
@Injectable()
export class TellingService {
  constructor(private readonly reader: Reader) {}

  async entries({ from, limit = USUAL }: EntriesQueryDto): Promise<EntriesView> {
    const tx = this.reader.manager;
    const head = await ledgerHead(tx);
    const first = from ?? Math.max(1, head.seq - limit + 1);
    const page = await entriesAfter(tx, first - 1, { entries: limit, bytes: MOST_BYTES });
    const last = page.at(-1)?.seq ?? head.seq;
    return { entries: head.seq, hash: head.hash, told: await tell(tx, page), next: last < head.seq ? last + 1 : null };
  }

  async entry(seq: number): Promise<WholeEntryView> {
    const tx = this.reader.manager;
    const entry = await entryAt(tx, seq);
    if (!entry) throw new Refusal('unknown', [{ code: 'entry-unknown', detail: `the ledger has no entry ${seq}` }]);
    const [told] = await tell(tx, [entry]);
    const { prev } = JSON.parse(entry.body) as { prev: string };
    return { ...told!, v: entry.v, prev, body: entry.body };
  }

  /** The entries that name a record; none for a code that no entry names. */
  async about(query: AboutQueryDto): Promise<EntriesView> {
    const tx = this.reader.manager;
    const { kind, code } = oneSubject(subjectsAsked(query));
    const limit = query.limit ?? USUAL;
    const head = await ledgerHead(tx);
    const first = query.from ?? (await lastNaming(tx, kind, code, limit));
    const named = await entriesNaming(tx, kind, code, first, limit + 1);
    const page: StoredEntry[] = [];
    let bytes = 0;
    for (const seq of named.slice(0, limit)) {
      const entry = (await entryAt(tx, seq))!;
      bytes += entry.body.length;
      if (bytes > MOST_BYTES && page.length > 0) break;
      page.push(entry);
    }
    return { entries: head.seq, hash: head.hash, told: await tell(tx, page), next: named[page.length] ?? null };
  }
}

async function tell(tx: EntityManager, entries: readonly StoredEntry[]): Promise<EntryView[]> {
  const known = await knownFor(tx, entries);
  return entries.map((entry): EntryView => {
    const { says, effects } = say(factOf(entry), known);
    return { seq: entry.seq, at: entry.at, actor: entry.actor, kind: entry.kind, says, effects: [...effects], hash: entry.hash };
  });
}
