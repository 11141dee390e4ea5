import { binomial, type Counts, hypergeometric, massBetween, poisson } from '../statistics/counts.js';
import type { DoublePlan, SinglePlan } from './tables.js';

/** The numbers of a plan, whatever letter it stands at: single `{ n, ac }` or double `{ n1, ac1, re1, n2, ac2, re2 }`, in items. */
export type PlanNumbers = Omit<SinglePlan, 'letter' | 're'> | Omit<DoublePlan, 'letter'>;

/**
 * How nonconforming items (or nonconformities) turn up in samples at one quality. The second sample is drawn from what the first left,
 * which matters when the lot is known.
 */
export interface Law {
  first(n: number): Counts;
  second(n1: number, found: number, n2: number): Counts;
}

/** A process that makes the fraction `p` nonconforming. */
export const binomialLaw = (p: number): Law => ({ first: (n) => binomial(n, p), second: (_n1, _found, n2) => binomial(n2, p) });

/** A process that makes `rate` nonconformities per item. */
export const poissonLaw = (rate: number): Law => ({ first: (n) => poisson(n * rate), second: (_n1, _found, n2) => poisson(n2 * rate) });

/** A lot of `lot` items of which `nonconforming` are. */
export const lotLaw = (lot: number, nonconforming: number): Law => ({
  first: (n) => hypergeometric(lot, nonconforming, n),
  second: (n1, found, n2) => hypergeometric(lot - n1, nonconforming - found, n2),
});

/** What a plan does with lots of one quality, as probabilities. */
export interface Course {
  /** Accepted on the first sample (or on the only one). */
  readonly acceptedFirst: number;
  /** Accepted on the second sample; 0 for a single plan. */
  readonly acceptedSecond: number;
  /** A second sample is taken; 0 for a single plan. */
  readonly secondTaken: number;
}

/**
 * Follows a plan through all that its samples may show. A double plan is summed over every count in the first sample that calls for the
 * second, so nothing is approximated.
 */
export function courseOf(plan: PlanNumbers, law: Law): Course {
  if ('n' in plan) return { acceptedFirst: massBetween(law.first(plan.n), 0, plan.ac), acceptedSecond: 0, secondTaken: 0 };
  const { n1, ac1, re1, n2, ac2 } = plan;
  const first = law.first(n1);
  let acceptedSecond = 0;
  for (let found = ac1 + 1; found < re1; found++) {
    const here = massBetween(first, found, found);
    // Where the first sample cannot show this many, there is no second sample to ask about.
    if (here > 0) acceptedSecond += here * massBetween(law.second(n1, found, n2), 0, ac2 - found);
  }
  return { acceptedFirst: massBetween(first, 0, ac1), acceptedSecond, secondTaken: massBetween(first, ac1 + 1, re1 - 1) };
}
