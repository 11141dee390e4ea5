import { exclusionFaults, repeatFaults } from '../gs1/associations.js';
import { readBracketed } from '../gs1/bracketed.js';
import { isValidGtin } from '../gs1/check-digit.js';
import { isWebAddress, readDigitalLink } from '../gs1/digital-link.js';
import { readElementString } from '../gs1/element-string.js';
import { type Gs1Fault, FNC1, type Gs1Reading, shown } from '../gs1/reading.js';
import { readSymbology, type Scanned } from '../gs1/symbology.js';
import { cautionsOf } from './cautions.js';
import { looksLikeElements } from './looks-like.js';
import { meaningOf } from './meaning.js';
import type { Gs1Scan, Scan } from './scan.js';

/** More than any symbol holds (a QR code of version 40 has 7,089 digits): what is longer came from no scanner. */
const LONGEST = 8000;

/**
 * What a scan means. It never throws: what follows a standard and breaks it is `faulty`, with every reason; what follows none is `plain`.
 * @param text as the scanner sent it or a person typed it; separators are ASCII 29
 * @param today YYYY-MM-DD, from which two-digit years are counted
 * @see docs/rules/labels.md LB-1 to LB-6
 */
export function readScan(text: string, today: string): Scan {
  const thisYear = Number(today.slice(0, 4));
  if (text.length > LONGEST) {
    return faulty(text, [{ code: 'scan-too-long', detail: `${text.length} characters are more than any code holds`, at: LONGEST }]);
  }
  const scanned = readSymbology(text.replace(/[\r\n\t]+$/, ''));
  if (scanned !== null) return readCarried(text, scanned, thisYear);
  const detail = `'${shown(text.slice(0, 3))}' is no symbology identifier that is known`;
  return faulty(text, [{ code: 'symbology-unknown', detail, at: 0 }]);
}

function readCarried(text: string, scanned: Scanned, thisYear: number): Scan {
  const { carries, message, shift } = scanned;
  if (carries === 'elements') return understood(text, 'element-string', readElementString(message, thisYear, shift), thisYear);
  if (carries === 'ean-13' || carries === 'ean-8') return numbered(text, scanned, carries === 'ean-13' ? 13 : 8, thisYear);
  if (carries === 'itf' && isValidGtin(message)) return gtinOnly(text, scanned, []);
  return readText(text, scanned, thisYear);
}

/** Text that no identifier explains: what it looks like decides. */
function readText(text: string, scanned: Scanned, thisYear: number): Scan {
  const { identifier, message, shift } = scanned;
  if (isWebAddress(message)) return understood(text, 'digital-link', readDigitalLink(message, thisYear, shift), thisYear);
  if (identifier !== null) return plain(text, message);
  if (message.includes(FNC1) || looksLikeElements(message, thisYear)) {
    const marked = message.startsWith(FNC1) ? 1 : 0;
    return understood(text, 'element-string', readElementString(message.slice(marked), thisYear, marked), thisYear);
  }
  if (/^\(\d{2,4}\)/.test(message)) return understood(text, 'element-string', readBracketed(message, thisYear), thisYear);
  if (isValidGtin(message)) return gtinOnly(text, scanned, ['These digits may be a GTIN or a code of another kind: look at the label']);
  return plain(text, message);
}

/** An EAN or UPC symbol, whose number must be right; a composite may add elements to it. */
function numbered(text: string, scanned: Scanned, length: number, thisYear: number): Scan {
  const { message, added } = scanned;
  if (message.length !== length || !/^\d+$/.test(message)) {
    const detail = `the symbol has '${shown(message)}' where ${length} digits belong`;
    return faulty(text, [{ code: 'not-a-gtin', detail, at: 3 }]);
  }
  if (!isValidGtin(message)) {
    const detail = `the number ${message} has a wrong check digit`;
    return faulty(text, [{ code: 'check-digit-wrong', detail, at: 2 + length }]);
  }
  if (added === null) return gtinOnly(text, scanned, []);
  const reading = readElementString(added.message, thisYear, added.shift);
  const gtin = { ai: '01', value: message.padStart(14, '0'), at: 3 };
  return understood(text, 'element-string', { elements: [gtin, ...reading.elements], faults: reading.faults }, thisYear);
}

function understood(text: string, form: Gs1Scan['form'], { elements, faults }: Gs1Reading, thisYear: number): Scan {
  const all = [...faults, ...repeatFaults(elements), ...exclusionFaults(elements)];
  if (all.length > 0) return faulty(text, all);
  const meaning = meaningOf(elements, thisYear);
  const { quantities } = meaning;
  const quantity = quantities.length === 1 ? (quantities[0] ?? null) : null;
  return { kind: 'gs1', form, text, ...meaning, quantity, cautions: cautionsOf(elements, quantities, thisYear) };
}

function gtinOnly(text: string, { message, shift }: Scanned, cautions: readonly string[]): Scan {
  const meaning = meaningOf([{ ai: '01', value: message.padStart(14, '0'), at: shift }], 0);
  return { kind: 'gs1', form: 'gtin', text, ...meaning, quantity: null, cautions };
}

function plain(text: string, message: string): Scan {
  if (message !== '') return { kind: 'plain', text: message };
  return faulty(text, [{ code: 'nothing-encoded', detail: 'the code is empty', at: text.length }]);
}

const faulty = (text: string, reasons: readonly Gs1Fault[]): Scan => ({ kind: 'faulty', text, reasons });
