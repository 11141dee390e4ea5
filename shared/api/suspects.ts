import type { WireSpan } from './trace.js';

/** The wire shape of a ranking of suspects, as `POST /api/trace/suspects` answers it. */

/** What may be to blame. `supplier-lot` stands for all lots received under it, `vessel` for a time between two cleanings, `instrument` for one between two calibrations. */
export const SUSPECT_KINDS = ['lot', 'supplier-lot', 'run', 'vessel', 'line', 'instrument', 'person'] as const;
export type SuspectKind = (typeof SUSPECT_KINDS)[number];

export interface Suspect {
  readonly kind: SuspectKind;
  readonly code: string;
  /** Of a lot. */
  readonly item: string | null;
  /** Of a supplier's lot. */
  readonly supplier: string | null;
  /** Of a vessel or an instrument: the cleaning or calibration before and after; null where there was none. */
  readonly from: string | null;
  readonly until: string | null;
  readonly words: string;
}

/** How many times the odds of failing are for what is exposed. */
export interface SuspectOdds {
  /** Conditional maximum likelihood; null: without end, as nothing that was not exposed failed, or all that was exposed did. */
  readonly estimate: number | null;
  readonly lower: number;
  /** Null: without end. */
  readonly upper: number | null;
  readonly confidence: number;
}

/** Suspects that exactly the same pieces of the population were exposed to: nothing in the record tells them apart. */
export interface SuspectGroup {
  /** 1 is the most over-represented; equals share a rank. */
  readonly rank: number;
  readonly suspects: readonly Suspect[];
  readonly exposed: number;
  readonly exposedFailed: number;
  readonly exposedSound: number;
  readonly unexposedFailed: number;
  readonly unexposedSound: number;
  /** How many of the failed would be exposed if it made no difference. */
  readonly expectedFailed: number;
  /** Fisher's exact test, one-sided; 0 where it is less than a number can hold. */
  readonly p: number;
  /** Its logarithm to base 10, which does not end there. */
  readonly log10P: number;
  /** Adjusted by Holm for how many groups were tested. */
  readonly adjustedP: number;
  /** Whether the adjusted p is at most 0.05. */
  readonly beyondChance: boolean;
  readonly odds: SuspectOdds;
  readonly says: string;
}

interface SuspectsPart {
  readonly lot: string;
  readonly spans: readonly WireSpan[];
}

export interface SuspectsAnswer {
  readonly asKnownAt: { readonly seq: number; readonly at: string | null };
  readonly population: readonly SuspectsPart[];
  readonly failed: readonly SuspectsPart[];
  readonly totals: {
    readonly pieces: number;
    readonly failed: number;
    /** Candidates that any piece of the population was exposed to. */
    readonly candidates: number;
    /** Groups of them that could be told apart and were tested. */
    readonly tested: number;
    /** How many of those are listed. */
    readonly listed: number;
    readonly beyondChance: number;
  };
  /** The most over-represented first. */
  readonly groups: readonly SuspectGroup[];
  /** Every piece was exposed to these, the sound ones too: this population cannot say anything about them. */
  readonly everywhere: readonly Suspect[];
  readonly assumptions: readonly string[];
  readonly caution: string;
}
