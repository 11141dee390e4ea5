import type { View } from '../wire/client.js';

type Plan = View<'PlanNumbersView'>;

/** What a curve is asked for: the numbers of a plan, with the AQL its risk is given at. */
export interface CurveQuestion {
  readonly n?: number;
  readonly ac?: number;
  readonly n1?: number;
  readonly ac1?: number;
  readonly re1?: number;
  readonly n2?: number;
  readonly ac2?: number;
  readonly re2?: number;
  readonly aql?: number;
  readonly lotSize?: number;
  readonly distribution?: 'binomial' | 'poisson' | 'hypergeometric';
}

/** A plan in words: `take 80, accept up to 2, refuse from 3`. */
export function planInWords(plan: Plan): string {
  if (plan.n !== undefined) return `take ${plan.n}, accept up to ${plan.ac}, not from ${plan.re}`;
  return (
    `take ${plan.n1}, accept up to ${plan.ac1}, not from ${plan.re1}; ` +
    `between the two take ${plan.n2} more, and of both accept up to ${plan.ac2}, not from ${plan.re2}`
  );
}

/** The question for the curve of a plan. Above AQL 10 there are only nonconformities, and so there are where the plan counts them. */
export function curveQuestion(plan: Plan, aql: string | null, basis: 'items' | 'nonconformities'): CurveQuestion {
  const numbers =
    plan.n !== undefined
      ? { n: plan.n, ac: plan.ac }
      : { n1: plan.n1, ac1: plan.ac1, re1: plan.re1, n2: plan.n2, ac2: plan.ac2, re2: plan.re2 };
  return {
    ...numbers,
    ...(aql === null ? {} : { aql: Number(aql) }),
    distribution: basis === 'items' ? 'binomial' : 'poisson',
  };
}
