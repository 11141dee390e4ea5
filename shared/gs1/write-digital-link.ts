import { applicationIdentifier } from './application-identifiers.js';
import type { Gs1Element } from './reading.js';
import { fixedFirst } from './write-element-string.js';

type Part = Pick<Gs1Element, 'ai' | 'value'>;

/**
 * Writes elements as a Digital Link: the first key in the path, with those of its qualifiers that are there, the rest in the query.
 * The values are written as they are; whether they are right was asked when they were read.
 * @param stem the address before it, such as `https://example.com`
 * @returns null when there is no key, or an element may stand neither in the path nor in the query
 */
export function writeDigitalLink(elements: readonly Part[], stem = 'https://id.gs1.org'): string | null {
  const once = elements.filter(({ ai }, i) => elements.findIndex((other) => other.ai === ai) === i);
  const key = once.find(({ ai }) => applicationIdentifier(ai)?.qualifiers);
  if (key === undefined) return null;
  const present = new Map(once.map((one) => [one.ai, one]));
  const alternatives = applicationIdentifier(key.ai)?.qualifiers ?? [];
  const alternative = alternatives.find((names) => names.some((name) => present.has(name))) ?? [];
  const path = [key, ...alternative.flatMap((name) => present.get(name) ?? [])];
  const rest = fixedFirst(once.filter((one) => !path.includes(one)));
  if (rest.some(({ ai }) => applicationIdentifier(ai)?.inQuery !== true)) return null;
  const query = rest.map(({ ai, value }) => `${ai}=${encodeURIComponent(value)}`).join('&');
  const steps = path.map(({ ai, value }) => `/${ai}/${encodeURIComponent(value)}`).join('');
  return `${stem.replace(/\/$/, '')}${steps}${query === '' ? '' : `?${query}`}`;
}
