import type { EntityManager } from 'typeorm';
import { Refusal } from '../../../../shared/refusal.js';
import type { SpanSet } from '../../../../shared/spans.js';
import { entryAt, ledgerHead, type StoredEntry } from '../../ledger/read.js';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import { holdCodesOf } from './report-holds.query.js';
import type { Report } from './report-state.facts.js';

/** A hold of a report on one lot, lifted since or not. */
export interface HoldOfReport {
  readonly hold: string;
  readonly lot: string;
  readonly spans: SpanSet | null;
  readonly quantityMicro: number | null;
  readonly reason: string;
  readonly placedAt: string;
  readonly placedSeq: number;
  readonly liftedSeq: number | null;
  readonly liftReason: string | null;
}

/** Entries that name a report, in order. */
export async function entriesNamingReport(tx: EntityManager, report: string): Promise<number[]> {
  const rows = await queryRows<{ seq: number }>(
    tx,
    `SELECT DISTINCT "seq" FROM "entry_subject" WHERE "kind" = 'report' AND "code" = ? ORDER BY "seq"`,
    [report],
  );
  return rows.map((row) => row.seq);
}

/** Every hold that was ever one of the report's own, in order of placing: placed for it, or by the inspection it was raised from. */
export async function everyHoldOf(tx: EntityManager, report: Report): Promise<HoldOfReport[]> {
  const rows = await selectIn<{
    code: string;
    lot: string;
    spans: string | null;
    quantity: unknown;
    reason: string;
    placed_at: string;
    placed_seq: number;
    lifted_seq: number | null;
    lift_reason: string | null;
  }>(
    tx,
    `SELECT h.*, l."code" AS "lot" FROM "hold" h JOIN "lot" l ON l."id" = h."lot_id" WHERE h."code" IN (:list)`,
    await holdCodesOf(tx, report),
  );
  return rows
    .map((row) => ({
      hold: row.code,
      lot: row.lot,
      spans: storedSpans(row.spans),
      quantityMicro: row.quantity === null ? null : safeInteger(row.quantity),
      reason: row.reason,
      placedAt: row.placed_at,
      placedSeq: row.placed_seq,
      liftedSeq: row.lifted_seq,
      liftReason: row.lift_reason,
    }))
    .toSorted((a, b) => a.placedSeq - b.placedSeq || (`${a.hold}\u0000${a.lot}` < `${b.hold}\u0000${b.lot}` ? -1 : 1));
}

/**
 * The entry a report is read at: the one asked for, or the last about it and its holds.
 * @throws Refusal when the ledger does not reach so far, or the report was not raised then
 * @see docs/rules/nonconformance.md NR-50
 */
export async function positionOf(
  tx: EntityManager,
  report: string,
  whole: Report,
  holds: readonly HoldOfReport[],
  asKnownAt?: number,
): Promise<StoredEntry> {
  const head = await ledgerHead(tx);
  const named = await entriesNamingReport(tx, report);
  const seq = asKnownAt ?? Math.max(...named, ...holds.flatMap((one) => [one.placedSeq, one.liftedSeq ?? 0]));
  if (seq > head.seq) {
    throw new Refusal('unknown', [
      {
        code: 'entry-unknown',
        detail: `the ledger ends at entry ${head.seq}; there is no entry ${seq} yet`,
        pointer: '/asKnownAt',
        last: head.seq,
      },
    ]);
  }
  if (seq < whole.raised.seq) {
    const detail = `${report} was raised at entry ${whole.raised.seq}: at entry ${seq} there was no such report`;
    throw new Refusal('unknown', [{ code: 'report-not-raised-yet', detail, pointer: '/asKnownAt', raised: whole.raised.seq }]);
  }
  return (await entryAt(tx, seq))!;
}
