import { IsIn, IsOptional } from 'class-validator';
import type { Severity } from '../../../../shared/sampling/tables.js';
import { SignedCommandDto } from '../../platform/http/command.dto.js';
import { IsCode } from '../../platform/http/fields.js';
import { type AskedSwitching, SWITCHING_DECISIONS } from './switching.decide.js';

export class SwitchingQueryDto {
  @IsOptional()
  @IsCode()
  item?: string;

  @IsOptional()
  @IsCode()
  supplier?: string;
}

export class SwitchingHistoryQueryDto {
  @IsCode()
  item: string;

  /** Left out: every supplier, and what is made here. */
  @IsOptional()
  @IsCode()
  supplier?: string;

  @IsOptional()
  @IsIn(['major', 'minor'])
  class?: 'major' | 'minor';
}

export class DecideSwitchingDto extends SignedCommandDto {
  @IsCode()
  item: string;

  /** Left out: what is made here. */
  @IsOptional()
  @IsCode()
  supplier?: string;

  /** Left out: every class of the plan that the decision can be taken for. */
  @IsOptional()
  @IsIn(['major', 'minor'])
  class?: 'major' | 'minor';

  @IsIn(SWITCHING_DECISIONS)
  decision: AskedSwitching;

  /** The severity a `start` is under. */
  @IsOptional()
  @IsIn(['normal', 'tightened', 'reduced'])
  severity?: Severity;
}

/** One sentence on why, with the clause of ISO 2859-1:1999 or the convention it follows. */
export class SwitchingReasonView {
  rule: string;
  words: string;
}

export class ReducedConditionView extends SwitchingReasonView {
  met: boolean;
}

/** The conditions for reduced inspection (9.3.3), each with whether it holds. */
export class TowardsReducedView {
  can: boolean;
  conditions: ReducedConditionView[];
}

/** How strict the next lot of an item from a supplier is inspected for one class, and why. */
export class SwitchingStateView {
  item: string;
  /** Null: made here. */
  supplier: string | null;
  class: 'major' | 'minor';
  /** The plan the history belongs to, as `single II 1.0 items`. */
  plan: string;
  /** Whether it is the plan of the item now: the history of an earlier plan is kept and goes on no further. */
  inForce: boolean;
  severity: 'normal' | 'tightened' | 'reduced' | 'discontinued';
  /** Lots that counted since the very start. */
  lotsCounted: number;
  score: number;
  /** Whether each of the last five lots of this normal period was accepted, oldest first. */
  recent: boolean[];
  acceptedInARow: number;
  /** Lots not accepted in this tightened period. */
  notAccepted: number;
  steady: boolean;
  reducedDesirable: boolean;
  because: SwitchingReasonView[];
  /** Entry that brought this state about; null while nothing has counted or been decided. */
  since: number | null;
  reduced: TowardsReducedView;
}

/** One step of a history: the state after it, what brought it about, and why. */
export class SwitchingStepView {
  item: string;
  supplier: string | null;
  class: 'major' | 'minor';
  plan: string;
  seq: number;
  at: string;
  by: string;
  before: 'normal' | 'tightened' | 'reduced' | 'discontinued';
  after: 'normal' | 'tightened' | 'reduced' | 'discontinued';
  score: number;
  /** The inspection whose verdict it was; null: a decision. */
  inspection: string | null;
  lot: string | null;
  verdict: 'accepted' | 'not-accepted' | null;
  /** What quality decided, in words. */
  decision: string | null;
  /** Why quality decided so. */
  reason: string | null;
  because: SwitchingReasonView[];
}
