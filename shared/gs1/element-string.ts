import { type ApplicationIdentifier, identifierAt } from './application-identifiers.js';
import { valueFaults } from './check-value.js';
import { FNC1, type Gs1Reading, shown } from './reading.js';

/** More elements than any label holds: a longer message is refused. The reference engine has the same limit; the standard has none. */
const MOST_ELEMENTS = 64;

/**
 * Reads a GS1 element string: Application Identifiers each followed by its value, FNC1 after a value whose length is not fixed.
 * Every fault is found that can be: after an identifier that is not known, reading goes on behind the next FNC1.
 * @param message without the FNC1 or symbology identifier that marks it as GS1's
 * @param thisYear the year from which two-digit years are counted
 * @param shift how many characters stood before the message, for the places of faults
 * @see GS1 Barcode Syntax Dictionary, and fixtures/standards/gs1/ for its vectors
 */
export function readElementString(message: string, thisYear: number, shift = 0): Gs1Reading {
  const reading: Gs1Reading = { elements: [], faults: [] };
  if (message === '') reading.faults.push({ code: 'nothing-encoded', detail: 'the code holds no element', at: shift });
  let at = 0;
  while (at < message.length) at = readElement(message, at, thisYear, shift, reading);
  if (reading.elements.length > MOST_ELEMENTS) {
    const place = reading.elements[MOST_ELEMENTS]?.at ?? shift;
    reading.faults.push({ code: 'too-many-elements', detail: `the code has more than ${MOST_ELEMENTS} elements`, at: place });
  }
  return reading;
}

/** @returns where the next element begins */
function readElement(message: string, at: number, thisYear: number, shift: number, { elements, faults }: Gs1Reading): number {
  const identifier = identifierAt(message, at);
  if (identifier === undefined) {
    const end = endOf(message, at);
    const what =
      end === at ? 'a separator (FNC1) without an element' : `no Application Identifier begins '${shown(message.slice(at, at + 4))}'`;
    faults.push({ code: 'ai-unknown', detail: `${what}, at character ${at + shift + 1}`, at: at + shift });
    return end + 1;
  }
  const from = at + identifier.ai.length;
  const end = valueEnd(message, from, identifier);
  const value = message.slice(from, end);
  faults.push(...valueFaults(identifier, value, from + shift, thisYear));
  elements.push({ ai: identifier.ai, value, at: from + shift });
  return message[end] === FNC1 ? end + 1 : end;
}

function valueEnd(message: string, from: number, { fixedLength }: ApplicationIdentifier): number {
  const end = endOf(message, from);
  return fixedLength === null ? end : Math.min(end, from + fixedLength);
}

function endOf(message: string, from: number): number {
  const end = message.indexOf(FNC1, from);
  return end < 0 ? message.length : end;
}
