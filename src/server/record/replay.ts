import type { EntityManager } from 'typeorm';
import { recorded } from '../ledger/append.js';
import { entryPages } from '../ledger/read.js';
import { project } from '../plant/project.js';

/** An entry that the tables made from those before it cannot follow: it takes what is not there, or names what does not exist. */
export class ReplayFault extends Error {
  override name = 'ReplayFault';
  constructor(
    readonly seq: number,
    cause: unknown,
  ) {
    super(cause instanceof Error ? cause.message : String(cause), { cause });
  }
}

/**
 * Projects every entry of `ledger` after number `after` into `tables`, by the same projectors that write for a live command.
 * Answers the number of the last one.
 * @throws ReplayFault
 */
export async function replay(
  ledger: EntityManager,
  tables: EntityManager,
  after: number,
  onDone?: (entries: number) => void,
): Promise<number> {
  let last = after;
  for await (const page of entryPages(ledger, after)) {
    await tables.query('BEGIN');
    for (const entry of page)
      await project(tables, recorded(entry)).catch((error: unknown) => Promise.reject(new ReplayFault(entry.seq, error)));
    await tables.query('COMMIT');
    last = page.at(-1)!.seq;
    onDone?.(last);
  }
  return last;
}
