import type { Reasons } from '../../../../shared/refusal.js';
import type { ConsigneeAccount } from './consignee-accounts.facts.js';
import type { Progress } from './progress-state.facts.js';

/** What a command about a recall under way rests on. */
export interface RecallKnown {
  readonly progress: Progress;
  /** The consignees of the latest scope, as known now. */
  readonly consignees: readonly ConsigneeAccount[];
  /** The time of the command. */
  readonly at: string;
}

/** @see docs/rules/recall.md RL-18 */
export function checkOpen(no: Reasons, { recall, closed }: Progress): void {
  if (closed === null) return;
  no.conflict('recall-closed', `${recall} was closed by entry ${closed.seq}: open another one for what is found since`, {
    recall,
    entry: closed.seq,
  });
}

/**
 * Nobody outside is told of a drill, so nobody can have answered.
 * @see docs/rules/recall.md RL-10
 */
export function checkNoDrill(no: Reasons, { recall, opened }: Progress): void {
  if (!opened.fact.drill) return;
  no.conflict('drill-sends-nothing', `${recall} is a drill: no consignee is told, and none can have answered`, { recall });
}

/** The account of a customer that was sent affected goods; says so when it was not. */
export function checkConsignee(no: Reasons, { progress, consignees }: RecallKnown, customer: string): ConsigneeAccount | undefined {
  const found = consignees.find((one) => one.customer === customer);
  if (!found) {
    no.conflict('not-a-consignee', `${customer} was sent nothing that ${progress.recall} affects`, { customer, pointer: '/customer' });
  }
  return found;
}

export function checkNotified(no: Reasons, { progress }: RecallKnown, customer: string): void {
  if (progress.notices.some(({ fact }) => fact.customer === customer)) return;
  no.conflict('not-notified', `${customer} was sent no notice of ${progress.recall}`, { customer, pointer: '/customer' });
}
