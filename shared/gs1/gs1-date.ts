import { dateFault } from '../time.js';

const lastDayOf = (yearAndMonth: string): number => [31, 30, 29, 28].find((day) => dateFault(`${yearAndMonth}-${day}`) === null) ?? 28;

/**
 * The year that two digits stand for: the one of that ending from 49 years back to 50 years ahead of this year.
 * The rule is that of the GS1 Barcode Syntax Dictionary, src/lint_yymmd0.c: 51 or more above this year's digits is the century before,
 * 50 or more below them the one after.
 */
export function fullYear(twoDigits: number, thisYear: number): number {
  const century = thisYear - (thisYear % 100);
  const ahead = twoDigits - (thisYear % 100);
  if (ahead >= 51) return century - 100 + twoDigits;
  return ahead <= -50 ? century + 100 + twoDigits : century + twoDigits;
}

/**
 * A date YYMMDD as YYYY-MM-DD. Day 00 is the last day of the month (GS1 General Specifications, from memory, as the reference data says).
 * @returns null when there is no such day
 */
export function readGs1Date(text: string, thisYear: number): string | null {
  const match = /^(\d\d)(\d\d)(\d\d)$/.exec(text);
  if (match === null) return null;
  const month = `${`${fullYear(Number(match[1]), thisYear)}`.padStart(4, '0')}-${match[2]}`;
  const date = `${month}-${match[3] === '00' ? lastDayOf(month) : match[3]}`;
  return dateFault(date) === null ? date : null;
}

/**
 * A date YYYY-MM-DD as YYMMDD.
 * @returns null when two digits would be read as another century
 */
export function writeGs1Date(date: string, thisYear: number): string | null {
  const text = date.slice(2).replaceAll('-', '');
  return dateFault(date) === null && readGs1Date(text, thisYear) === date ? text : null;
}
