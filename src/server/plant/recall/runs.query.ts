import type { EntityManager } from 'typeorm';
import type { LotPart, RunInProcess } from '../../documents/recall-report.types.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { Figures } from './figures.query.js';

/**
 * Runs that had taken affected material and yielded nothing from it yet, as known at the entry: consumed by a run that no link names.
 */
export async function runsInProcessAt(from: EntityManager, { affected, lots, places, whereabouts, seq }: Figures): Promise<RunInProcess[]> {
  const linked = new Set(
    (
      await selectIn<{ from_lot: number; run: string }>(
        from,
        `SELECT DISTINCT "from_lot", "run" FROM "link"
         WHERE "seq" <= ${seq} AND ("void_seq" IS NULL OR "void_seq" > ${seq}) AND "from_lot" IN (:list)`,
        [...affected.keys()],
      )
    ).map((row) => `${row.from_lot}\u0000${row.run}`),
  );
  const took = new Map<string, LotPart[]>();
  for (const place of places) {
    if (place.fate !== 'consumed' || linked.has(`${place.lotId}\u0000${place.at}`)) continue;
    const { lot } = lots.get(place.lotId)!;
    const parts = whereabouts.filter((part) => part.lot === lot && part.fate === 'consumed' && part.holder === place.at);
    if (parts.length > 0) took.set(place.at, [...(took.get(place.at) ?? []), ...parts]);
  }
  const runs: RunInProcess[] = [];
  for (const [run, parts] of [...took].toSorted(([a], [b]) => (a < b ? -1 : 1))) runs.push(await inProcess(from, run, parts, seq));
  return runs;
}

/** When the run took its first material: the earliest row that says so. */
async function inProcess(from: EntityManager, run: string, took: readonly LotPart[], seq: number): Promise<RunInProcess> {
  const [row] = await queryRows<{ at: string }>(
    from,
    `SELECT e."at" FROM "whereabout" w JOIN "ledger_entry" e ON e."seq" = w."since_seq"
     WHERE w."fate" = 'consumed' AND w."at" = ? AND w."since_seq" <= ? ORDER BY w."since_seq" LIMIT 1`,
    [run, seq],
  );
  return { run, kind: 'run', place: 'not named', startedAt: row!.at, took };
}
