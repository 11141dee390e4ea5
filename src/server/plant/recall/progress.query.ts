import type { EntityManager } from 'typeorm';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { ProgressFact } from './progress.facts.js';
import { type Progress, type RecallEntry, recallProgress } from './progress-state.facts.js';

const KINDS: Readonly<Record<ProgressFact['kind'], true>> = {
  RecallOpened: true,
  RecallRescoped: true,
  RecallStrategySet: true,
  RecallReportsLinked: true,
  RecallNoticeWritten: true,
  RecallNoticeSent: true,
  RecallAnswered: true,
  RecallAccounted: true,
  RecallEffectivenessChecked: true,
  RecallGapFound: true,
  RecallGapClosed: true,
  RecallClosingSigned: true,
};

interface Row {
  readonly seq: number;
  readonly at: string;
  readonly actor: string;
  readonly kind: string;
  readonly body: string;
}

const ENTRIES = `SELECT s."code", e."seq", e."at", e."actor", e."kind", e."body" FROM "entry_subject" s
  JOIN "ledger_entry" e ON e."seq" = s."seq" WHERE s."kind" = 'recall'`;

/** The entries about a recall up to and with entry `seq`, first to last. */
export async function recallEntries(from: EntityManager, recall: string, seq: number): Promise<RecallEntry[]> {
  const rows = await queryRows<Row>(from, `${ENTRIES} AND s."code" = ? AND e."seq" <= ? ORDER BY e."seq"`, [recall, seq]);
  return entriesOf(rows).filter(({ fact }) => fact.recall === recall);
}

const entriesOf = (rows: readonly Row[]): RecallEntry[] =>
  rows
    .filter((row) => row.kind in KINDS)
    .map((row) => ({ seq: row.seq, at: row.at, actor: row.actor, fact: JSON.parse(row.body) as ProgressFact }));

/** How far each of these recalls has come by now, by number. */
export async function progressOf(from: EntityManager, recalls: readonly string[]): Promise<Map<string, Progress>> {
  const rows = await selectIn<Row & { code: string }>(from, `${ENTRIES} AND s."code" IN (:list)`, recalls);
  const byRecall = new Map<string, RecallEntry[]>();
  for (const entry of entriesOf(rows.toSorted((a, b) => a.seq - b.seq))) {
    const list = byRecall.get(entry.fact.recall) ?? [];
    byRecall.set(entry.fact.recall, list);
    list.push(entry);
  }
  const found = new Map<string, Progress>();
  for (const [recall, entries] of byRecall) {
    const progress = recallProgress(entries);
    if (progress) found.set(recall, progress);
  }
  return found;
}

/** Entries after `after` and up to `until` at which what is out of these lots with customers changed, first to last. */
export async function outChangedAt(from: EntityManager, lots: readonly number[], after: number, until: number): Promise<number[]> {
  const rows = await selectIn<{ since_seq: number; until_seq: number | null }>(
    from,
    `SELECT DISTINCT "since_seq", "until_seq" FROM "whereabout" WHERE "fate" = 'dispatched' AND "lot_id" IN (:list)`,
    lots,
  );
  const seqs = new Set(rows.flatMap((row) => [row.since_seq, row.until_seq ?? 0]));
  return [...seqs].filter((seq) => seq > after && seq <= until).toSorted((a, b) => a - b);
}

/** Which of these nonconformance reports there are. */
export async function knownReports(from: EntityManager, reports: readonly string[]): Promise<Set<string>> {
  const rows = await selectIn<{ code: string }>(from, 'SELECT "code" FROM "report" WHERE "code" IN (:list)', reports);
  return new Set(rows.map((row) => row.code));
}

export async function ownerKnown(from: EntityManager, person: string): Promise<boolean> {
  return (await queryRows(from, 'SELECT 1 AS "one" FROM "person" WHERE "code" = ?', [person])).length > 0;
}
