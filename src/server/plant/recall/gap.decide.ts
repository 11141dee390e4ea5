import { Reasons } from '../../../../shared/refusal.js';
import type { RecallGapClosed, RecallGapFound } from './progress.facts.js';
import type { Progress } from './progress-state.facts.js';

/**
 * What was found wanting becomes an action with an owner; also when the recall or drill is closed, for it is often found then.
 * @see docs/rules/recall.md RL-20
 */
export function decideGap(
  command: Pick<RecallGapFound, 'found' | 'action' | 'owner' | 'dueOn'>,
  state: { readonly progress: Progress; readonly ownerKnown: boolean },
): RecallGapFound {
  const no = new Reasons();
  const { found, action, owner, dueOn } = command;
  if (!state.ownerKnown) no.unknown('person-unknown', `no person ${owner} to own the action`, { pointer: '/owner' });
  no.throwIfAny();
  const { recall, gaps } = state.progress;
  return { kind: 'RecallGapFound', v: 1, recall, gap: gaps.length + 1, found, action, owner, dueOn };
}

/** @throws Refusal when there is no such gap, or it is closed */
export function decideGapDone(gap: number, done: string, { recall, gaps }: Progress): RecallGapClosed {
  const no = new Reasons();
  const known = gaps.find((one) => one.found.fact.gap === gap);
  if (!known) no.unknown('gap-unknown', `${recall} has no gap ${gap}`, { gap });
  if (known?.closed) no.conflict('gap-closed', `gap ${gap} was closed by entry ${known.closed.seq}`, { gap });
  no.throwIfAny();
  return { kind: 'RecallGapClosed', v: 1, recall, gap, done };
}
