import { isDouble } from './plan.js';
import type { ClassInSample } from './shared-sample.js';

/**
 * How a class is judged when its sample reaches the lot. With every item looked at there is no second sample left to take: the numbers for
 * both samples decide at once.
 * @param whole whether every item is inspected
 * @param lotSize items in the lot
 */
export function onWholeLot({ aql, severity, plan, because, unverified }: ClassInSample, whole: boolean, lotSize: number): ClassInSample {
  if (!whole || !isDouble(plan)) return { aql, severity, plan, because, unverified };
  const { letter, ac2, re2 } = plan;
  const why = 'every item is inspected: the acceptance numbers for both samples decide';
  return { aql, severity, plan: { letter, n: lotSize, ac: ac2, re: re2 }, because: [...because, why], unverified };
}
