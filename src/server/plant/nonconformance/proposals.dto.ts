import type { Relation } from './nonconformance.facts.js';

/** A part that may be affected too. */
export class ProposalView {
  lot: string;
  item: string;
  /** Null: a bulk lot. */
  pieces: string | null;
  relation: Relation;
  /** Why it is proposed, in words. */
  because: string;
  /** Whether any of it was shipped. */
  shipped: boolean;
  /** How it was judged; null: not yet. */
  judged: 'in' | 'out' | null;
}
