import { useRef } from 'react';
import { msOf, plantInstant, plantNowMs } from '../app/clock.js';

/** Presses within this time are tries of the same doing. */
const SAME_DOING_MS = 20_000;

interface Doing {
  /** When it was done. A second press soon after the first gives the same instant, so that it is the same command, sent once. */
  at(): string;
  /** It is done, or kept: the next press is another doing. */
  over(): void;
}

/** The instant of what a person is about to do; it goes along with the command, which may be sent much later. */
export function useDoing(): Doing {
  const held = useRef<string | null>(null);
  return {
    at: () => {
      if (held.current === null || plantNowMs() - msOf(held.current) > SAME_DOING_MS) held.current = plantInstant();
      return held.current;
    },
    over: () => void (held.current = null),
  };
}
