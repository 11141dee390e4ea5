import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { Refusal } from '../../../../shared/refusal.js';
import { entryAt, ledgerHead } from '../../ledger/read.js';
import { Reader } from '../../platform/database/reader.js';
import type { Affected } from './affected.js';
import { consigneeAccounts, recordShares } from './consignee-accounts.js';
import type { ConsigneeAccount } from './consignee-accounts.facts.js';
import { type Figures, figuresAt } from './figures.query.js';
import { outChangedAt, recallEntries } from './progress.query.js';
import { type Progress, type RecallEntry, recallProgress } from './progress-state.facts.js';
import { frozenParts, recallRecord, type RecallRecord } from './recall.query.js';
import { type StatusGround, statusOf } from './status.js';
import type { RecallProgressView } from './status.dto.js';

/** How a recall stood as known at one entry. */
interface Known {
  readonly progress: Progress;
  readonly figures: Figures;
  readonly accounts: readonly ConsigneeAccount[];
}

/** Tells how a recall stands, as known at any ledger entry. Reads only. */
@Injectable()
export class RecallStatuses {
  constructor(private readonly reader: Reader) {}

  /**
   * The status as known at an entry: the same whenever it is asked for.
   * @param asKnownAt left out: everything recorded
   * @throws Refusal if there is no such recall or entry, or the recall was not open yet
   */
  async status(recall: string, asKnownAt?: number): Promise<RecallProgressView> {
    return statusOf(await this.ground(this.reader.manager, recall, asKnownAt));
  }

  /** What the status is told from; in a command, read by its transaction. */
  async ground(from: EntityManager, recall: string, asKnownAt?: number): Promise<StatusGround> {
    const record = await recallRecord(from, recall);
    if (!record) throw new Refusal('unknown', [{ code: 'recall-unknown', detail: `no recall ${recall}`, recall }]);
    const head = await ledgerHead(from);
    const seq = asKnownAt ?? head.seq;
    const entry = await entryAt(from, seq);
    if (!entry) {
      const detail = `the ledger ends at entry ${head.seq}; there is no entry ${seq} yet`;
      throw new Refusal('unknown', [{ code: 'entry-unknown', detail, pointer: '/asKnownAt', last: head.seq }]);
    }
    const entries = await recallEntries(from, recall, seq);
    const known = await knownAt(from, record, entries, seq);
    if (!known) {
      const detail = `${recall} was opened by entry ${record.openedSeq}, after entry ${seq}`;
      throw new Refusal('conflict', [{ code: 'not-open-yet', detail, pointer: '/asKnownAt', opened: record.openedSeq }]);
    }
    const { progress, figures, accounts } = known;
    return {
      progress,
      asKnownAt: { seq: entry.seq, at: entry.at, hash: entry.hash },
      consignees: figures.consignees,
      accounts,
      record: recordShares(figures),
      reconciledAt: await reconciledAt(from, record, entries, known),
    };
  }
}

async function knownAt(
  from: EntityManager,
  record: RecallRecord,
  entries: readonly RecallEntry[],
  seq: number,
): Promise<Known | undefined> {
  const progress = recallProgress(entries.filter((entry) => entry.seq <= seq));
  if (!progress) return undefined;
  const figures = await figuresAt(from, await scopeOf(from, record, progress.version), seq);
  return { progress, figures, accounts: consigneeAccounts(figures.consignees, progress) };
}

function scopeOf(from: EntityManager, { recall, versions }: RecallRecord, version: number): Promise<Affected> {
  const { chosen } = versions.find((each) => each.version === version)!;
  return frozenParts(from, recall, version, chosen);
}

const isComplete = ({ accounts }: Known): boolean =>
  accounts.every(({ lots }) => lots.every((lot) => lot.outstanding.quantityMicro === 0 && lot.contradicted.quantityMicro === 0));

/**
 * When everything sent was accounted for, and has been since: the earliest of the entries that changed the accounts from which on
 * nothing is outstanding. Walked back from now, so as far as needed and no further.
 */
async function reconciledAt(
  from: EntityManager,
  record: RecallRecord,
  entries: readonly RecallEntry[],
  known: Known,
): Promise<string | null> {
  if (!isComplete(known)) return null;
  const stated = entries.filter(({ fact }) => fact.kind === 'RecallAccounted' || fact.kind === 'RecallRescoped').map(({ seq }) => seq);
  const moved = await outChangedAt(from, [...known.figures.affected.keys()], record.openedSeq, known.figures.seq);
  let since = record.openedSeq;
  for (const seq of [...new Set([...stated, ...moved])].toSorted((a, b) => b - a)) {
    since = seq;
    const before = await knownAt(from, record, entries, seq - 1);
    if (before === undefined || !isComplete(before)) break;
    since = record.openedSeq;
  }
  return (await entryAt(from, since))!.at;
}
