import type { EntityManager } from 'typeorm';
import { formatQuantity, MICRO } from '../../../../shared/quantity.js';
import { countPieces, formatSpans, intersectSpans, parseSpans, type SpanSet, unionSpans } from '../../../../shared/spans.js';
import { selectIn } from '../../platform/database/rows.js';
import { accountView } from './account-view.js';
import { accountsOf, addsUp } from './adds-up.decide.js';
import type { ConcessionView, DispositionsView, DispositionView } from './disposition-view.dto.js';
import { decisionState } from './disposition.query.js';
import { grantsOf } from './grants.query.js';
import type { Grant } from './grants.facts.js';
import type { AffectedPart } from './nonconformance.facts.js';
import type { Disposition, Report } from './report-state.facts.js';
import { signatureStanding } from './review-rule.decide.js';
import type { Signing } from './settle.decide.js';

interface LotOf {
  readonly id: number;
  readonly code: string;
  readonly item: string;
  readonly unit: string;
}

/** How a report is disposed of; undefined if there is none of that number. */
export async function dispositionsView(from: EntityManager, code: string): Promise<DispositionsView | undefined> {
  const decision = await decisionState(from, code, '');
  if (!decision) return undefined;
  const { report, signing } = decision;
  const lots = await selectIn<LotOf>(from, 'SELECT "id", "code", "item", "unit" FROM "lot" WHERE "code" IN (:list)', [
    ...new Set(report.affected.map((part) => part.lot)),
  ]);
  const byCode = new Map(lots.map((lot) => [lot.code, lot]));
  const left = await leftOf(from, report, lots);
  const accounts = accountsOf(report);
  return {
    report: report.report,
    state: report.state,
    accounts: accounts.map((account) => accountView(account, byCode.get(account.lot)!.unit)),
    addsUp: addsUp(accounts),
    dispositions: report.dispositions.map((one) =>
      viewOf(one, report, byCode.get(one.terms.part.lot)!, signing.get(one.disposition), left.get(one.disposition) ?? null),
    ),
  };
}

function viewOf(one: Disposition, report: Report, lot: LotOf, signing: Signing | undefined, left: number | null): DispositionView {
  const { kind, part, reason, adverseEffect, regradeTo, concession } = one.terms;
  const standing = signing === undefined ? undefined : signatureStanding(one, report, signing);
  const broken = new Set(standing?.broken ?? []);
  return {
    disposition: one.disposition,
    kind,
    state: stateOf(one, standing?.lacks ?? []),
    lot: part.lot,
    item: lot.item,
    unit: lot.unit,
    pieces: part.spans === null ? null : formatSpans(part.spans),
    quantity: formatQuantity(part.spans === null ? (part.quantityMicro ?? 0) : countPieces(part.spans) * MICRO),
    reason,
    adverseEffect,
    regradeTo,
    concession:
      concession === null ? null : ({ ...concession, left: left === null ? null : formatQuantity(left) } satisfies ConcessionView),
    proposedBy: one.proposedBy,
    proposedSeq: one.proposedSeq,
    signatures: one.signatures.map((entry) => ({
      by: entry.fact.signature.by,
      as: entry.fact.as,
      at: entry.fact.signature.at,
      meaning: entry.fact.signature.meaning,
      digest: entry.fact.digest,
      broken: broken.has(entry),
      seq: entry.seq,
    })),
    digest: signing?.digest ?? null,
    lacks: [...(standing?.lacks ?? [])],
    withdrawn: one.withdrawn,
    carriedOut: carriedOutView(one),
    verifiedBy: one.verifiedBy,
  };
}

function stateOf(one: Disposition, lacks: readonly string[]): DispositionView['state'] {
  if (one.withdrawn !== null) return 'withdrawn';
  if (one.verifiedBy !== null) return 'verified';
  if (one.carriedOut !== null) return 'carried-out';
  return lacks.length === 0 ? 'signed' : 'proposed';
}

function carriedOutView({ carriedOut }: Disposition): DispositionView['carriedOut'] {
  if (carriedOut === null) return null;
  const { evidence, sorted, opens, becomes, hold } = carriedOut.fact;
  const words = (part: AffectedPart | null): string | null =>
    part === null ? null : part.spans === null ? formatQuantity(part.quantityMicro ?? 0) : formatSpans(part.spans);
  return {
    by: carriedOut.actor,
    at: carriedOut.at,
    run: evidence.run,
    document: evidence.document,
    note: evidence.note,
    files: [...evidence.files],
    sorted: sorted === null ? null : { conforming: words(sorted.conforming), nonconforming: words(sorted.nonconforming) },
    opens,
    becomes,
    hold,
    seq: carriedOut.seq,
  };
}

/** How much may still go under each concession in force, in millionths: of pieces, those that are still here. */
async function leftOf(from: EntityManager, report: Report, lots: readonly LotOf[]): Promise<Map<number, number>> {
  const conceded = report.dispositions.filter((one) => one.terms.kind === 'concession' && one.carriedOut !== null);
  if (conceded.length === 0) return new Map();
  const grants = await grantsOf(from, lots);
  const here = await onHandPieces(from, lots);
  const left = new Map<number, number>();
  for (const { disposition, terms } of conceded) {
    const own = (grant: Grant): boolean => grant.report === report.report && grant.disposition === disposition;
    const grant = grants.get(terms.part.lot)?.find(own);
    if (grant === undefined) continue;
    left.set(
      disposition,
      grant.spans === null ? (grant.leftMicro ?? 0) : countPieces(intersectSpans(grant.spans, here.get(terms.part.lot) ?? [])) * MICRO,
    );
  }
  return left;
}

async function onHandPieces(from: EntityManager, lots: readonly LotOf[]): Promise<Map<string, SpanSet>> {
  const rows = await selectIn<{ lot_id: number; spans: string | null }>(
    from,
    `SELECT "lot_id", "spans" FROM "whereabout" WHERE "until_seq" IS NULL AND "fate" = 'on-hand' AND "lot_id" IN (:list)`,
    lots.map((lot) => lot.id),
  );
  const here = new Map<string, SpanSet>();
  for (const row of rows) {
    const { code } = lots.find((lot) => lot.id === row.lot_id)!;
    if (row.spans !== null) here.set(code, unionSpans(here.get(code) ?? [], parseSpans(row.spans)));
  }
  return here;
}
