/** Text that is no date or instant; `message` says why. */
export class TimeFault extends Error {
  override readonly name = 'TimeFault';
}

const DATE = /^(\d{4})-(\d{2})-(\d{2})$/;
const INSTANT = /^(\d{4}-\d{2}-\d{2})T(\d{2}):(\d{2}):(\d{2})\.(\d{3})Z$/;
const LOOSE_INSTANT = /^(\d{4}-\d{2}-\d{2})[Tt ](\d{2}):(\d{2})(?::(\d{2})(?:\.(\d{1,9}))?)?(?:([Zz])|([+-])(\d{2}):?(\d{2}))$/;

const MINUTES_A_DAY = 1440;
const LAST_DAY = daysFromCivil(9999, 12, 31);
const FIRST_DAY = daysFromCivil(1, 1, 1);

function daysInMonth(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/** Days since 1970-01-01; the years begin in March, so that the leap day is the last of its year. */
function daysFromCivil(year: number, month: number, day: number): number {
  const marchYear = month <= 2 ? year - 1 : year;
  const dayOfYear = Math.floor((153 * ((month + 9) % 12) + 2) / 5) + day - 1;
  return 365 * marchYear + Math.floor(marchYear / 4) - Math.floor(marchYear / 100) + Math.floor(marchYear / 400) + dayOfYear - 719_468;
}

/** The date of a day number: the year is guessed a little late and walked back, then the month likewise. */
function civilFromDays(days: number): string {
  let year = Math.floor(days / 365.2425) + 1971;
  while (daysFromCivil(year, 1, 1) > days) year -= 1;
  let month = 12;
  while (daysFromCivil(year, month, 1) > days) month -= 1;
  const day = days - daysFromCivil(year, month, 1) + 1;
  return `${digits(year, 4)}-${digits(month, 2)}-${digits(day, 2)}`;
}

function digits(value: number, width: number): string {
  return `${value}`.padStart(width, '0');
}

function dayNumber(date: string): number {
  const [year = 0, month = 0, day = 0] = date.split('-').map(Number);
  return daysFromCivil(year, month, day);
}

function clockFault(hour: number, minute: number, second: number): string | null {
  if (hour > 23) return `has no hour ${hour}`;
  if (minute > 59) return `has no minute ${minute}`;
  return second > 59 ? `has no second ${second}` : null;
}

/** What is wrong with a date, or null when it is a real day of the calendar written `YYYY-MM-DD`, year 0001 or later. */
export function dateFault(text: string): string | null {
  const match = DATE.exec(text);
  if (match === null) return 'is not a date written YYYY-MM-DD';
  const [year = 0, month = 0, day = 0] = match.slice(1).map(Number);
  if (year === 0) return 'has no year 0000';
  if (month < 1 || month > 12) return `has no month ${match[2]}`;
  return day < 1 || day > daysInMonth(year, month) ? `is no real day: ${match[1]}-${match[2]} has ${daysInMonth(year, month)} days` : null;
}

/** What is wrong with an instant, or null when it is UTC with milliseconds, `YYYY-MM-DDThh:mm:ss.sssZ`, and real. */
export function instantFault(text: string): string | null {
  const match = INSTANT.exec(text);
  if (match === null) return 'is not an instant written YYYY-MM-DDThh:mm:ss.sssZ';
  return dateFault(match[1] ?? '') ?? clockFault(Number(match[2]), Number(match[3]), Number(match[4]));
}

/**
 * Any ISO 8601 instant that names its zone, as UTC with milliseconds. Seconds and their fraction may be missing; a fraction finer
 * than a millisecond is cut, not rounded, so that no instant moves into the future.
 * @throws TimeFault when the text names no zone, no real time, or a time outside the years 0001 to 9999
 */
export function toInstant(text: string): string {
  const match = LOOSE_INSTANT.exec(text);
  if (match === null) throw new TimeFault(`'${text.slice(0, 40)}' is not an instant with its zone, such as 2026-03-04T07:30:00.000Z`);
  const [, date = '', hour = '', minute = '', second = '00', fraction = '', , sign, offsetHour = '00', offsetMinute = '00'] = match;
  const fault =
    dateFault(date) ??
    clockFault(Number(hour), Number(minute), Number(second)) ??
    (Number(offsetHour) > 23 || Number(offsetMinute) > 59 ? 'has an impossible zone' : null);
  if (fault !== null) throw new TimeFault(`'${text}' ${fault}`);
  const offset = (Number(offsetHour) * 60 + Number(offsetMinute)) * (sign === '-' ? -1 : 1);
  const minutes = dayNumber(date) * MINUTES_A_DAY + Number(hour) * 60 + Number(minute) - offset;
  const day = Math.floor(minutes / MINUTES_A_DAY);
  if (day < FIRST_DAY || day > LAST_DAY) throw new TimeFault(`'${text}' is outside the years 0001 to 9999`);
  const inDay = minutes - day * MINUTES_A_DAY;
  const clock = `${digits(Math.floor(inDay / 60), 2)}:${digits(inDay % 60, 2)}:${second}`;
  return `${civilFromDays(day)}T${clock}.${fraction.slice(0, 3).padEnd(3, '0')}Z`;
}

/**
 * Days from one date to another, negative when it is earlier.
 * @throws TimeFault when one of them is no date
 */
export function daysBetween(from: string, to: string): number {
  for (const date of [from, to]) {
    const fault = dateFault(date);
    if (fault !== null) throw new TimeFault(`'${date}' ${fault}`);
  }
  return dayNumber(to) - dayNumber(from);
}

/**
 * The date so many days after another (before it, when negative); a shelf life counts this way.
 * @throws TimeFault when the date is none, the days are not whole, or the result leaves the years 0001 to 9999
 */
export function addDays(date: string, days: number): string {
  const fault = dateFault(date);
  if (fault !== null) throw new TimeFault(`'${date}' ${fault}`);
  const day = dayNumber(date) + days;
  if (!Number.isInteger(days) || day < FIRST_DAY || day > LAST_DAY) throw new TimeFault(`${days} days from ${date} is no date`);
  return civilFromDays(day);
}
