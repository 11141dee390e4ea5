/** The one place of the client that asks what time it is. */

/** Milliseconds since 1970, for measuring how long something takes. */
export const nowMs = (): number => Date.now();

/** How far the server's clock is ahead of this device's, in milliseconds, as far as its answers have shown; never more than it is. */
let ahead: number | null = null;
/** A clock that was put right shows as a jump: what was learned before it counts no more. */
const JUMP_MS = 5000;

/** Learns from an answer's `Date` what time the server has: tablets' clocks go wrong, and the record is the server's. */
export function hearServerTime(date: string | null): void {
  const server = date === null ? Number.NaN : new Date(date).getTime();
  if (Number.isNaN(server)) return;
  const seen = server - nowMs(); // a whole second at most too little, and the time the answer took
  ahead = ahead === null || Math.abs(seen - ahead) > JUMP_MS ? seen : Math.max(ahead, seen);
}

/** Now by the server's clock, in milliseconds since 1970: never later than the server says itself, or it would refuse what is still to come. */
export const plantNowMs = (): number => nowMs() + (ahead ?? 0);

/** The same as an instant: what is done on the floor carries the time at which it was done, also when it is sent much later. */
export const plantInstant = (): string => new Date(plantNowMs()).toISOString();

/** Milliseconds since 1970 of an instant that the server wrote. */
export const msOf = (instant: string): number => new Date(instant).getTime();

/** Today where the people are, by the server's clock, as YYYY-MM-DD: what a clerk means by "today". */
export function localDate(): string {
  const now = new Date(plantNowMs());
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

/** An instant as the value of an `<input type="datetime-local" step="1">`, in the people's own time, to the second. */
export function localOfInstant(instant: string): string {
  const at = new Date(instant);
  const two = (part: number): string => `${part}`.padStart(2, '0');
  const day = `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
  return `${day}T${two(at.getHours())}:${two(at.getMinutes())}:${two(at.getSeconds())}`;
}

/** The value of an `<input type="datetime-local">` as an instant; empty stays empty. */
export const instantOfLocal = (value: string): string => (value === '' ? '' : new Date(value).toISOString());
