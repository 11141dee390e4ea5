import type { EntityManager } from 'typeorm';
import { storedSpans } from '../../platform/database/columns.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { Affected } from './affected.js';
import type { Progress } from './progress-state.facts.js';
import type { RecallHeadView } from './recall.dto.js';
import type { FrozenScope, RecallType, ScopeName, ScopePart } from './recall.facts.js';

/** One version of a recall's scope as it stands in the record. */
export interface ScopeVersion {
  readonly version: number;
  readonly seq: number;
  readonly frozenAt: string;
  readonly frozenBy: string;
  readonly knownSeq: number;
  readonly knownAt: string;
  readonly knownHash: string;
  readonly chosen: ScopeName;
  readonly reason: string;
  readonly printed: FrozenScope['printed'];
  readonly origin: readonly ScopePart[];
}

/** A recall with every version of its scope. */
export interface RecallRecord {
  readonly recall: string;
  readonly title: string;
  readonly type: RecallType;
  readonly drill: boolean;
  readonly what: string;
  readonly reason: string;
  readonly hazard: string | null;
  readonly instruction: string | null;
  readonly contact: string | null;
  readonly openedSeq: number;
  readonly openedAt: string;
  readonly openedBy: string;
  readonly versions: readonly ScopeVersion[];
}

interface HeadRow {
  code: string;
  title: string;
  type: RecallType;
  drill: boolean | number;
  what: string;
  reason: string;
  hazard: string | null;
  instruction: string | null;
  contact: string | null;
  opened_seq: number;
  at: string;
  actor: string;
}

interface ScopeRow {
  recall: string;
  version: number;
  seq: number;
  known_seq: number;
  known_hash: string;
  chosen: ScopeName;
  reason: string;
  printed: string;
  origin: string;
  at: string;
  actor: string;
  known_at: string;
}

const HEADS = 'SELECT r.*, e."at", e."actor" FROM "recall" r JOIN "ledger_entry" e ON e."seq" = r."opened_seq"';

/** One recall, or undefined. */
export async function recallRecord(from: EntityManager, recall: string): Promise<RecallRecord | undefined> {
  const heads = await queryRows<HeadRow>(from, `${HEADS} WHERE r."code" = ?`, [recall]);
  return (await withVersions(from, heads))[0];
}

/** Every recall and drill, newest first. */
export async function recallRecords(from: EntityManager): Promise<RecallRecord[]> {
  return withVersions(from, await queryRows<HeadRow>(from, `${HEADS} ORDER BY r."opened_seq" DESC`));
}

async function withVersions(from: EntityManager, heads: readonly HeadRow[]): Promise<RecallRecord[]> {
  const rows = await selectIn<ScopeRow>(
    from,
    `SELECT s.*, e."at", e."actor", k."at" AS "known_at" FROM "recall_scope" s
     JOIN "ledger_entry" e ON e."seq" = s."seq" JOIN "ledger_entry" k ON k."seq" = s."known_seq"
     WHERE s."recall" IN (:list) ORDER BY s."recall", s."version"`,
    heads.map((head) => head.code),
  );
  return heads.map((head) => ({
    recall: head.code,
    title: head.title,
    type: head.type,
    drill: Boolean(head.drill),
    what: head.what,
    reason: head.reason,
    hazard: head.hazard,
    instruction: head.instruction,
    contact: head.contact,
    openedSeq: head.opened_seq,
    openedAt: head.at,
    openedBy: head.actor,
    versions: rows
      .filter((row) => row.recall === head.code)
      .map((row) => ({
        version: row.version,
        seq: row.seq,
        frozenAt: row.at,
        frozenBy: row.actor,
        knownSeq: row.known_seq,
        knownAt: row.known_at,
        knownHash: row.known_hash,
        chosen: row.chosen,
        reason: row.reason,
        printed: JSON.parse(row.printed) as FrozenScope['printed'],
        origin: JSON.parse(row.origin) as ScopePart[],
      }))
      .toSorted((a, b) => a.version - b.version),
  }));
}

/** The number of the latest version of a recall's scope. */
export async function latestVersion(from: EntityManager, recall: string): Promise<number> {
  const [row] = await queryRows<{ last: number }>(from, 'SELECT max("version") AS "last" FROM "recall_scope" WHERE "recall" = ?', [recall]);
  return row!.last;
}

/** What a frozen scope holds, by lot id. */
export async function frozenParts(from: EntityManager, recall: string, version: number, scope: ScopeName): Promise<Affected> {
  const rows = await queryRows<{ lot_id: number; spans: string | null }>(
    from,
    'SELECT "lot_id", "spans" FROM "recall_part" WHERE "recall" = ? AND "version" = ? AND "scope" = ? ORDER BY "lot_id"',
    [recall, version, scope],
  );
  return new Map(rows.map((row) => [row.lot_id, storedSpans(row.spans)]));
}

export const headView = (record: RecallRecord, progress: Progress): RecallHeadView => ({
  recall: record.recall,
  title: record.title,
  type: record.type,
  drill: record.drill,
  status: progress.closed ? 'closed' : 'open',
  class: progress.strategies.at(-1)?.fact.terms.class ?? null,
  reports: [...progress.reports],
  what: record.what,
  reason: record.reason,
  hazard: record.hazard,
  instruction: record.instruction,
  contact: record.contact,
  openedAt: record.openedAt,
  openedBy: record.openedBy,
  seq: record.openedSeq,
  scopes: record.versions.map(({ version, seq, frozenAt, frozenBy, knownSeq, knownHash, chosen, reason, origin }) => ({
    version,
    seq,
    frozenAt,
    frozenBy,
    knownSeq,
    knownHash,
    chosen,
    reason,
    origin: origin.map((part) => ({ lot: part.lot, spans: part.spans as number[][] | null })),
  })),
});
