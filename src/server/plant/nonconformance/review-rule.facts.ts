import type { Role } from '../people/people.facts.js';
import type { Signature } from '../people/signature.js';
import type { PlantFact } from '../stock/effects.facts.js';
import type { DispositionKind } from './disposition.facts.js';

/** The plant says whose signatures its dispositions wait for. It holds for what is proposed after it. */
export type ReviewRuleSet = PlantFact & {
  readonly kind: 'ReviewRuleSet';
  readonly v: 1;
  /** Every kind of disposition, with the functions that must sign and the signers in all. */
  readonly rule: Readonly<Record<DispositionKind, { readonly functions: readonly Role[]; readonly signers: number }>>;
  readonly reason: string;
  readonly signature: Signature;
};
