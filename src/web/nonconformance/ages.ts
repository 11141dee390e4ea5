import { msOf, plantNowMs } from '../app/clock.js';

const DAY_MS = 86_400_000;

/** Whole days from an instant until now. */
export const daysSince = (instant: string): number => Math.max(0, Math.floor((plantNowMs() - msOf(instant)) / DAY_MS));

/** Days in words. */
export const daysWritten = (days: number): string => (days === 0 ? 'today' : days === 1 ? '1\u00a0day' : `${days}\u00a0days`);
