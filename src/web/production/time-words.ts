const SECOND = 1000;
const MINUTE = 60 * SECOND;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const GAP = '\u00a0';

/** How long something has lasted, in its two largest units: `3 d 4 h`, `1 h 12 min`, `under a minute`. */
export function elapsedWords(ms: number): string {
  if (ms < MINUTE) return 'under a minute';
  const days = Math.floor(ms / DAY);
  const hours = Math.floor((ms % DAY) / HOUR);
  const minutes = Math.floor((ms % HOUR) / MINUTE);
  const parts = [
    days > 0 ? `${days}${GAP}d` : '',
    hours > 0 ? `${hours}${GAP}h` : '',
    days === 0 && minutes > 0 ? `${minutes}${GAP}min` : '',
  ];
  return parts.filter((part) => part !== '').join(' ');
}

/** What is left of a time, as a clock shows it: `7:05`, `1:07:05`. A second that has begun is left still. */
export function countdown(ms: number): string {
  const seconds = Math.ceil(Math.max(0, ms) / SECOND);
  const two = (part: number): string => `${part}`.padStart(2, '0');
  const hours = Math.floor(seconds / 3600);
  const minutes = Math.floor((seconds % 3600) / 60);
  return hours > 0 ? `${hours}:${two(minutes)}:${two(seconds % 60)}` : `${minutes}:${two(seconds % 60)}`;
}
