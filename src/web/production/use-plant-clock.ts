import { useEffect, useState } from 'react';
import { plantNowMs } from '../app/clock.js';

/** The server's time, kept going: in milliseconds since 1970, anew every so often. */
export function usePlantClock(everyMs: number): number {
  const [now, setNow] = useState(plantNowMs);
  useEffect(() => {
    const timer = setInterval(() => setNow(plantNowMs()), everyMs);
    return () => clearInterval(timer);
  }, [everyMs]);
  return now;
}
