import type { SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { DispositionKind } from './disposition.facts.js';
import type { ActionKind, CauseCategory, CostKind } from './learning.facts.js';
import type { ReportState } from './states.facts.js';

export class RecordedView {
  by: string;
  at: string;
  seq: number;
}

export class CauseView extends RecordedView {
  whys: string[];
  categories: CauseCategory[];
  conclusion: string;
}

export class ActionDoneView extends RecordedView {
  evidence: string;
  files: string[];
}

export class ActionView extends RecordedView {
  action: number;
  kind: ActionKind;
  what: string;
  owner: string;
  dueOn: string;
  done: ActionDoneView | null;
  /** Not done, and its day is past. */
  overdue: boolean;
}

export class CheckedView extends RecordedView {
  effective: boolean;
  harm: string;
  evidence: string;
  files: string[];
  reason: string;
  /** What the signature means. */
  meaning: string;
  /** Whether the check closed the report. */
  closed: boolean;
}

export class CorrectiveCheckView extends RecordedView {
  criterion: string;
  checkOn: string;
  checked: CheckedView | null;
  /** Another criterion was set before anybody checked by this one. */
  replaced: boolean;
  /** Not checked, and its day is past. */
  overdue: boolean;
}

export class CostView extends RecordedView {
  disposition: number | null;
  kind: CostKind;
  minor: number;
  note: string | null;
}

export class CostOfKindView {
  kind: CostKind;
  minor: number;
}

export class CostOfDispositionView {
  /** Null: of the report as a whole. */
  disposition: number | null;
  dispositionKind: DispositionKind | null;
  minor: number;
}

export class CostsView {
  entries: CostView[];
  byKind: CostOfKindView[];
  byDisposition: CostOfDispositionView[];
  totalMinor: number;
}

export class SharedMarkView {
  what: 'item' | 'supplier' | 'defect' | 'vessel' | 'instrument' | 'cause';
  code: string;
}

export class RepeatView {
  report: string;
  state: ReportState;
  severity: SeverityClass;
  requirement: string;
  raisedAt: string;
  /** What it has in common with this one. */
  because: SharedMarkView[];
}

export class LackingView {
  code: string;
  detail: string;
}

/** What a report taught the plant. */
export class LearningView {
  report: string;
  state: ReportState;
  /** Whether it closes only when the cause was dealt with. */
  asked: boolean;
  /** What of that is not there yet. */
  lacking: LackingView[];
  /** The analysis that counts: the last. */
  cause: CauseView | null;
  actions: ActionView[];
  /** Every criterion that was set, first to last; the last counts. */
  effectiveness: CorrectiveCheckView[];
  costs: CostsView;
  /** ISO 4217. */
  currency: string;
  /** Decimals of its minor unit. */
  minorDigits: number;
  /** Other reports that have something in common with this one: most first, then the latest. */
  repeats: RepeatView[];
}
