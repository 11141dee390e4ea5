import { plantNowMs } from '../app/clock.js';
import type { Run } from './run.js';
import { countdown, elapsedWords } from './time-words.js';
import { usePlantClock } from './use-plant-clock.js';
import { mixingNow } from './wants.js';

const SECOND = 1000;
/** How long the end of a mixing time stays on the page: who comes later sees the step alone. */
const STAYS_MS = 10 * 60_000;

/**
 * The shortest mixing time that runs, counted from the recorded charge. It goes on through a reload, for it is nothing but the record and
 * the clock. Its end is said to those who listen, once.
 */
export function MixingTimer({ run, small = false }: { run: Run; small?: boolean }) {
  const now = usePlantClock(SECOND);
  const mixing = run.state === 'open' ? mixingNow(run) : null;
  if (mixing === null || now > mixing.until + STAYS_MS) return null;
  const left = mixing.until - now;
  const done = left <= 0;
  const share = Math.min(1, Math.max(0, (now - mixing.since) / (mixing.until - mixing.since)));
  return (
    <div className={`mixing${done ? ' done' : ''}${small ? ' small' : ''}`}>
      <p>
        <strong>{mixing.name}</strong> mixes for {mixing.minutes}&nbsp;minutes at least
      </p>
      <div className="mixing-clock" role="timer" aria-label={`What is left of the mixing time of ${mixing.name}`}>
        {countdown(left)}
      </div>
      <progress max={1} value={share} aria-label={`Mixing time of ${mixing.name}`} />
      <p role="status" className="mixing-says">
        {done ? `${mixing.name} has mixed for its time. It goes on since ${elapsedWords(now - mixing.until)} over it.` : ''}
      </p>
    </div>
  );
}

/** Whether a mixing time runs now: for words beside a button. */
export const mixes = (run: Run): boolean => (mixingNow(run)?.until ?? 0) > plantNowMs();
