import type { SpanSet } from '../../../../shared/spans.js';
import type { Signature } from '../people/signature.js';
import type { PlantFact } from '../stock/effects.facts.js';

/** What the quality decisions on a lot have in common; the status they give stands in `restatused`. */
interface QualityDecision extends PlantFact {
  readonly v: 1;
  readonly lot: string;
  /** Pieces decided on; null for a bulk lot. */
  readonly spans: SpanSet | null;
  readonly reason: string;
  readonly signature: Signature;
}

/** The lot, or pieces of it, may be used and shipped (21 CFR 820.80(d)). */
export type LotReleased = QualityDecision & { readonly kind: 'LotReleased' };

/** The lot, or pieces of it, may not be used; what becomes of it is still to be decided. */
export type LotNotAccepted = QualityDecision & { readonly kind: 'LotNotAccepted' };

/** An earlier decision is taken back: the lot, or pieces of it, stands in quarantine again. */
export type LotReconsidered = QualityDecision & { readonly kind: 'LotReconsidered' };

export type ReleaseFact = LotReleased | LotNotAccepted | LotReconsidered;
