import type { EntityManager } from 'typeorm';
import { recorded } from '../../ledger/append.js';
import type { StoredEntry } from '../../ledger/read.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { PlantFact, Unit } from '../stock/effects.facts.js';
import { type SubjectKind, subjectsOf } from './subjects.js';
import type { Known } from './words.facts.js';

/** Stock in a vessel stands at a place of that code. */
const LOOKED_UP: Readonly<Partial<Record<SubjectKind, readonly SubjectKind[]>>> = { vessel: ['vessel', 'location'] };

/** Numbers of the entries that name a record, from `from` on, in order. */
export async function entriesNaming(tx: EntityManager, kind: SubjectKind, code: string, from: number, limit: number): Promise<number[]> {
  const kinds = LOOKED_UP[kind] ?? [kind];
  const rows = await queryRows<{ seq: number }>(
    tx,
    `SELECT DISTINCT "seq" FROM "entry_subject" WHERE "kind" IN (${kinds.map(() => '?').join(',')}) AND "code" = ? AND "seq" >= ?
     ORDER BY "seq" LIMIT ?`,
    [...kinds, code, from, limit],
  );
  return rows.map((row) => row.seq);
}

/** The number of the entry from which the last `limit` entries that name a record begin. */
export async function lastNaming(tx: EntityManager, kind: SubjectKind, code: string, limit: number): Promise<number> {
  const kinds = LOOKED_UP[kind] ?? [kind];
  const [row] = await queryRows<{ first: number | null }>(
    tx,
    `SELECT min("seq") AS "first" FROM (SELECT DISTINCT "seq" FROM "entry_subject" WHERE "kind" IN (${kinds.map(() => '?').join(',')})
     AND "code" = ? ORDER BY "seq" DESC LIMIT ?) AS "latest"`,
    [...kinds, code, limit],
  );
  return row?.first ?? 1;
}

/** What sentences about these entries may ask: the units of the lots they name. */
export async function knownFor(tx: EntityManager, entries: readonly StoredEntry[]): Promise<Known> {
  const lots = new Set<string>();
  for (const entry of entries) for (const { kind, code } of subjectsOf(factOf(entry))) if (kind === 'lot') lots.add(code);
  const rows = await selectIn<{ code: string; unit: Unit }>(tx, 'SELECT "code", "unit" FROM "lot" WHERE "code" IN (:list)', [...lots]);
  const units = new Map(rows.map((row) => [row.code, row.unit]));
  return { unitOf: (lot) => units.get(lot) };
}

export const factOf = (entry: StoredEntry): PlantFact => recorded(entry).fact;
