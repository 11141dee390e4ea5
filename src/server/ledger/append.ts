import { hash as digest } from 'node:crypto';
import type { EntityManager } from 'typeorm';
import { canonicalJson } from '../../../shared/canonical-json.js';
import { insertRows } from '../platform/database/rows.js';
import type { Fact, Recorded } from './fact.js';
import { LedgerEntry, LedgerHead } from './ledger-entry.entity.js';

/** Lower-case hexadecimal SHA-256 of the UTF-8 bytes of `text`. */
export const sha256 = (text: string): string => digest('sha256', text, 'hex');

/** Takes the write lock: of the head row on PostgreSQL, of the database on SQLite. */
export const lockHead = (tx: EntityManager): Promise<unknown> => tx.query('UPDATE "ledger_head" SET "seq" = "seq" WHERE "id" = 1');

/** Who did it, when, and under which command id, as every entry says. */
interface Attribution {
  readonly actor: string;
  /** ISO 8601 UTC with milliseconds, 24 characters. */
  readonly at: string;
  readonly commandId?: string | undefined;
}

/**
 * Appends facts, each linked to the one before: hash = SHA-256(body), and body names prev.
 * The write lock must be held before any read the decision rests on. Answers what was stored, read back from the stored text,
 * so that a live command and a rebuild project the same thing.
 * @see docs/rules/ledger.md L-1, L-2
 */
export async function append(tx: EntityManager, facts: readonly Fact[], by: Attribution): Promise<Recorded[]> {
  let { seq, hash } = await tx.findOneByOrFail(LedgerHead, { id: 1 });
  const entries = facts.map((fact): LedgerEntry => {
    const body = canonicalJson({
      ...fact,
      actor: by.actor,
      at: by.at,
      prev: hash,
      seq: ++seq,
      ...(by.commandId === undefined ? {} : { commandId: by.commandId }),
    });
    hash = sha256(body);
    return { seq, at: by.at, actor: by.actor, kind: fact.kind, v: fact.v, body, hash };
  });
  await insertRows(
    tx,
    'ledger_entry',
    ['seq', 'at', 'actor', 'kind', 'v', 'body', 'hash'],
    entries.map((entry) => [entry.seq, entry.at, entry.actor, entry.kind, entry.v, entry.body, entry.hash]),
  );
  await tx.update(LedgerHead, { id: 1 }, { seq, hash });
  return entries.map(recorded);
}

/** The fact an entry holds, parsed from the text that was hashed. */
export function recorded(entry: Pick<LedgerEntry, 'seq' | 'at' | 'actor' | 'body'>): Recorded {
  return { seq: entry.seq, at: entry.at, actor: entry.actor, fact: JSON.parse(entry.body) as Fact };
}
