import type { SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { Relation, Source } from './nonconformance.facts.js';
import type { ReportState } from './states.facts.js';

export class ReportLineView {
  report: string;
  state: ReportState;
  severity: SeverityClass;
  source: Source;
  sourceCode: string | null;
  requirement: string;
  lots: string[];
  raisedBy: string;
  raisedAt: string;
  raisedSeq: number;
  /** When it came to the state it is in. */
  stateAt: string;
}

export class ReportPartView {
  lot: string;
  item: string;
  unit: string;
  pieces: string | null;
  quantity: string;
}

export class JudgedPartView extends ReportPartView {
  relation: Relation;
  affected: boolean;
  reason: string;
  by: string;
  at: string;
}

export class AccountView {
  lot: string;
  unit: string;
  affected: string;
  disposed: string;
  carriedOut: string;
  open: string;
  /** Pieces without a disposition; null for a bulk lot. */
  openPieces: string | null;
  /** Disposed of twice, or not affected. */
  tooMany: string;
}

export class ReportHoldView {
  hold: string;
  lot: string;
  pieces: string | null;
  quantity: string | null;
}

export class ReviewView {
  investigate: boolean;
  investigateReason: string;
  inform: boolean;
  informReason: string;
  by: string;
  seq: number;
}

export class ReportConsigneeView {
  customer: string;
  affectedPieces: number;
  shipments: string[];
  told: ToldView[];
  answers: AnswerView[];
}

export class ToldView {
  at: string;
  channel: string;
  what: string;
  by: string;
}

export class AnswerView {
  at: string;
  answer: string;
  by: string;
}

export class DefectCountView {
  defect: string;
  count: number;
}

export class NextMoveView {
  to: ReportState;
  by: string;
  may: string[];
}

export class ReportView extends ReportLineView {
  found: string;
  defects: DefectCountView[];
  measured: string[];
  files: string[];
  foundBy: string;
  foundAt: string;
  parts: ReportPartView[];
  judged: JudgedPartView[];
  /** Affected against disposed, lot by lot. */
  accounts: AccountView[];
  addsUp: boolean;
  /** Open holds that count as the report's own. */
  holds: ReportHoldView[];
  contained: boolean;
  review: ReviewView | null;
  consignees: ReportConsigneeView[];
  /** Where it can go from here, and who may bring it there. */
  next: NextMoveView[];
  /** What practice and the law ask for beside the record. */
  caution: string | null;
}
