import { applicationIdentifier, matchesPattern } from './application-identifiers.js';
import { type Gs1Element, type Gs1Fault, shown } from './reading.js';

/** Two different values for one thing: which of them holds cannot be known. */
export function repeatFaults(elements: readonly Gs1Element[]): Gs1Fault[] {
  const first = new Map<string, string>();
  const faults: Gs1Fault[] = [];
  for (const { ai, value, at } of elements) {
    const before = first.get(ai);
    if (before === undefined) first.set(ai, value);
    else if (before !== value) {
      const detail = `(${ai}) is given twice and differently: '${shown(before)}' and '${shown(value)}'`;
      faults.push({ code: 'repeated-differently', detail, at, ai });
    }
  }
  return faults;
}

/** Elements that contradict each other, such as the GTIN of a thing and of what is inside it. */
export function exclusionFaults(elements: readonly Gs1Element[]): Gs1Fault[] {
  const present = new Set(elements.map(({ ai }) => ai));
  return elements.flatMap(({ ai, at }): Gs1Fault[] => {
    const patterns = applicationIdentifier(ai)?.excludes ?? [];
    const against = [...present].filter((other) => other !== ai && patterns.some((pattern) => matchesPattern(other, pattern)));
    return against.map((other) => ({ code: 'elements-contradict', detail: `(${ai}) and (${other}) cannot both be on one item`, at, ai }));
  });
}

/**
 * Elements that say nothing without others. What is missing may stand in another code on the same item, so that one code alone
 * cannot be refused for it.
 */
export function partnerFaults(elements: readonly Gs1Element[]): Gs1Fault[] {
  const present = [...new Set(elements.map(({ ai }) => ai))];
  const has = (pattern: string): boolean => present.some((ai) => matchesPattern(ai, pattern));
  return elements.flatMap(({ ai, at }): Gs1Fault[] => {
    const identifier = applicationIdentifier(ai);
    const missing = (identifier?.requires ?? []).filter((alternatives) => !alternatives.some((together) => together.every(has)));
    return missing.map((alternatives) => {
      const partners = alternatives.map((together) => together.map((one) => `(${one})`).join(' with ')).join(' or ');
      return { code: 'partner-missing', detail: `(${ai}) ${identifier?.title} means something only beside ${partners}`, at, ai };
    });
  });
}

/** Length of the key alone, without the serial part that makes it one thing: (253) GDTI, (255) GCN, (8003) GRAI. */
const KEY_LENGTHS: ReadonlyMap<string, number> = new Map([
  ['253', 13],
  ['255', 13],
  ['8003', 14],
]);

/** A signature (8030) signs one thing, so the key beside it needs its serial part. */
export function signedKeyFaults(elements: readonly Gs1Element[]): Gs1Fault[] {
  if (!elements.some(({ ai }) => ai === '8030')) return [];
  return elements
    .filter(({ ai, value }) => value.length <= (KEY_LENGTHS.get(ai) ?? 0))
    .map(({ ai, at }) => ({ code: 'partner-missing', detail: `(8030) signs one thing, and (${ai}) has no serial part`, at, ai }));
}
