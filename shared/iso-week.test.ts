import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { isoWeek, isoWeekday } from './iso-week.js';

const { rows, years_with_53_weeks_2000_2040: longYears } = JSON.parse(
  readFileSync('fixtures/standards/iso8601-week-dates.json', 'utf8'),
) as {
  readonly rows: readonly { readonly date: string; readonly week_date: string }[];
  readonly years_with_53_weeks_2000_2040: readonly number[];
};

describe('weeks by ISO 8601', () => {
  it('has the dates of the fixture', () => expect(rows.length).toBeGreaterThan(20));

  it.each(rows)('$date is $week_date', ({ date, week_date: weekDate }) => expect(`${isoWeek(date)}-${isoWeekday(date)}`).toBe(weekDate));

  it('the years of 53 weeks are those of the fixture', () => {
    const years = Array.from({ length: 41 }, (_, i) => 2000 + i);
    expect(years.filter((year) => isoWeek(`${year}-12-28`).endsWith('W53'))).toEqual(longYears);
  });

  it.each([
    ['0001-01-01', '0001-W01', 1],
    ['1969-12-28', '1969-W52', 7],
    ['9999-12-31', '9999-W52', 5],
  ])('reaches from the first day to the last: %s', (date, week, day) => expect([isoWeek(date), isoWeekday(date)]).toEqual([week, day]));

  it('refuses what is no date', () => expect(() => isoWeek('2026-02-30')).toThrow(/no real day/));
});
