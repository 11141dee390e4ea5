import type { SpanSet } from '../../../../shared/spans.js';
import type { Signature } from '../people/signature.js';
import type { PlantFact } from '../stock/effects.facts.js';
import type { RecallOpened, RecallRescoped } from './recall.facts.js';

/** 21 CFR 7.3(m): I serious harm or death reasonably probable, II temporary or reversible or remote, III not likely. */
export const CLASSES = ['I', 'II', 'III'] as const;
export type RecallClass = (typeof CLASSES)[number];

/** How far down the chain goods are called back (21 CFR 7.42(b)(1)). */
export const DEPTHS = ['consumer', 'retail', 'wholesale'] as const;
export type Depth = (typeof DEPTHS)[number];

/** Share of consignees asked whether they got the notice and acted (21 CFR 7.42(b)(3)). */
export const LEVELS = ['A', 'B', 'C', 'D', 'E'] as const;
export type Level = (typeof LEVELS)[number];

export const CHANNELS = ['letter', 'email', 'telephone', 'visit', 'public-warning'] as const;
export type Channel = (typeof CHANNELS)[number];

export const CHECK_METHODS = ['visit', 'telephone', 'letter', 'email'] as const;
export type CheckMethod = (typeof CHECK_METHODS)[number];

/** The six answers of a hazard evaluation (21 CFR 7.41(a)). */
interface HazardEvaluation {
  /** Illness or injuries that have happened. */
  readonly injuries: string;
  /** Conditions that make harm more likely. */
  readonly conditions: string;
  /** Who is exposed, the most vulnerable included. */
  readonly exposed: string;
  readonly seriousness: string;
  readonly likelihood: string;
  /** At once and in the long run. */
  readonly consequences: string;
}

export interface StrategyTerms {
  readonly evaluation: HazardEvaluation;
  readonly class: RecallClass;
  readonly classReason: string;
  readonly depth: Depth;
  readonly publicWarning: { readonly needed: boolean; readonly reason: string };
  readonly level: Level;
  /** Consignees to ask at level B, decided case by case; null at every other level. */
  readonly sampleSize: number | null;
  /** Calendar date by which it is expected to be complete. */
  readonly completionOn: string | null;
  /** Days between status reports. */
  readonly reportEveryDays: number;
}

/** The strategy is set, or set anew; earlier ones, and with them earlier classes, stay in the record. */
export type RecallStrategySet = PlantFact & {
  readonly kind: 'RecallStrategySet';
  readonly v: 1;
  readonly recall: string;
  readonly terms: StrategyTerms;
  /** Why it is so, or why it changes. */
  readonly reason: string;
  readonly signature: Signature;
};

/** Nonconformance reports that the recall comes from. */
export type RecallReportsLinked = PlantFact & {
  readonly kind: 'RecallReportsLinked';
  readonly v: 1;
  readonly recall: string;
  readonly reports: readonly { readonly report: string }[];
};

/** What a notice says, in its parts (21 CFR 7.49). */
export interface NoticeParts {
  readonly subject: string;
  /** Product, size, lots, codes or serials. */
  readonly product: string;
  /** Reason and hazard. */
  readonly hazard: string;
  /** Stop distributing or using it. */
  readonly stop: string;
  /** What to do with the product. */
  readonly action: string;
  /** Pass it on to whoever got the product from you; null where consignees are the last in the chain. */
  readonly passOn: string | null;
  /** How to reply. */
  readonly replyTo: string;
}

/** A version of what notices say. */
export type RecallNoticeWritten = PlantFact & {
  readonly kind: 'RecallNoticeWritten';
  readonly v: 1;
  readonly recall: string;
  readonly version: number;
  readonly parts: NoticeParts;
};

/** A notice goes to a consignee, or to the public. Its time is that of the entry: captured, not typed. */
export type RecallNoticeSent = PlantFact & {
  readonly kind: 'RecallNoticeSent';
  readonly v: 1;
  readonly recall: string;
  readonly notice: number;
  /** Null: to the public. */
  readonly customer: string | null;
  readonly channel: Channel;
  /** Version of its content, and that content as it went out. */
  readonly version: number;
  readonly content: string;
  /** Calendar date on which the consignee is asked again if it has not answered by then; null for the public. */
  readonly nextContactOn: string | null;
};

/** Pieces of a numbered lot, or a quantity of a bulk one in whole millionths; for pieces the quantity is their number in millionths. */
export interface Part {
  readonly spans: SpanSet | null;
  readonly quantityMicro: number;
}

/** A consignee's reply form. */
export type RecallAnswered = PlantFact & {
  readonly kind: 'RecallAnswered';
  readonly v: 1;
  readonly recall: string;
  readonly customer: string;
  /** Whether each instruction was followed; null where the notice did not give it. */
  readonly followed: { readonly stopped: boolean; readonly acted: boolean; readonly passedOn: boolean | null };
  readonly onHand: readonly (Part & { readonly lot: string })[];
  /** Who signed the reply at the consignee, as written there. */
  readonly signedBy: string;
  readonly answeredOn: string;
  readonly note: string | null;
};

/** What became of goods at a consignee without coming back here; goods that come back are booked as a return. */
export const OUTCOMES = ['destroyed', 'corrected', 'soldOn'] as const;
export type Outcome = (typeof OUTCOMES)[number];

/** All that a consignee has accounted for of one lot so far: takes the place of the statement before. */
export type RecallAccounted = PlantFact & {
  readonly kind: 'RecallAccounted';
  readonly v: 1;
  readonly recall: string;
  readonly customer: string;
  readonly lot: string;
  readonly outcomes: Readonly<Record<Outcome, Part>>;
  /** What shows it: a certificate, a reply, a list of serials. */
  readonly evidence: string;
};

/** Somebody asked a consignee whether it got the notice and acted on it. */
export type RecallEffectivenessChecked = PlantFact & {
  readonly kind: 'RecallEffectivenessChecked';
  readonly v: 1;
  readonly recall: string;
  readonly customer: string;
  readonly method: CheckMethod;
  /** Had the notice reached those who were to act. */
  readonly reached: boolean;
  readonly followed: boolean;
  readonly note: string;
};

/** What was found wanting, as often in a drill, and who puts it right. */
export type RecallGapFound = PlantFact & {
  readonly kind: 'RecallGapFound';
  readonly v: 1;
  readonly recall: string;
  readonly gap: number;
  readonly found: string;
  readonly action: string;
  readonly owner: string;
  readonly dueOn: string;
};

export type RecallGapClosed = PlantFact & {
  readonly kind: 'RecallGapClosed';
  readonly v: 1;
  readonly recall: string;
  readonly gap: number;
  readonly done: string;
};

export const CLOSERS = ['recall-lead', 'quality'] as const;
export type Closer = (typeof CLOSERS)[number];

/** One of the two signatures that close a recall. */
export type RecallClosingSigned = PlantFact & {
  readonly kind: 'RecallClosingSigned';
  readonly v: 1;
  readonly recall: string;
  readonly as: Closer;
  /** SHA-256 of the status as signed: if the status changes, the first signature counts no more. */
  readonly status: string;
  /** What was outstanding when it was signed, and why it is closed nevertheless. */
  readonly outstanding: readonly string[];
  readonly nevertheless: string | null;
  readonly reason: string;
  readonly signature: Signature;
  /** True for the second of two signatures of the same status. */
  readonly closes: boolean;
};

export type ProgressFact =
  | RecallOpened
  | RecallRescoped
  | RecallStrategySet
  | RecallReportsLinked
  | RecallNoticeWritten
  | RecallNoticeSent
  | RecallAnswered
  | RecallAccounted
  | RecallEffectivenessChecked
  | RecallGapFound
  | RecallGapClosed
  | RecallClosingSigned;
