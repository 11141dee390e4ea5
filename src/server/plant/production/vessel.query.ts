import type { EntityManager } from 'typeorm';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { lotStates } from '../stock/lot-state.query.js';
import type { VesselPart } from './run-state.facts.js';
import type { VesselState } from './vessel.decide.js';

/** What is on hand in a vessel, by lot. */
export async function vesselContent(tx: EntityManager, vessel: string): Promise<VesselPart[]> {
  const rows = await queryRows<{ code: string; item: string; quantity: unknown; spans: string | null }>(
    tx,
    `SELECT l."code", l."item", w."quantity", w."spans" FROM "whereabout" w JOIN "lot" l ON l."id" = w."lot_id"
     WHERE w."fate" = 'on-hand' AND w."at" = ? AND w."until_seq" IS NULL ORDER BY l."code"`,
    [vessel],
  );
  return rows.map((row) => ({
    lot: row.code,
    item: row.item,
    quantityMicro: safeInteger(row.quantity),
    spans: storedSpans(row.spans),
  }));
}

/** A batch that was in a vessel since it was last cleaned. */
interface LastBatch {
  readonly lot: string;
  readonly at: string;
  readonly seq: number;
}

/** The last entry that says the vessel was cleaned; 0 when none does. */
export async function lastCleaning(tx: EntityManager, vessel: string): Promise<{ seq: number; cleanedAt: string | null }> {
  const [row] = await queryRows<{ seq: number; cleaned_at: string }>(
    tx,
    'SELECT "seq", "cleaned_at" FROM "vessel_cleaning" WHERE "vessel" = ? ORDER BY "seq" DESC LIMIT 1',
    [vessel],
  );
  return row ? { seq: row.seq, cleanedAt: row.cleaned_at } : { seq: 0, cleanedAt: null };
}

export async function lastBatch(tx: EntityManager, vessel: string): Promise<LastBatch | undefined> {
  const { seq } = await lastCleaning(tx, vessel);
  const [row] = await queryRows<LastBatch>(
    tx,
    'SELECT "lot", "at", "seq" FROM "vessel_batch" WHERE "vessel" = ? AND "seq" > ? ORDER BY "seq" DESC LIMIT 1',
    [vessel, seq],
  );
  return row;
}

/** Vessels among the places, with the batch each had last since it was cleaned. */
export async function lastBatches(tx: EntityManager, places: readonly string[]): Promise<Map<string, string | null>> {
  const vessels = new Map<string, string | null>();
  for (const vessel of (await catalogueByCode(tx, 'vessel', places)).keys())
    vessels.set(vessel, (await lastBatch(tx, vessel))?.lot ?? null);
  return vessels;
}

/** Runs that are open in the vessel, or have left it running while nobody has cleaned it since: their batch has no name yet. */
export async function openInVessel(tx: EntityManager, vessel: string): Promise<string[]> {
  const rows = await queryRows<{ run: string }>(
    tx,
    `SELECT DISTINCT s."run" FROM "run_vessel" s JOIN "run" r ON r."code" = s."run"
     WHERE s."vessel" = ? AND r."closed_seq" IS NULL AND (s."left_seq" IS NULL OR s."left_seq" > ?) ORDER BY s."run"`,
    [vessel, (await lastCleaning(tx, vessel)).seq],
  );
  return rows.map((row) => row.run);
}

/** The run that is in the vessel now. */
export async function runInVessel(tx: EntityManager, vessel: string): Promise<string | null> {
  const [row] = await queryRows<{ code: string }>(tx, 'SELECT "code" FROM "run" WHERE "vessel" = ? AND "closed_seq" IS NULL', [vessel]);
  return row?.code ?? null;
}

/** A vessel as a decision sees it. */
export async function vesselState(
  tx: EntityManager,
  lineage: Lineage,
  asked: { readonly vessel: string; readonly at: string; readonly alsoLeft?: boolean },
): Promise<VesselState> {
  const { vessel, at } = asked;
  const content = await vesselContent(tx, vessel);
  const last = await lastBatch(tx, vessel);
  return {
    vessel,
    at,
    known: (await catalogueByCode(tx, 'vessel', [vessel])).has(vessel),
    content,
    openRun: asked.alsoLeft ? ((await openInVessel(tx, vessel))[0] ?? null) : await runInVessel(tx, vessel),
    lastBatch: last?.lot ?? null,
    lastAt: last?.at ?? null,
    lots: await lotStates(
      tx,
      lineage,
      content.map((part) => ({ lot: part.lot, spans: part.spans })),
    ),
  };
}
