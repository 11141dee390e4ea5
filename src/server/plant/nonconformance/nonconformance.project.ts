import type { EntityManager } from 'typeorm';
import { formatSpans } from '../../../../shared/spans.js';
import type { Recorded } from '../../ledger/fact.js';
import { insertRecords, queryRows } from '../../platform/database/rows.js';
import type {
  DispositionCarriedOut,
  DispositionProposed,
  DispositionSigned,
  DispositionVerified,
  DispositionWithdrawn,
} from './disposition.facts.js';
import type { EffectivenessChecked } from './learning.facts.js';
import type {
  AffectedPart,
  ReportClosed,
  ReportContained,
  ReportPartJudged,
  ReportRaised,
  ReportReopened,
  ReportReviewed,
  ReportWithdrawn,
} from './nonconformance.facts.js';
import type { ReviewRuleSet } from './review-rule.facts.js';
import type { ReportState } from './states.facts.js';

type Moving = Recorded<
  | ReportContained
  | ReportReviewed
  | ReportClosed
  | ReportWithdrawn
  | ReportReopened
  | EffectivenessChecked
  | DispositionProposed
  | DispositionSigned
  | DispositionWithdrawn
  | DispositionCarriedOut
  | DispositionVerified
  | ReportPartJudged
>;

/** The report is in the state that the entry says; the time counts only when that is another one. */
async function move(tx: EntityManager, { at, fact }: Moving): Promise<void> {
  await queryRows(tx, 'UPDATE "report" SET "state" = ?, "state_at" = ? WHERE "code" = ? AND "state" <> ?', [
    fact.state,
    at,
    fact.report,
    fact.state,
  ]);
}

const moveOnly = (tx: EntityManager, entry: Moving): Promise<void> => move(tx, entry);

const shown = (part: AffectedPart) => ({
  lot: part.lot,
  spans: part.spans === null ? null : formatSpans(part.spans),
  quantity: part.quantityMicro,
});

async function insertParts(tx: EntityManager, seq: number, report: string, parts: readonly AffectedPart[]): Promise<void> {
  const [{ n }] = (await queryRows<{ n: number }>(tx, 'SELECT coalesce(max("part"), 0) AS "n" FROM "report_part" WHERE "report" = ?', [
    report,
  ])) as [{ n: number }];
  await insertRecords(
    tx,
    'report_part',
    parts.map((part, i) => ({ report, part: n + 1 + i, ...shown(part), since_seq: seq })),
  );
}

/** A signed rework or repair lets its part into a rework run, a concession in force lets it go; what is carried out or taken back does no more. */
const grant = (tx: EntityManager, seq: number, report: string, disposition: number, kinds: string): Promise<unknown> =>
  queryRows(tx, `UPDATE "disposition" SET "granted_seq" = ? WHERE "report" = ? AND "disposition" = ? AND "kind" IN (${kinds})`, [
    seq,
    report,
    disposition,
  ]);
const REWORKS = `'rework', 'repair'`;

const endRework = (tx: EntityManager, seq: number, report: string, disposition: number | null): Promise<unknown> =>
  queryRows(
    tx,
    `UPDATE "disposition" SET "ended_seq" = ?
     WHERE "report" = ? AND "kind" IN (${REWORKS}) AND "granted_seq" IS NOT NULL AND "ended_seq" IS NULL${disposition === null ? '' : ' AND "disposition" = ?'}`,
    disposition === null ? [seq, report] : [seq, report, disposition],
  );

const setDisposition = (tx: EntityManager, report: string, disposition: number, state: string): Promise<unknown> =>
  queryRows(tx, 'UPDATE "disposition" SET "state" = ? WHERE "report" = ? AND "disposition" = ?', [state, report, disposition]);

export const projectNonconformance = {
  async ReportRaised(tx: EntityManager, { seq, at, actor, fact }: Recorded<ReportRaised>): Promise<void> {
    await insertRecords(tx, 'report', [
      {
        code: fact.report,
        state: fact.state satisfies ReportState,
        severity: fact.severity,
        source: fact.source.kind,
        source_code: fact.source.code,
        requirement: fact.requirement,
        raised_by: actor,
        raised_at: at,
        raised_seq: seq,
        state_at: at,
      },
    ]);
    await insertParts(tx, seq, fact.report, fact.parts);
  },

  async ReportPartJudged(tx: EntityManager, entry: Recorded<ReportPartJudged>): Promise<void> {
    await move(tx, entry);
    if (entry.fact.affected) await insertParts(tx, entry.seq, entry.fact.report, [entry.fact.part]);
  },

  ReportContained: moveOnly,

  async ReportReviewed(tx: EntityManager, entry: Recorded<ReportReviewed>): Promise<void> {
    const { report, severity } = entry.fact;
    await move(tx, entry);
    // What was signed for another severity is no longer signed (NR-25).
    await queryRows(
      tx,
      `UPDATE "disposition" SET "state" = 'proposed', "granted_seq" = NULL WHERE "report" = ? AND "state" = 'signed'
       AND EXISTS (SELECT 1 FROM "report" r WHERE r."code" = ? AND r."severity" <> ?)`,
      [report, report, severity],
    );
    await queryRows(tx, 'UPDATE "report" SET "severity" = ? WHERE "code" = ?', [severity, report]);
  },

  async DispositionProposed(tx: EntityManager, entry: Recorded<DispositionProposed>): Promise<void> {
    const { report, disposition, terms } = entry.fact;
    await move(tx, entry);
    await insertRecords(tx, 'disposition', [
      {
        report,
        disposition,
        kind: terms.kind,
        state: 'proposed',
        ...shown(terms.part),
        authority: terms.concession?.authority ?? null,
        until: terms.concession?.until ?? null,
        since_seq: entry.seq,
      },
    ]);
  },

  async DispositionSigned(tx: EntityManager, entry: Recorded<DispositionSigned>): Promise<void> {
    const { report, disposition, complete } = entry.fact;
    await move(tx, entry);
    if (!complete) return;
    const [row] = await queryRows<{ state: string }>(tx, 'SELECT "state" FROM "disposition" WHERE "report" = ? AND "disposition" = ?', [
      report,
      disposition,
    ]);
    if (row?.state !== 'proposed') return; // signed anew after it was carried out
    await setDisposition(tx, report, disposition, 'signed');
    await grant(tx, entry.seq, report, disposition, REWORKS);
  },

  async DispositionWithdrawn(tx: EntityManager, entry: Recorded<DispositionWithdrawn>): Promise<void> {
    const { report, disposition } = entry.fact;
    await move(tx, entry);
    await setDisposition(tx, report, disposition, 'withdrawn');
    await endRework(tx, entry.seq, report, disposition);
  },

  async DispositionCarriedOut(tx: EntityManager, entry: Recorded<DispositionCarriedOut>): Promise<void> {
    const { report, disposition } = entry.fact;
    await move(tx, entry);
    await setDisposition(tx, report, disposition, 'carried-out');
    await endRework(tx, entry.seq, report, disposition);
    await grant(tx, entry.seq, report, disposition, `'concession'`);
  },

  async DispositionVerified(tx: EntityManager, entry: Recorded<DispositionVerified>): Promise<void> {
    await move(tx, entry);
    await setDisposition(tx, entry.fact.report, entry.fact.disposition, 'verified');
  },

  EffectivenessChecked: moveOnly,
  ReportClosed: moveOnly,

  async ReportWithdrawn(tx: EntityManager, entry: Recorded<ReportWithdrawn>): Promise<void> {
    await move(tx, entry);
    await endRework(tx, entry.seq, entry.fact.report, null);
  },

  ReportReopened: moveOnly,

  async ReviewRuleSet(tx: EntityManager, { seq, fact }: Recorded<ReviewRuleSet>): Promise<void> {
    await insertRecords(tx, 'review_rule', [{ since_seq: seq, rule: JSON.stringify(fact.rule), reason: fact.reason }]);
  },
};
