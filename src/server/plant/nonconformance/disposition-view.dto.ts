import type { Role } from '../people/people.facts.js';
import { type ConcessionTerms, type DispositionKind } from './disposition.facts.js';
import { AccountView } from './report-view.dto.js';
import type { ReportState } from './states.facts.js';

export class ConcessionView {
  authority: ConcessionTerms['authority'];
  authorisedBy: string;
  reference: string;
  until: string;
  /** How much of it may still go; null while it is not in force. */
  left: string | null;
}

export class DispositionSignatureView {
  by: string;
  as: Role;
  at: string;
  meaning: string;
  /** SHA-256 of what was signed: terms, severity and requirement. */
  digest: string;
  /** What was signed has changed since: it counts no more. */
  broken: boolean;
  seq: number;
}

export class SortedView {
  conforming: string | null;
  nonconforming: string | null;
}

export class CarriedOutView {
  by: string;
  at: string;
  run: string | null;
  document: string | null;
  note: string;
  files: string[];
  sorted: SortedView | null;
  /** Rework and repair: the inspection that was opened. */
  opens: string | null;
  /** The lot the pieces are now. */
  becomes: string | null;
  /** Concession: the hold that marks what is under it. */
  hold: string | null;
  seq: number;
}

export class DispositionView {
  disposition: number;
  kind: DispositionKind;
  state: 'proposed' | 'signed' | 'carried-out' | 'verified' | 'withdrawn';
  lot: string;
  item: string;
  unit: string;
  pieces: string | null;
  quantity: string;
  reason: string;
  adverseEffect: string | null;
  regradeTo: string | null;
  concession: ConcessionView | null;
  proposedBy: string;
  proposedSeq: number;
  signatures: DispositionSignatureView[];
  /** SHA-256 of what would be signed now; null once it was taken back. */
  digest: string | null;
  /** What signatures it waits for, in words. */
  lacks: string[];
  /** Why it was taken back. */
  withdrawn: string | null;
  carriedOut: CarriedOutView | null;
  verifiedBy: string | null;
}

/** How a report is disposed of: the account, and each disposition with its signatures and evidence. */
export class DispositionsView {
  report: string;
  state: ReportState;
  accounts: AccountView[];
  addsUp: boolean;
  dispositions: DispositionView[];
}

export class KindRuleView {
  disposition: DispositionKind;
  functions: Role[];
  signers: number;
}

export class ReviewRuleView {
  rules: KindRuleView[];
  /** Ledger entry that set it; 0 for the usual rule. */
  sinceSeq: number;
  reason: string | null;
  by: string | null;
  at: string | null;
}
