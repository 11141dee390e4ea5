import { useEffect, useState } from 'react';
import { msOf, plantNowMs } from '../app/clock.js';
import { Stamp } from '../design/stamp.js';
import type { View } from '../wire/client.js';
import { writtenSeconds } from './words.js';

/** The stopwatch of a drill: from its opening to its closing, against the time it has to meet. */
export function DrillClock({ clock, openedAt }: { clock: View<'DrillClockView'>; openedAt: string }) {
  const [now, setNow] = useState(plantNowMs);
  useEffect(() => {
    if (!clock.running) return;
    const timer = setInterval(() => setNow(plantNowMs()), 1000);
    return () => clearInterval(timer);
  }, [clock.running]);
  const seconds = clock.running ? (now - msOf(openedAt)) / 1000 : clock.seconds;
  const late = seconds > clock.targetSeconds;
  return (
    <div className="drill-clock">
      <Stamp word="Drill" />
      <p>
        <span className="time" role="timer" aria-label="Time since the drill was opened">
          {writtenSeconds(seconds)}
        </span>{' '}
        {clock.running ? 'since it was opened' : 'from opening to closing'}; the target is {writtenSeconds(clock.targetSeconds)}
        {late ? <strong className="urgent">: missed</strong> : null}
      </p>
      <progress max={clock.targetSeconds} value={Math.min(seconds, clock.targetSeconds)} aria-label="Part of the target used up" />
      <p className="quiet">This is practice. Nobody outside is told anything.</p>
    </div>
  );
}
