import { applicationIdentifier, identifierAt } from '../gs1/application-identifiers.js';
import { partnerFaults, signedKeyFaults } from '../gs1/associations.js';
import { valueFaults } from '../gs1/check-value.js';
import type { Gs1Element } from '../gs1/reading.js';
import type { ScannedQuantity } from './scan.js';

/** What a lot or serial number may have swallowed when the separator behind it was left out: a date, a measure, another fixed-length element. */
const SWALLOWED = /^(?:01|11|13|15|17|31[0-6][0-5])$/;

/**
 * The element that a value seems to end in, where a separator may be missing: a decoder cannot know, a person can look.
 * @returns the end of the value, or null
 */
function swallowed(value: string, thisYear: number): { ai: string; value: string } | null {
  for (let at = 1; at < value.length; at += 1) {
    const identifier = identifierAt(value, at);
    if (identifier === undefined || !SWALLOWED.test(identifier.ai)) continue;
    const rest = value.slice(at + identifier.ai.length);
    if (rest.length === identifier.fixedLength && valueFaults(identifier, rest, 0, thisYear).length === 0) {
      return { ai: identifier.ai, value: rest };
    }
  }
  return null;
}

/** What a person should look at although the code breaks no rule. */
export function cautionsOf(elements: readonly Gs1Element[], quantities: readonly ScannedQuantity[], thisYear: number): string[] {
  const cautions = [...partnerFaults(elements), ...signedKeyFaults(elements)].map(
    ({ detail }) => `${detail}; scan the other code on it too`,
  );
  for (const { ai, value } of elements) {
    const end = ai === '10' || ai === '21' ? swallowed(value, thisYear) : null;
    if (end === null) continue;
    const title = applicationIdentifier(end.ai)?.title;
    const what = ai === '10' ? 'The lot' : 'The serial number';
    cautions.push(
      `${what} ${value} ends like (${end.ai}) ${title} ${end.value}: a separator may be missing; compare it with what is printed`,
    );
  }
  if (quantities.length > 1) {
    const all = quantities.map(({ value, unit }) => `${value} ${unit}`).join(' and ');
    cautions.push(`The label states more than one quantity: ${all}`);
  }
  return cautions;
}
