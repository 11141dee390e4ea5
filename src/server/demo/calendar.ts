import { addDays } from '../../../shared/time.js';

/** The story runs over thirteen weeks of working days from Monday 2 March 2026. */
const FIRST_MONDAY = '2026-03-02';

/** The date of the n-th working day, counted from 0; weekends are left out. */
export const workday = (n: number): string => addDays(FIRST_MONDAY, Math.floor(n / 5) * 7 + (n % 5));

/** The working day of the recall, the last but one of the story. */
export const RECALL_DAY = 62;

/** An instant on a date: `at('2026-03-02', '08:15')`. */
export const at = (date: string, time: string): string => `${date}T${time}:00.000Z`;

/** Minutes later on the same day. */
export function later(instant: string, minutes: number): string {
  const total = Number(instant.slice(11, 13)) * 60 + Number(instant.slice(14, 16)) + minutes;
  const clock = `${String(Math.floor(total / 60)).padStart(2, '0')}:${String(total % 60).padStart(2, '0')}`;
  return at(instant.slice(0, 10), clock);
}
