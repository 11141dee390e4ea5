import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { TimeFault, addDays, dateFault, daysBetween, instantFault, toInstant } from './time.js';

const FIRST = Date.parse('0001-01-01T00:00:00.000Z');
const LAST = Date.parse('9999-12-31T23:59:59.999Z');
const instant = fc.date({ min: new Date(FIRST), max: new Date(LAST), noInvalidDate: true }).map((date) => date.toISOString());

test.each([
  ['2024-02-29', null],
  ['2000-02-29', null],
  ['2023-02-29', 'is no real day: 2023-02 has 28 days'],
  ['1900-02-29', 'is no real day: 1900-02 has 28 days'],
  ['2026-04-31', 'is no real day: 2026-04 has 30 days'],
  ['2026-01-00', 'is no real day: 2026-01 has 31 days'],
  ['2026-13-01', 'has no month 13'],
  ['2026-00-10', 'has no month 00'],
  ['0000-01-01', 'has no year 0000'],
  ['2026-1-1', 'is not a date written YYYY-MM-DD'],
  ['01.02.2026', 'is not a date written YYYY-MM-DD'],
  ['2026-01-01\n', 'is not a date written YYYY-MM-DD'],
])('date %j', (text, fault) => expect(dateFault(text)).toBe(fault));

test.each([
  ['2026-03-04T07:30:00.000Z', null],
  ['2026-03-04T07:30:00Z', 'is not an instant written YYYY-MM-DDThh:mm:ss.sssZ'],
  ['2026-03-04T07:30:00.000+01:00', 'is not an instant written YYYY-MM-DDThh:mm:ss.sssZ'],
  ['2026-02-30T07:30:00.000Z', 'is no real day: 2026-02 has 28 days'],
  ['2026-03-04T24:00:00.000Z', 'has no hour 24'],
  ['2026-03-04T23:60:00.000Z', 'has no minute 60'],
  ['2026-12-31T23:59:60.000Z', 'has no second 60'],
])('instant %j', (text, fault) => expect(instantFault(text)).toBe(fault));

test.each([
  ['2026-03-04T07:30:00.000Z', '2026-03-04T07:30:00.000Z'],
  ['2026-03-04 07:30Z', '2026-03-04T07:30:00.000Z'],
  ['2026-03-01T00:15:30.5+01:00', '2026-02-28T23:15:30.500Z'],
  ['2023-12-31T22:00:00-0330', '2024-01-01T01:30:00.000Z'],
  ['2026-03-04t07:30:00.123999z', '2026-03-04T07:30:00.123Z'],
])('%s is %s', (text, result) => expect(toInstant(text)).toBe(result));

test.each([
  '2026-03-04T07:30:00',
  '2026-03-04',
  '2026-02-29T07:30:00Z',
  '2026-03-04T07:30:00+24:00',
  '0001-01-01T00:00:00+00:01',
  '9999-12-31T23:59:59-00:01',
  'yesterday',
])('no instant: %j', (text) => expect(() => toInstant(text)).toThrow(TimeFault));

test('agrees with the calendar of the language, for any zone', () => {
  fc.assert(
    fc.property(instant, fc.integer({ min: -1439, max: 1439 }), (text, minutes) => {
      expect(instantFault(text)).toBeNull();
      expect(toInstant(text)).toBe(text);
      const at = Date.parse(text) - minutes * 60_000;
      if (at < FIRST || at > LAST) return;
      const offset = Math.abs(minutes);
      const zone = `${minutes < 0 ? '-' : '+'}${`${Math.floor(offset / 60)}`.padStart(2, '0')}:${`${offset % 60}`.padStart(2, '0')}`;
      expect(toInstant(text.replace('Z', zone))).toBe(new Date(at).toISOString());
    }),
    { numRuns: 1000 },
  );
});

function dateOrNone(date: string, days: number): string {
  try {
    return addDays(date, days);
  } catch (error) {
    if (error instanceof TimeFault) return 'no date';
    throw error;
  }
}

test('days are added as the calendar of the language adds them', () => {
  expect(addDays('2024-02-28', 2)).toBe('2024-03-01');
  expect(addDays('2026-01-01', -1)).toBe('2025-12-31');
  fc.assert(
    fc.property(instant, fc.integer({ min: -4_000_000, max: 4_000_000 }), (text, days) => {
      const date = text.slice(0, 10);
      const at = Date.parse(date) + days * 86_400_000;
      const expected = at < FIRST || at > LAST ? 'no date' : new Date(at).toISOString().slice(0, 10);
      expect(dateOrNone(date, days)).toBe(expected);
    }),
    { numRuns: 1000 },
  );
  expect(() => addDays('2026-01-01', 0.5)).toThrow(TimeFault);
  expect(() => addDays('2026-02-30', 1)).toThrow(TimeFault);
});

test('days between dates are those that were added', () => {
  fc.assert(
    fc.property(instant, fc.integer({ min: -1000, max: 1000 }), (text, days) => {
      const date = text.slice(0, 10);
      const to = dateOrNone(date, days);
      if (to !== 'no date') expect(daysBetween(date, to)).toBe(days);
    }),
  );
  expect(() => daysBetween('2026-01-01', '2026-02-30')).toThrow(TimeFault);
});
