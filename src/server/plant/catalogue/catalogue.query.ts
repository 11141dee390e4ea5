import type { EntityManager } from 'typeorm';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { CatalogueKind, CatalogueKinds, CatalogueRevised, Revised } from './catalogue.facts.js';

interface Row {
  code: string;
  revision: number;
  record: string;
}

const revised = <K extends CatalogueKind>(row: Row): Revised<CatalogueKinds[K]> => ({
  ...(JSON.parse(row.record) as CatalogueKinds[K]),
  revision: row.revision,
});

/** The current revisions of the records with these codes; a code that is missing from the answer does not exist. */
export async function catalogueByCode<K extends CatalogueKind>(
  tx: EntityManager,
  what: K,
  codes: Iterable<string>,
): Promise<Map<string, Revised<CatalogueKinds[K]>>> {
  const rows = await selectIn<Row>(
    tx,
    `SELECT "code", "revision", "record" FROM "catalogue_record" WHERE "what" = '${what}' AND "until_seq" IS NULL AND "code" IN (:list)`,
    [...new Set(codes)],
  );
  return new Map(rows.map((row) => [row.code, revised<K>(row)]));
}

/** All current records of a kind, by code. */
export async function catalogueOf<K extends CatalogueKind>(tx: EntityManager, what: K): Promise<Revised<CatalogueKinds[K]>[]> {
  const rows = await queryRows<Row>(
    tx,
    'SELECT "code", "revision", "record" FROM "catalogue_record" WHERE "what" = ? AND "until_seq" IS NULL ORDER BY "code"',
    [what],
  );
  return rows.map((row) => revised<K>(row));
}

/** A revision with the entry that made it. */
type PastRevision<T> = Revised<T> & {
  readonly sinceSeq: number;
  /** The entry that made the next one; null while it stands. */
  readonly untilSeq: number | null;
  readonly at: string;
  readonly by: string;
  readonly reason: string | null;
};

/** Every revision of one record, first to last, with the entries between which it stood, by whom and why. */
export async function catalogueHistory<K extends CatalogueKind>(
  tx: EntityManager,
  what: K,
  code: string,
): Promise<PastRevision<CatalogueKinds[K]>[]> {
  const rows = await queryRows<Row & { since_seq: number; until_seq: number | null; at: string; actor: string; body: string | null }>(
    tx,
    `SELECT c.*, e."at", e."actor", CASE WHEN e."kind" = 'CatalogueRevised' THEN e."body" END AS "body"
     FROM "catalogue_record" c JOIN "ledger_entry" e ON e."seq" = c."since_seq"
     WHERE c."what" = ? AND c."code" = ? ORDER BY c."revision"`,
    [what, code],
  );
  return rows.map((row) => ({
    ...revised<K>(row),
    sinceSeq: row.since_seq,
    untilSeq: row.until_seq,
    at: row.at,
    by: row.actor,
    reason: row.body === null ? null : ((JSON.parse(row.body) as CatalogueRevised).reason ?? null),
  }));
}

/** One given revision, as a run keeps it. */
export async function catalogueRevision<K extends CatalogueKind>(
  tx: EntityManager,
  what: K,
  code: string,
  revision: number,
): Promise<Revised<CatalogueKinds[K]> | undefined> {
  const rows = await queryRows<Row>(
    tx,
    'SELECT "code", "revision", "record" FROM "catalogue_record" WHERE "what" = ? AND "code" = ? AND "revision" = ?',
    [what, code, revision],
  );
  return rows[0] && revised<K>(rows[0]);
}
