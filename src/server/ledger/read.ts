import type { EntityManager } from 'typeorm';
import { queryRows } from '../platform/database/rows.js';
import type { LedgerEntry } from './ledger-entry.entity.js';

/** An entry as it stands in the table, its columns and its hashed text. */
export type StoredEntry = Pick<LedgerEntry, 'seq' | 'at' | 'actor' | 'kind' | 'v' | 'body' | 'hash'>;

/** The end of the chain: the number of entries and the hash of the last. */
export interface Head {
  readonly seq: number;
  readonly hash: string;
}

/** Most entries in one page, and most bytes of bodies: an import stores entries of a megabyte. */
interface PageBounds {
  readonly entries: number;
  readonly bytes: number;
}

const BOUNDS: PageBounds = { entries: 5000, bytes: 4_000_000 };

const COLUMNS = '"seq", "at", "actor", "kind", "v", "body", "hash"';

/** Where the chain ends according to its head row. */
export async function ledgerHead(tx: EntityManager): Promise<Head> {
  const [head] = await queryRows<Head>(tx, 'SELECT "seq", "hash" FROM "ledger_head" WHERE "id" = 1');
  if (!head) throw new Error('the ledger has no head row');
  return head;
}

/** When the last entry was made, ISO 8601 UTC with milliseconds; null while there is none. */
export async function lastInstant(tx: EntityManager): Promise<string | null> {
  const [last] = await queryRows<{ at: string }>(tx, 'SELECT "at" FROM "ledger_entry" ORDER BY "seq" DESC LIMIT 1');
  return last?.at ?? null;
}

/** The entry with this number, or undefined. */
export async function entryAt(tx: EntityManager, seq: number): Promise<StoredEntry | undefined> {
  const [entry] = await queryRows<StoredEntry>(tx, `SELECT ${COLUMNS} FROM "ledger_entry" WHERE "seq" = ?`, [seq]);
  return entry;
}

/**
 * The next page of entries after number `after`, in order of their numbers; empty at the end.
 * A page holds at least one entry however large, and otherwise no more than `bounds` allows.
 */
export async function entriesAfter(tx: EntityManager, after: number, bounds: PageBounds = BOUNDS): Promise<StoredEntry[]> {
  const [fit] = await queryRows<{ last: number | null }>(
    tx,
    `SELECT max("seq") AS "last" FROM (
       SELECT "seq", sum(octet_length("body")) OVER (ORDER BY "seq") AS "total"
       FROM (SELECT "seq", "body" FROM "ledger_entry" WHERE "seq" > ? ORDER BY "seq" LIMIT ?) AS "next"
     ) AS "sized" WHERE "total" <= ?`,
    [after, bounds.entries, bounds.bytes],
  );
  if (fit?.last === null || fit?.last === undefined) {
    return queryRows<StoredEntry>(tx, `SELECT ${COLUMNS} FROM "ledger_entry" WHERE "seq" > ? ORDER BY "seq" LIMIT 1`, [after]);
  }
  return queryRows<StoredEntry>(tx, `SELECT ${COLUMNS} FROM "ledger_entry" WHERE "seq" > ? AND "seq" <= ? ORDER BY "seq"`, [
    after,
    fit.last,
  ]);
}

/**
 * All entries after number `after`, page by page: other work gets its turn between two pages. With `ahead` the next page is on its way
 * while the last one is worked on; `tx` must then be used for nothing else meanwhile.
 */
export async function* entryPages(tx: EntityManager, after = 0, ahead = false): AsyncGenerator<StoredEntry[]> {
  let next = entriesAfter(tx, after);
  try {
    for (;;) {
      const page = await next;
      if (page.length === 0) return;
      const last = page.at(-1)!.seq;
      if (ahead) next = entriesAfter(tx, last);
      next.catch(() => undefined); // said when it is awaited
      yield page;
      if (!ahead) next = entriesAfter(tx, last);
    }
  } finally {
    await next.catch(() => undefined); // whoever stops half way must find the connection free
  }
}
