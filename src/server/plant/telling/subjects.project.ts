import type { EntityManager } from 'typeorm';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows } from '../../platform/database/rows.js';
import { subjectsOf } from './subjects.js';

/** Writes which records an entry names, whatever its kind. */
export const projectSubjects = (tx: EntityManager, { seq, fact }: Recorded): Promise<void> =>
  insertRows(
    tx,
    'entry_subject',
    ['kind', 'code', 'seq'],
    subjectsOf(fact).map(({ kind, code }) => [kind, code, seq]),
  );
