import { instantOfMs, msOf, nowMs } from '../app/clock.js';

/** How far this device's clock is behind the server's, in milliseconds; from the last answer. */
let behindMs = 0;

/** Reads the server's time off an answer. It is whole seconds and a little old, so a time made from it is never in the future there. */
export function hearServerTime(date: string | null): void {
  if (date === null) return;
  const server = msOf(date);
  if (Number.isFinite(server)) behindMs = server - nowMs();
}

/**
 * Now by the server's clock, as UTC ISO 8601. What is done on the floor carries the time at which it was done, from a tablet whose own
 * clock may be wrong, and through any time without a connection.
 */
export const serverInstant = (): string => instantOfMs(nowMs() + behindMs);
