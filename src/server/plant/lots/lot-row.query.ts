import type { EntityManager } from 'typeorm';
import { parseSpans, type SpanSet, unionSpans, wholeLot } from '../../../../shared/spans.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import { placesAt } from '../../trace/trace.query.js';
import { openHolds } from '../holds/holds.query.js';
import type { LotStatus } from '../stock/effects.facts.js';
import { meets } from '../stock/lot-state.facts.js';
import type { LotHoldView } from './lots.dto.js';
import type { Stamped } from './stamps.js';

/** A row of table `lot`, as the pages about lots read it. */
export interface LotRow {
  id: number;
  code: string;
  item: string;
  item_revision: number;
  unit: string;
  pieces: number | null;
  quantity: unknown;
  origin: string;
  born_at: string;
  born_seq: number;
  made_on: string | null;
  expires_on: string | null;
  supplier: string | null;
  supplier_lot: string | null;
  supplier_lot_assigned: boolean | number;
  source: string;
}

/** Rows that held at an entry. */
export const asKnown = (seq: number): string => `"since_seq" <= ${seq} AND ("until_seq" IS NULL OR "until_seq" > ${seq})`;
/** Later than every entry. */
export const NOW = 2_147_483_647;

/** What the stamp is made from, as known at entry `seq`; holds are those of that moment. */
export async function stamped(
  from: EntityManager,
  lineage: Lineage,
  row: LotRow,
  seq: number,
): Promise<Omit<Stamped, 'holds'> & { readonly holds: readonly HoldOn[] }> {
  const statuses = await queryRows<{ status: LotStatus; spans: string | null }>(
    from,
    `SELECT "status", "spans" FROM "lot_status" WHERE "lot_id" = ? AND ${asKnown(seq)}`,
    [row.id],
  );
  const scrapped = await placesAt(from, [row.id], seq, 'scrapped');
  const scrappedMicro = scrapped.reduce((sum, part) => sum + part.quantityMicro, 0);
  return {
    pieces: row.pieces,
    expiresOn: row.expires_on,
    statuses: new Map(statuses.map(({ status, spans }) => [status, spans === null ? null : parseSpans(spans)])),
    holds: await holdsOn(from, lineage, row, seq),
    scrapped: row.pieces === null ? null : scrapped.reduce<SpanSet>((sum, part) => unionSpans(sum, part.spans ?? []), []),
    allScrapped: scrappedMicro === safeInteger(row.quantity),
  };
}

export interface HoldOn extends LotHoldView {
  readonly spans: SpanSet | null;
  readonly quantityMicro: number | null;
}

/** Holds on the lot itself, and reaching holds on what it was made from; those still open, or, as of an earlier entry, open then. */
async function holdsOn(from: EntityManager, lineage: Lineage, row: LotRow, seq: number): Promise<HoldOn[]> {
  const holds = await openHolds(from, seq);
  const own = holds.filter((hold) => hold.lotId === row.id);
  const reaching = holds.filter((hold) => hold.reaches && hold.lotId !== row.id);
  const ancestors =
    reaching.length === 0 ? [] : await lineage.ancestors(from, { lotId: row.id, spans: row.pieces === null ? null : wholeLot(row.pieces) });
  const inherited = reaching.filter((hold) => ancestors.some((part) => part.lotId === hold.lotId && meets(hold.spans, part.spans)));
  // Which of its pieces an inherited hold stops is asked when they are used; the stamp says that the lot is touched.
  return [...own, ...inherited.map((hold) => ({ ...hold, spans: null, quantityMicro: null }))].map(({ hold, lot, reason, reaches, spans, quantityMicro }) => ({
    hold,
    lot,
    reason,
    reaches,
    spans,
    quantityMicro,
  }));
}

