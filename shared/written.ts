import { formatMinor, minorDigits } from './currency.js';
import { formatQuantity } from './quantity.js';
import { countPieces, type SpanSet } from './spans.js';

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const THIN_SPACE = '\u2009';
const NO_BREAK_SPACE = '\u00a0'; // in this face about as wide as a printer would set thousands apart

function grouped(digits: string): string {
  return digits.replace(/\B(?=(?:\d{3})+$)/gu, NO_BREAK_SPACE);
}

/** A count with its thousands set apart: `2 880`. */
export function writtenCount(count: number): string {
  return `${count < 0 ? '−' : ''}${grouped(`${Math.abs(count)}`)}`;
}

/** A count with its noun: `1 piece`, `2 880 pieces`. */
export function writtenPieces(count: number): string {
  return `${writtenCount(count)}${NO_BREAK_SPACE}${Math.abs(count) === 1 ? 'piece' : 'pieces'}`;
}

/** A quantity with its unit: `2 400.5 kg`. @param micro whole millionths of the unit */
export function writtenQuantity(micro: number, unit: string): string {
  const [whole = '0', decimals] = formatQuantity(Math.abs(micro)).split('.');
  return `${micro < 0 ? '−' : ''}${grouped(whole)}${decimals === undefined ? '' : `.${decimals}`}${NO_BREAK_SPACE}${unit}`;
}

/** A decimal as it comes over the wire, with its thousands set apart and its unit, if it has one: `2 400.5 kg`, `12 pieces` of `each`. */
export function writtenDecimal(text: string, unit = ''): string {
  const [, sign = '', whole = '', rest = ''] = /^(-?)(\d+)(\.\d+)?$/u.exec(text) ?? [];
  if (whole === '') return text;
  const word = unit === 'each' ? (text === '1' ? 'piece' : 'pieces') : unit;
  return `${sign === '-' ? '−' : ''}${grouped(whole)}${rest}${word === '' ? '' : NO_BREAK_SPACE}${word}`;
}

/** Whole minor units as an amount of the currency: `1 234.50`. */
export function writtenMoney(minor: number, currency: string): string {
  const [whole = '0', decimals] = formatMinor(Math.abs(minor), minorDigits(currency)).split('.');
  return `${minor < 0 ? '−' : ''}${grouped(whole)}${decimals === undefined ? '' : `.${decimals}`}`;
}

/** Piece numbers as people read them: `1 921–4 800, 5 001`. */
export function writtenSpans(spans: SpanSet): string {
  return spans.map(([first, last]) => (first === last ? writtenCount(first) : `${writtenCount(first)}–${writtenCount(last)}`)).join(', ');
}

/** A calendar date: `5 Mar 2026`. @param date `YYYY-MM-DD` */
export function writtenDate(date: string): string {
  const [year = '', month = '', day = ''] = date.slice(0, 10).split('-');
  const name = MONTHS[Number(month) - 1];
  return name === undefined ? date : `${Number(day)}${NO_BREAK_SPACE}${name}${NO_BREAK_SPACE}${year}`;
}

/** An instant to the minute, in UTC and saying so: `5 Mar 2026, 09:14 UTC`. @param at UTC ISO 8601 */
export function writtenInstant(at: string): string {
  return `${writtenDate(at)}, ${at.slice(11, 16)}${NO_BREAK_SPACE}UTC`;
}

/** A fraction of the whole as a percentage with two significant digits, never rounded to nothing or to everything. */
export function writtenShare(fraction: number): string {
  const percent = fraction * 100;
  if (percent > 0 && percent < 0.001) return `<${THIN_SPACE}0.001${THIN_SPACE}%`;
  if (percent > 99.9 && percent < 100) return `>${THIN_SPACE}99.9${THIN_SPACE}%`;
  const digits = percent >= 10 ? 1 : percent >= 1 ? 2 : 2 - Math.floor(Math.log10(percent || 1)) - 1;
  return `${Number(percent.toFixed(Math.min(6, digits)))}${THIN_SPACE}%`;
}

/** The beginning of a hash, in groups that can be compared by eye. */
export function writtenHash(hash: string, letters = hash.length): string {
  return (hash.slice(0, letters).match(/.{1,8}/gu) ?? []).join(' ') + (letters < hash.length ? ' …' : '');
}

/** Pieces or quantity of a lot's part, whichever it counts in. */
export function writtenAmount(part: { spans: SpanSet | null; quantityMicro: number; unit: string }): string {
  return part.spans === null ? writtenQuantity(part.quantityMicro, part.unit) : writtenCount(countPieces(part.spans));
}

/** A code of the record as it is said in a sentence: `not-accepted` is `not accepted`. */
export const inWords = (code: string): string => code.replaceAll('-', ' ');

/** Words as they begin a line or a sentence. */
export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
