import { Reasons } from '../../../../shared/refusal.js';
import type { Signature } from '../people/signature.js';
import { levelBRange } from './effectiveness.facts.js';
import { checkOpen } from './open.decide.js';
import type { RecallReportsLinked, RecallStrategySet, StrategyTerms } from './progress.facts.js';
import type { Progress } from './progress-state.facts.js';

/**
 * Sets the strategy of a recall, or sets it anew; the one before, and its class, stay in the record.
 * @param consignees how many there are now
 * @throws Refusal when level B has no number between 10 % and all, or another level is given one
 * @see docs/rules/recall.md RL-12
 */
export function decideStrategy(
  terms: StrategyTerms,
  reason: string,
  state: { readonly progress: Progress; readonly consignees: number },
  signature: Signature,
): RecallStrategySet {
  const no = new Reasons();
  checkOpen(no, state.progress);
  checkSample(no, terms, state.consignees);
  no.throwIfAny();
  return { kind: 'RecallStrategySet', v: 1, recall: state.progress.recall, terms, reason, signature };
}

function checkSample(no: Reasons, { level, sampleSize }: StrategyTerms, consignees: number): void {
  const pointer = '/sampleSize';
  if (level !== 'B') {
    if (sampleSize !== null) no.malformed('sample-size-not-asked', `level ${level} gives the number itself: leave it out`, { pointer });
    return;
  }
  const range = levelBRange(consignees);
  if (range === undefined) {
    no.conflict('level-b-impossible', `no number of ${consignees} consignees is more than 10 % and less than all: choose another level`, {
      pointer: '/level',
      consignees,
    });
  } else if (sampleSize === null || sampleSize < range.least || sampleSize > range.most) {
    no.malformed('sample-size-wrong', `level B of ${consignees} consignees asks for a number from ${range.least} to ${range.most}`, {
      pointer,
      ...range,
    });
  }
}

/**
 * The reports a recall comes from.
 * @param known those of them that there are
 * @throws Refusal naming every report that is not there
 */
export function decideLinkReports(recall: string, reports: readonly string[], known: ReadonlySet<string>): RecallReportsLinked {
  const no = new Reasons();
  for (const [i, report] of reports.entries()) {
    if (!known.has(report)) no.unknown('report-unknown', `no nonconformance report ${report}`, { report, pointer: `/reports/${i}` });
  }
  no.throwIfAny();
  return { kind: 'RecallReportsLinked', v: 1, recall, reports: reports.map((report) => ({ report })) };
}
