import type { EntityManager } from 'typeorm';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { CatalogueKind, CatalogueKinds, Revised } from './catalogue.facts.js';

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

/** Every revision of one record, first to last, with the entries between which it stood. */
export async function catalogueHistory<K extends CatalogueKind>(
  tx: EntityManager,
  what: K,
  code: string,
): Promise<(Revised<CatalogueKinds[K]> & { sinceSeq: number; untilSeq: number | null })[]> {
  const rows = await queryRows<Row & { since_seq: number; until_seq: number | null }>(
    tx,
    'SELECT * FROM "catalogue_record" WHERE "what" = ? AND "code" = ? ORDER BY "revision"',
    [what, code],
  );
  return rows.map((row) => ({ ...revised<K>(row), sinceSeq: row.since_seq, untilSeq: row.until_seq }));
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
