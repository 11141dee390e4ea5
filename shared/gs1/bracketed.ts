import { applicationIdentifier } from './application-identifiers.js';
import { valueFaults } from './check-value.js';
import type { Gs1Element, Gs1Fault, Gs1Reading } from './reading.js';

const OPENING = /^\((\d{2,4})\)/;

/**
 * Cuts the form printed for people, `(01)09506000013435(10)L-88`, at its brackets; a bracket inside a value is written `\(`.
 * Whether the identifiers are known and the values right is not asked here.
 */
export function splitBracketed(text: string): { elements: Gs1Element[]; fault: Gs1Fault | null } {
  const elements: Gs1Element[] = [];
  let at = 0;
  while (at < text.length || elements.length === 0) {
    const opening = OPENING.exec(text.slice(at, at + 6));
    if (opening === null) {
      const detail = `no Application Identifier in brackets, such as (01), at character ${at + 1}`;
      return { elements, fault: { code: 'ai-unknown', detail, at } };
    }
    const from = at + opening[0].length;
    const length = /^(?:\\\(|[^(])*/.exec(text.slice(from))?.[0].length ?? 0;
    const value = text.slice(from, from + length).replaceAll(String.raw`\(`, '(');
    elements.push({ ai: opening[1] ?? '', value, at: from });
    at = from + length;
  }
  return { elements, fault: null };
}

/**
 * Reads the form printed for people.
 * @param thisYear the year from which two-digit years are counted
 */
export function readBracketed(text: string, thisYear: number): Gs1Reading {
  const { elements, fault } = splitBracketed(text);
  const faults: Gs1Fault[] = fault === null ? [] : [fault];
  for (const { ai, value, at } of elements) {
    const identifier = applicationIdentifier(ai);
    if (identifier !== undefined) faults.push(...valueFaults(identifier, value, at, thisYear));
    else {
      const place = at - ai.length - 1;
      faults.push({ code: 'ai-unknown', detail: `(${ai}) is no Application Identifier, at character ${place + 1}`, at: place });
    }
  }
  return { elements, faults };
}
