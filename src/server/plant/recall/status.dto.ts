import { Type } from 'class-transformer';
import { IsInt, IsOptional, Min } from 'class-validator';
import type { Channel, CheckMethod, Closer, Depth, Level, RecallClass } from './progress.facts.js';
import type { RecallType } from './recall.facts.js';

export class RecallStatusDto {
  /** Ledger entry as known at which the status is told; left out: everything recorded. */
  @IsOptional()
  @Type(() => Number)
  @IsInt()
  @Min(1)
  asKnownAt?: number;
}

export class KnownEntryView {
  seq: number;
  at: string;
  hash: string;
}

export class HazardEvaluationView {
  injuries: string;
  conditions: string;
  exposed: string;
  seriousness: string;
  likelihood: string;
  consequences: string;
}

export class PublicWarningView {
  needed: boolean;
  reason: string;
}

export class RecallStrategyView {
  seq: number;
  at: string;
  by: string;
  evaluation: HazardEvaluationView;
  class: RecallClass;
  classReason: string;
  depth: Depth;
  publicWarning: PublicWarningView;
  level: Level;
  sampleSize: number | null;
  completionOn: string | null;
  reportEveryDays: number;
  reason: string;
  meaning: string;
}

export class NoticeTextView {
  version: number;
  seq: number;
  at: string;
  by: string;
  /** The notice as it would go out now. */
  content: string;
}

export class NoticeView {
  notice: number;
  seq: number;
  at: string;
  by: string;
  customer: string | null;
  channel: Channel;
  version: number;
  content: string;
  nextContactOn: string | null;
}

export class AccountPartView {
  spans: number[][] | null;
  /** Decimal in the unit; for pieces their number. */
  quantity: string;
}

export class OnHandView extends AccountPartView {
  lot: string;
}

export class RecallAnswerView {
  seq: number;
  at: string;
  by: string;
  stopped: boolean;
  acted: boolean;
  passedOn: boolean | null;
  onHand: OnHandView[];
  signedBy: string;
  answeredOn: string;
  note: string | null;
}

/** sent = cameBack + destroyed + corrected + soldOn + outstanding. */
export class LotAccountView {
  lot: string;
  unit: string;
  sent: AccountPartView;
  /** By the returns booked here. */
  cameBack: AccountPartView;
  destroyed: AccountPartView;
  corrected: AccountPartView;
  soldOn: AccountPartView;
  outstanding: AccountPartView;
  /** Accounted for although it was not sent or came back. */
  contradicted: AccountPartView;
}

export class RecallCheckView {
  seq: number;
  at: string;
  by: string;
  method: CheckMethod;
  reached: boolean;
  followed: boolean;
  note: string;
}

export class ConsigneeStatusView {
  customer: string;
  name: string;
  contact: string | null;
  notices: NoticeView[];
  answer: RecallAnswerView | null;
  lots: LotAccountView[];
  check: RecallCheckView | null;
}

export class SilentConsigneeView {
  customer: string;
  name: string;
  contact: string | null;
  lastNoticeAt: string;
  nextContactOn: string;
  /** Whether that day had come when the entry was recorded as known at which this is told. */
  due: boolean;
}

export class NotifiedView {
  consignees: number;
  notified: number;
  notNotified: string[];
  publicNotices: NoticeView[];
}

export class UnitQuantityView {
  unit: string;
  quantity: string;
}

export class RepliedView {
  replied: number;
  onHand: UnitQuantityView[];
}

export class GoodsView {
  unit: string;
  sent: string;
  cameBack: string;
  destroyed: string;
  corrected: string;
  soldOn: string;
  outstanding: string;
  contradicted: string;
  /** Per cent of what was sent: came back, destroyed or corrected. */
  recovered: string;
  /** Per cent of what was sent: that, and sold on. */
  accounted: string;
}

export class RecallChecksView {
  level: Level | null;
  /** Consignees the level asks for. */
  needed: number;
  checked: number;
  reached: number;
  followed: number;
}

export class CompletionView {
  estimatedOn: string | null;
  /** When the next status report is due. */
  nextReportOn: string | null;
}

export class RecordShareView {
  unit: string;
  affected: string;
  accounted: string;
  /** More than there was: an error. */
  over: string;
  /** Per cent, rounded down. */
  share: string;
}

export class MeasuredTimeView {
  at: string;
  /** Seconds since the recall was opened. */
  seconds: number;
}

export class DrillClockView {
  seconds: number;
  running: boolean;
  targetSeconds: number;
  withinTarget: boolean;
}

export class RecallTimesView {
  openedAt: string;
  /** When the scope now acted on was frozen. */
  scope: MeasuredTimeView;
  /** The start of the recall: the first notice to a consignee or the public. */
  firstNotice: MeasuredTimeView | null;
  /** When everything sent was accounted for, and has been since. */
  reconciliation: MeasuredTimeView | null;
  closing: MeasuredTimeView | null;
  drill: DrillClockView | null;
}

export class GapView {
  gap: number;
  seq: number;
  found: string;
  action: string;
  owner: string;
  dueOn: string;
  done: string | null;
  doneAt: string | null;
}

export class ClosingSignatureView {
  seq: number;
  at: string;
  by: string;
  as: Closer;
  reason: string;
  meaning: string;
  outstanding: string[];
  nevertheless: string | null;
  closes: boolean;
  /** Whether it signs the status as it is; false once that changed. */
  stands: boolean;
}

export class OutstandingView {
  code: string;
  detail: string;
}

/** The status of a recall as known at one ledger entry: asked again as known there, it is the same. */
export class RecallProgressView {
  recall: string;
  title: string;
  type: RecallType;
  drill: boolean;
  status: 'open' | 'closed';
  asKnownAt: KnownEntryView;
  /** Version of the scope. */
  version: number;
  reports: string[];
  /** The one that counts. */
  strategy: RecallStrategyView | null;
  /** All of them, first to last: how the class came to be. */
  strategies: RecallStrategyView[];
  texts: NoticeTextView[];
  notified: NotifiedView;
  replied: RepliedView;
  silent: SilentConsigneeView[];
  goods: GoodsView[];
  effectiveness: RecallChecksView;
  completion: CompletionView;
  consignees: ConsigneeStatusView[];
  record: RecordShareView[];
  times: RecallTimesView;
  gaps: GapView[];
  outstanding: OutstandingView[];
  signatures: ClosingSignatureView[];
}
