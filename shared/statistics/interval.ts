import { binomial, massBetween } from './counts.js';
import { lastAtLeast } from './search.js';

/** A proportion with the exact interval that holds the true one with at least the confidence asked for; all in [0, 1]. */
interface ExactInterval {
  readonly estimate: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * The exact interval for a proportion by Clopper and Pearson (Biometrika 26, 1934, 404-413): the true proportions under which neither so
 * many nor so few would be found with a probability of less than (1 - confidence)/2 on either side. With none found the lower end is 0,
 * with all found the upper end is 1; the other end keeps its half of the risk. For nonconforming per million, multiply by a million.
 * @param found items of the kind, a whole number from 0 to `items`
 * @param items items looked at, a whole number from 1 to 1e9
 * @param confidence both sides together, above 0 and below 1; 0.95 is usual
 * @throws RangeError when an argument is none of these
 */
export function exactInterval(found: number, items: number, confidence: number): ExactInterval {
  if (!Number.isSafeInteger(items) || items < 1 || items > 1e9)
    throw new RangeError(`${items} is not a whole number of items from 1 to 1e9`);
  if (!Number.isSafeInteger(found) || found < 0 || found > items) throw new RangeError(`${found} is not a whole number from 0 to ${items}`);
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`a confidence is above 0 and below 1, not ${confidence}`);
  const side = (1 - confidence) / 2;
  const atMostFound = (p: number): number => massBetween(binomial(items, p), 0, found);
  const atLeastFound = (p: number): number => massBetween(binomial(items, p), found, items);
  const upper = found === items ? 1 : lastAtLeast(atMostFound, side, 0, 1);
  // This tail rises with p and the search wants one that falls, so it is given its negative.
  const lower = found === 0 ? 0 : lastAtLeast((p) => -atLeastFound(p), -side, 0, 1);
  return { estimate: found / items, lower: lower ?? 0, upper: upper ?? 1 };
}
