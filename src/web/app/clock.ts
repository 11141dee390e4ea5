/** The one place of the client that asks what time it is. */

/** Now, as UTC ISO 8601 with milliseconds. */
export const nowInstant = (): string => new Date().toISOString();

/** Milliseconds since 1970, for measuring how long something takes. */
export const nowMs = (): number => Date.now();

/** Milliseconds since 1970 of an instant that the server wrote. */
export const msOf = (instant: string): number => new Date(instant).getTime();

/** Today where the people are, as YYYY-MM-DD: what a clerk means by "today". */
export function localDate(): string {
  const now = new Date();
  const two = (part: number): string => `${part}`.padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** An instant in the people's own time, `5 Mar 2026, 09:14`: screens are read in one place, documents say UTC. */
export function localWritten(instant: string, seconds = false): string {
  const at = new Date(instant);
  const two = (part: number): string => `${part}`.padStart(2, '0');
  const month = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'][at.getMonth()];
  const time = `${two(at.getHours())}:${two(at.getMinutes())}${seconds ? `:${two(at.getSeconds())}` : ''}`;
  return `${at.getDate()}\u00a0${month}\u00a0${at.getFullYear()}, ${time}`;
}

/** The value of an `<input type="datetime-local">` as an instant; empty stays empty. */
export const instantOfLocal = (value: string): string => (value === '' ? '' : new Date(value).toISOString());
