import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import { type ReviewRule, USUAL_RULE } from './review-rule.decide.js';

/** The review rule since an entry, with who set it; the usual one has stood since before the first entry. */
export interface RuleSince {
  readonly sinceSeq: number;
  readonly rule: ReviewRule;
  readonly reason: string | null;
  readonly by: string | null;
  readonly at: string | null;
}

/** Every rule the plant has had, oldest first. */
export async function reviewRules(tx: EntityManager): Promise<RuleSince[]> {
  const rows = await queryRows<{ since_seq: number; rule: string; reason: string; actor: string; at: string }>(
    tx,
    `SELECT q."since_seq", q."rule", q."reason", e."actor", e."at" FROM "review_rule" q JOIN "ledger_entry" e ON e."seq" = q."since_seq"
     ORDER BY q."since_seq"`,
  );
  return [
    { sinceSeq: 0, rule: USUAL_RULE, reason: null, by: null, at: null },
    ...rows.map((row) => ({
      sinceSeq: row.since_seq,
      rule: JSON.parse(row.rule) as ReviewRule,
      reason: row.reason,
      by: row.actor,
      at: row.at,
    })),
  ];
}

/** The rule that stood at an entry. @see docs/rules/nonconformance.md NR-23 */
export const ruleAt = (rules: readonly RuleSince[], seq: number): RuleSince => rules.findLast((rule) => rule.sinceSeq <= seq)!;
