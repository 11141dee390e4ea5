import { identifierAt } from '../gs1/application-identifiers.js';
import { readElementString } from '../gs1/element-string.js';

/**
 * Whether text that nothing marks as GS1's is an element string all the same: many scanners send no symbology identifier. It is one when
 * it begins with a GTIN (01, 02) or SSCC (00) and either is right throughout, or goes on with a known Application Identifier. So a plain
 * code such as `10-ABC` stays plain, and a label with a wrong check digit is still refused instead of being taken for a code of its own.
 */
export function looksLikeElements(text: string, thisYear: number): boolean {
  const match = /^(?:0[12]\d{14}|00\d{18})/.exec(text);
  if (match === null) return false;
  if (readElementString(text, thisYear).faults.length === 0) return true;
  return text.length > match[0].length && identifierAt(text, match[0].length) !== undefined;
}
