import { addDays, daysBetween } from './time.js';

const WEEK = 7;
const THURSDAY = 4;
/** A Thursday: day 4 of its week. */
const KNOWN_THURSDAY = '1970-01-01';

/** The day of the week by ISO 8601: Monday is 1, Sunday 7. */
export const isoWeekday = (date: string): number => ((((daysBetween(KNOWN_THURSDAY, date) + THURSDAY - 1) % WEEK) + WEEK) % WEEK) + 1;

/**
 * The week of a date by ISO 8601, as `2026-W09`. Weeks begin on Monday and belong to the year that has their Thursday, so the first days
 * of January may be in a week of the year before, and the last of December in one of the year after.
 * @throws TimeFault when the date is none
 * @see docs/rules/figures.md F-13
 */
export function isoWeek(date: string): string {
  const thursday = addDays(date, THURSDAY - isoWeekday(date));
  const year = thursday.slice(0, 4);
  const week = Math.floor(daysBetween(`${year}-01-01`, thursday) / WEEK) + 1;
  return `${year}-W${`${week}`.padStart(2, '0')}`;
}
