import type { EntityManager } from 'typeorm';
import { canonicalJson } from '../../../../shared/canonical-json.js';
import { sha256 } from '../../ledger/append.js';
import { selectIn } from '../../platform/database/rows.js';
import { makersOf } from '../release/release.query.js';
import { openHoldsOf } from './report-holds.query.js';
import { reportState } from './report.query.js';
import type { Disposition, Report } from './report-state.facts.js';
import { reviewRules, ruleAt } from './review-rule.query.js';
import { type DecisionState, type Signing, standingOf } from './settle.decide.js';

/**
 * SHA-256 of what a signature on a disposition means: its terms, and the severity and requirement they answer. One of them changed, and the
 * signature shows as broken.
 * @see docs/rules/nonconformance.md NR-25
 */
export const digestOf = ({ report, severity, raised }: Report, { disposition, terms }: Disposition): string =>
  sha256(canonicalJson({ report, disposition, terms, severity, requirement: raised.fact.requirement }));

/** What the signatures of each standing disposition are judged by. */
export async function signingOf(tx: EntityManager, report: Report): Promise<Map<number, Signing>> {
  const standing = standingOf(report);
  const rules = await reviewRules(tx);
  const makers = await makersOfLots(
    tx,
    standing.map((one) => one.terms.part.lot),
  );
  return new Map(
    standing.map((one) => [
      one.disposition,
      { rule: ruleAt(rules, one.proposedSeq).rule, digest: digestOf(report, one), makers: makers.get(one.terms.part.lot) ?? [] },
    ]),
  );
}

async function makersOfLots(tx: EntityManager, lots: readonly string[]): Promise<Map<string, string[]>> {
  const rows = await selectIn<{ code: string; born_seq: number; source: string }>(
    tx,
    'SELECT "code", "born_seq", "source" FROM "lot" WHERE "code" IN (:list)',
    [...new Set(lots)],
  );
  const makers = new Map<string, string[]>();
  for (const row of rows) makers.set(row.code, await makersOf(tx, row.born_seq, row.source));
  return makers;
}

/** What every decision on the dispositions of a report rests on; undefined if there is no report of that number. */
export async function decisionState(tx: EntityManager, code: string, actor: string): Promise<DecisionState | undefined> {
  const report = await reportState(tx, code);
  if (!report) return undefined;
  return { report, signing: await signingOf(tx, report), holds: await openHoldsOf(tx, report), actor };
}
