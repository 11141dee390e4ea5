import type { EntityManager } from 'typeorm';
import { intersectSpans, parseSpans, type SpanSet } from '../../../../shared/spans.js';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import { type Change, type Granted, grantKey, spentOf } from './grants.decide.js';
import type { Grant } from './grants.facts.js';

interface GrantRow {
  report: string;
  disposition: number;
  kind: Grant['kind'];
  lot: string;
  spans: string | null;
  quantity: unknown;
  until: string | null;
  granted_seq: number;
  ended_seq: number | null;
}

/** What dispositions in force let these lots do, by lot. One indexed look for the many lots that have none. */
export async function grantsOf(
  tx: EntityManager,
  lots: readonly { readonly id: number; readonly code: string }[],
): Promise<Map<string, Grant[]>> {
  const rows = await selectIn<GrantRow>(
    tx,
    `SELECT "report", "disposition", "kind", "lot", "spans", "quantity", "until", "granted_seq", "ended_seq"
     FROM "disposition" WHERE "granted_seq" IS NOT NULL AND "lot" IN (:list)`,
    lots.map((lot) => lot.code),
  );
  const live = rows.filter((row) => row.ended_seq === null).toSorted((a, b) => a.granted_seq - b.granted_seq);
  if (live.length === 0) return new Map();
  const holds = await holdsOfReports(tx, [...new Set(live.map((row) => row.report))]);
  const bulk = [...new Set(live.filter((row) => row.spans === null).map((row) => row.lot))];
  const counted = await countedOn(
    tx,
    lots.filter((lot) => bulk.includes(lot.code)),
    rows,
  );
  const grants = new Map<string, Grant[]>();
  for (const row of live) {
    const { report, disposition, kind, until } = row;
    const spans = storedSpans(row.spans);
    const count = spans === null ? counted.get(row.lot)! : undefined;
    const usedMicro = count?.spent.get(grantKey(row)) ?? null;
    const grant: Grant = {
      report,
      disposition,
      kind,
      spans,
      usedMicro,
      leftMicro: usedMicro === null ? null : safeInteger(row.quantity) - usedMicro,
      onHandMicro: count?.onHandMicro ?? null,
      until,
      holds: holds.get(report) ?? [],
    };
    grants.set(row.lot, [...(grants.get(row.lot) ?? []), grant]);
  }
  return grants;
}

/** Every hold that was ever placed for these reports. */
async function holdsOfReports(tx: EntityManager, reports: readonly string[]): Promise<Map<string, string[]>> {
  const rows = await selectIn<{ report: string; body: string }>(
    tx,
    `SELECT s."code" AS "report", e."body" FROM "entry_subject" s JOIN "ledger_entry" e ON e."seq" = s."seq"
     WHERE s."kind" = 'report' AND e."kind" IN ('ReportContained', 'HoldPlacedByRule') AND s."code" IN (:list)`,
    reports,
  );
  const holds = new Map<string, string[]>();
  for (const { report, body } of rows) {
    const fact = JSON.parse(body) as { readonly hold?: string; readonly holds?: readonly string[] };
    holds.set(report, [...(holds.get(report) ?? []), ...(fact.holds ?? []), ...(fact.hold === undefined ? [] : [fact.hold])]);
  }
  return holds;
}

interface Counted {
  readonly onHandMicro: number;
  readonly spent: ReadonlyMap<string, number>;
}

/** How much of each bulk lot is on hand, and how much of it went under each of its dispositions. */
async function countedOn(
  tx: EntityManager,
  lots: readonly { readonly id: number; readonly code: string }[],
  rows: readonly GrantRow[],
): Promise<Map<string, Counted>> {
  const counted = new Map<string, Counted>();
  for (const { id, code } of lots) {
    const changes = await changesOf(tx, id);
    const granted = rows
      .filter((row) => row.lot === code)
      .map((row): Granted => ({
        report: row.report,
        disposition: row.disposition,
        kind: row.kind,
        limitMicro: safeInteger(row.quantity),
        until: row.until,
        sinceSeq: row.granted_seq,
        endedSeq: row.ended_seq,
      }));
    const onHandMicro = changes.filter(({ what }) => what === 'onHand').reduce((sum, { by }) => sum + by, 0);
    counted.set(code, { onHandMicro, spent: spentOf(changes, granted) });
  }
  return counted;
}

interface Lasting {
  since_seq: number;
  until_seq: number | null;
}

/** All that changed about a bulk lot, entry by entry. */
async function changesOf(tx: EntityManager, lotId: number): Promise<Change[]> {
  const places = await queryRows<Lasting & { fate: string; quantity: unknown; run_kind: string | null; regraded: string | null }>(
    tx,
    `SELECT w."since_seq", w."until_seq", w."fate", w."quantity", r."kind" AS "run_kind", n."code" AS "regraded"
     FROM "whereabout" w LEFT JOIN "run" r ON r."code" = w."at" LEFT JOIN "report" n ON n."code" = w."at"
     WHERE w."lot_id" = ? AND w."fate" IN ('on-hand', 'consumed', 'dispatched')`,
    [lotId],
  );
  const holds = await queryRows<Lasting & { quantity: unknown }>(
    tx,
    'SELECT "placed_seq" AS "since_seq", "lifted_seq" AS "until_seq", "quantity" FROM "hold" WHERE "lot_id" = ?',
    [lotId],
  );
  const statuses = await queryRows<Lasting>(
    tx,
    `SELECT "since_seq", "until_seq" FROM "lot_status" WHERE "lot_id" = ? AND "status" = 'released'`,
    [lotId],
  );
  const lasting = (row: Lasting, what: Change['what'], by: number): Change[] => [
    { seq: row.since_seq, what, by },
    ...(row.until_seq === null ? [] : [{ seq: row.until_seq, what, by: -by }]),
  ];
  return [
    ...places.flatMap((row) => {
      const by = safeInteger(row.quantity);
      if (row.fate === 'on-hand') return lasting(row, 'onHand', by);
      if (row.fate === 'consumed' && row.regraded !== null) return []; // made into another item by a report: not used
      return lasting(row, row.fate === 'consumed' && row.run_kind === 'rework' ? 'rework' : 'other', by);
    }),
    ...holds.flatMap((row) => (row.quantity === null ? lasting(row, 'whole', 1) : lasting(row, 'held', safeInteger(row.quantity)))),
    ...statuses.flatMap((row) => lasting(row, 'released', 1)),
  ];
}

/** A rework or repair that is proposed or decided, and not verified yet. */
export interface Unverified {
  readonly report: string;
  readonly disposition: number;
  /** Pieces of the lot it is about; null: all of it. */
  readonly spans: SpanSet | null;
}

/**
 * Reworks and repairs of a lot that no inspection has verified: of pieces of it that are here, or of what the rework run that yielded it took.
 * @param here pieces of the lot that are on hand; null for a bulk lot
 * @see docs/rules/nonconformance.md NR-31
 */
export async function unverifiedReworks(
  tx: EntityManager,
  lot: { readonly lot: string; readonly source: string },
  here: SpanSet | null,
): Promise<Unverified[]> {
  const rows = await queryRows<{
    report: string;
    disposition: number;
    spans: string | null;
    charged: string | null;
    own: number | boolean;
  }>(
    tx,
    `SELECT d."report", d."disposition", d."spans", NULL AS "charged", 1 AS "own" FROM "disposition" d
     WHERE d."kind" IN ('rework', 'repair') AND d."state" NOT IN ('withdrawn', 'verified') AND d."lot" = ?
     UNION ALL
     SELECT d."report", d."disposition", d."spans", c."spans" AS "charged", 0 AS "own"
     FROM "run" r JOIN "run_charge" c ON c."run" = r."code" JOIN "disposition" d ON d."lot" = c."lot"
     WHERE r."code" = ? AND r."kind" = 'rework' AND d."kind" IN ('rework', 'repair') AND d."state" NOT IN ('withdrawn', 'verified')
       AND c."seq" > d."since_seq"`,
    [lot.lot, lot.source],
  );
  return rows
    .flatMap(({ report, disposition, spans, charged, own }): Unverified[] => {
      const of = storedSpans(spans);
      if (own) {
        const left = of === null || here === null ? [] : intersectSpans(of, here);
        return left.length === 0 ? [] : [{ report, disposition, spans: left }];
      }
      const took = of === null || charged === null || intersectSpans(of, parseSpans(charged)).length > 0;
      return took ? [{ report, disposition, spans: null }] : [];
    })
    .toSorted((a, b) => (a.report === b.report ? a.disposition - b.disposition : a.report < b.report ? -1 : 1));
}

/** Open reports that affect a piece and have no signed rework or repair of it in force. @see docs/rules/nonconformance.md NR-31 */
export async function reworkNotDecided(tx: EntityManager, lot: string, piece: number): Promise<string[]> {
  const parts = await queryRows<{ report: string; spans: string | null }>(
    tx,
    `SELECT p."report", p."spans" FROM "report_part" p JOIN "report" r ON r."code" = p."report"
     WHERE p."lot" = ? AND r."state" NOT IN ('closed', 'withdrawn') ORDER BY p."report"`,
    [lot],
  );
  const decided = await queryRows<{ report: string; spans: string | null }>(
    tx,
    `SELECT "report", "spans" FROM "disposition" WHERE "lot" = ? AND "kind" IN ('rework', 'repair')
     AND "granted_seq" IS NOT NULL AND "ended_seq" IS NULL`,
    [lot],
  );
  const covers = ({ spans }: { readonly spans: string | null }): boolean =>
    spans === null || intersectSpans(parseSpans(spans), [[piece, piece]]).length > 0;
  const affected = [...new Set(parts.filter(covers).map((part) => part.report))];
  return affected.filter((report) => !decided.some((one) => one.report === report && covers(one)));
}
