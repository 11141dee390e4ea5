import type { EntityManager } from 'typeorm';
import { intersectSpans, type SpanSet, wholeLot } from '../../../../shared/spans.js';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { selectIn } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import type { OpenHold } from '../holds/holds.facts.js';
import { openHolds, openUrgentReleases } from '../holds/holds.query.js';
import { grantsOf } from '../nonconformance/grants.query.js';
import type { Fate, LotStatus, Origin, Unit } from './effects.facts.js';
import { type LotState, meets, type PartAt } from './lot-state.facts.js';

/** A part of a lot that a command wants: spans null means all of it. */
export interface Wanted {
  readonly lot: string;
  readonly spans: SpanSet | null;
}

interface LotRow {
  id: number;
  code: string;
  item: string;
  item_revision: number;
  unit: Unit;
  pieces: number | null;
  quantity: unknown;
  origin: Origin;
  born_at: string;
  born_seq: number;
  made_on: string | null;
  expires_on: string | null;
  supplier: string | null;
  supplier_lot: string | null;
  source: string;
}

function grouped<Row extends { lot_id: number }>(rows: readonly Row[]): Map<number, Row[]> {
  const groups = new Map<number, Row[]>();
  for (const row of rows) groups.set(row.lot_id, [...(groups.get(row.lot_id) ?? []), row]);
  return groups;
}

/**
 * The lots a decision rests on, by code; a lot that is missing from the answer does not exist.
 * Whatever reaching hold stands on an ancestor of a wanted part is found from the genealogy of this moment (domain rule 4).
 */
export async function lotStates(tx: EntityManager, lineage: Lineage, wanted: readonly Wanted[]): Promise<Map<string, LotState>> {
  const codes = [...new Set(wanted.map((part) => part.lot))];
  const lots = await selectIn<LotRow>(tx, 'SELECT * FROM "lot" WHERE "code" IN (:list)', codes);
  const ids = lots.map((lot) => lot.id);
  const places = grouped(
    await selectIn<{ lot_id: number; fate: Fate; at: string; quantity: unknown; spans: string | null }>(
      tx,
      'SELECT "lot_id", "fate", "at", "quantity", "spans" FROM "whereabout" WHERE "until_seq" IS NULL AND "lot_id" IN (:list)',
      ids,
    ),
  );
  const statuses = grouped(
    await selectIn<{ lot_id: number; status: LotStatus; spans: string | null }>(
      tx,
      'SELECT "lot_id", "status", "spans" FROM "lot_status" WHERE "until_seq" IS NULL AND "lot_id" IN (:list)',
      ids,
    ),
  );
  const holds = await openHolds(tx);
  const urgent = await openUrgentReleases(tx);
  const grants = await grantsOf(tx, lots);
  const states = new Map<string, LotState>();
  for (const lot of lots) {
    const parts = wanted.filter((part) => part.lot === lot.code).map((part) => part.spans);
    states.set(lot.code, {
      id: lot.id,
      lot: lot.code,
      item: lot.item,
      itemRevision: lot.item_revision,
      unit: lot.unit,
      pieces: lot.pieces,
      quantityMicro: safeInteger(lot.quantity),
      origin: lot.origin,
      bornAt: lot.born_at,
      bornSeq: lot.born_seq,
      madeOn: lot.made_on,
      expiresOn: lot.expires_on,
      supplier: lot.supplier,
      supplierLot: lot.supplier_lot,
      source: lot.source,
      places: (places.get(lot.id) ?? [])
        .map((row): PartAt => ({
          place: { fate: row.fate, at: row.at },
          quantityMicro: safeInteger(row.quantity),
          spans: storedSpans(row.spans),
        }))
        .toSorted((a, b) => (a.place.fate + a.place.at < b.place.fate + b.place.at ? -1 : 1)),
      statuses: new Map((statuses.get(lot.id) ?? []).map((row) => [row.status, storedSpans(row.spans)])),
      holds: holds.filter((hold) => hold.lotId === lot.id),
      inherited: await inheritedHolds(tx, lineage, lot, parts, holds),
      urgentReleases: urgent.filter((release) => release.lotId === lot.id),
      grants: grants.get(lot.code) ?? [],
    });
  }
  return states;
}

async function inheritedHolds(
  tx: EntityManager,
  lineage: Lineage,
  lot: LotRow,
  parts: readonly (SpanSet | null)[],
  holds: readonly OpenHold[],
): Promise<OpenHold[]> {
  const reaching = holds.filter((hold) => hold.reaches);
  if (reaching.length === 0) return [];
  const found = new Set<OpenHold>();
  for (const spans of parts) {
    const whole = lot.pieces === null ? null : wholeLot(lot.pieces);
    // Pieces that the lot does not have are refused elsewhere; the genealogy knows nothing of them.
    const inside = whole === null || spans === null ? whole : intersectSpans(spans, whole);
    for (const ancestor of await lineage.ancestors(tx, { lotId: lot.id, spans: inside })) {
      for (const hold of reaching) if (hold.lotId === ancestor.lotId && meets(hold.spans, ancestor.spans)) found.add(hold);
    }
  }
  return [...found].filter((hold) => hold.lotId !== lot.id);
}
