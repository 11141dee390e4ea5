import type { EntityManager } from 'typeorm';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import type { OpenHold, OpenUrgentRelease, SetAside } from './holds.facts.js';

/** Later than every entry, and still an integer to both databases. */
export const LATEST = 2_147_483_647;

/** Every hold that is not lifted, or was not at entry `seq`. They are few, and rule 4 needs all of them: any may reach any lot. */
export async function openHolds(tx: EntityManager, seq = LATEST): Promise<OpenHold[]> {
  const rows = await queryRows<{
    hold: string;
    lot_id: number;
    lot: string;
    spans: string | null;
    quantity: unknown;
    reaches: boolean | number;
    reason: string;
  }>(
    tx,
    `SELECT h."code" AS "hold", h."lot_id", l."code" AS "lot", h."spans", h."quantity", h."reaches", h."reason"
     FROM "hold" h JOIN "lot" l ON l."id" = h."lot_id" 
     WHERE h."placed_seq" <= ? AND (h."lifted_seq" IS NULL OR h."lifted_seq" > ?) ORDER BY h."placed_seq", h."lot_id"`,
    [seq, seq],
  );
  return rows.map((row) => ({
    hold: row.hold,
    lotId: row.lot_id,
    lot: row.lot,
    spans: storedSpans(row.spans),
    quantityMicro: row.quantity === null ? null : safeInteger(row.quantity),
    reaches: Boolean(row.reaches),
    reason: row.reason,
  }));
}

/** Every urgent release that is not closed. */
export async function openUrgentReleases(tx: EntityManager): Promise<OpenUrgentRelease[]> {
  const rows = await queryRows<{ code: string; lot_id: number; spans: string | null; sets_aside: string }>(
    tx,
    'SELECT "code", "lot_id", "spans", "sets_aside" FROM "urgent_release" WHERE "closed_seq" IS NULL ORDER BY "opened_seq"',
  );
  return rows.map((row) => ({
    urgentRelease: row.code,
    lotId: row.lot_id,
    spans: storedSpans(row.spans),
    setsAside: row.sets_aside.split(',') as SetAside[],
  }));
}
