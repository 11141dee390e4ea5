import { Reasons } from '../../../../shared/refusal.js';
import type { FrozenScope, RecallOpened, RecallRescoped, RecallType } from './recall.facts.js';

export interface OpenRecall {
  readonly title: string;
  readonly type: RecallType;
  readonly drill: boolean;
  readonly what?: string | undefined;
  readonly reason: string;
  readonly hazard?: string | undefined;
  readonly instruction?: string | undefined;
  readonly contact?: string | undefined;
}

/** What opening a recall, or changing its scope, rests on. */
export interface RecallState {
  readonly recall: string;
  readonly scope: FrozenScope;
  /** Customers that affected goods of the chosen scope went to, whether or not some came back. */
  readonly consignees: readonly string[];
}

/**
 * Opens a recall with its scope frozen.
 * @throws Refusal if it is called a stock recovery although goods left the plant's control
 * @see docs/rules/recall.md RL-1 to RL-4
 */
export function decideOpenRecall(command: OpenRecall, state: RecallState): RecallOpened {
  const no = new Reasons();
  checkType(no, command.type, state, '/type');
  no.throwIfAny();
  const { title, type, drill, reason, hazard, instruction, contact } = command;
  const { recall, scope } = state;
  return {
    kind: 'RecallOpened',
    v: 1,
    recall,
    title,
    type,
    drill,
    what: command.what ?? title,
    reason,
    hazard,
    instruction,
    contact,
    scope,
  };
}

/**
 * Traces the scope of a recall again and freezes it as its next version.
 * @throws Refusal if a stock recovery would come to hold goods that left
 * @see docs/rules/recall.md RL-5
 */
export function decideRescope(
  reason: string,
  state: RecallState & { readonly type: RecallType; readonly version: number },
): RecallRescoped {
  const no = new Reasons();
  checkType(no, state.type, state, '/origin');
  no.throwIfAny();
  return { kind: 'RecallRescoped', v: 1, recall: state.recall, version: state.version + 1, reason, scope: state.scope };
}

/** Stock recovery is the word for goods that never left the plant's control (21 CFR 7.3(k)). */
function checkType(no: Reasons, type: RecallType, state: RecallState, pointer: string): void {
  if (type !== 'stock-recovery' || state.consignees.length === 0) return;
  no.conflict('left-our-control', `affected goods went to ${state.consignees.join(', ')}: this is a recall, not a stock recovery`, {
    pointer,
    customers: state.consignees,
  });
}
