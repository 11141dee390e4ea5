import { useEffect, useRef } from 'react';
import { singlePresses } from './tally-keys.js';

const TYPING = ['INPUT', 'TEXTAREA', 'SELECT'];

/** Where a key is text that is typed, or belongs to a dialog. */
const isTyping = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && (TYPING.includes(target.tagName) || target.closest('dialog') !== null);

/** Calls back with each key a person presses outside of fields and dialogs, while it is on. Nothing that a scanner types is heard. */
export function useTallyKeys(on: boolean, press: (key: string) => void): void {
  const latest = useRef(press);
  useEffect(() => {
    latest.current = press;
  });
  useEffect(() => {
    if (!on) return undefined;
    const presses = singlePresses((key) => latest.current(key));
    const hear = (event: KeyboardEvent): void => {
      const ours = event.key.length === 1 && !event.ctrlKey && !event.altKey && !event.metaKey && !event.repeat;
      if (ours && !isTyping(event.target)) presses.hear(event.key, event.timeStamp);
    };
    window.addEventListener('keydown', hear);
    return () => {
      presses.stop();
      window.removeEventListener('keydown', hear);
    };
  }, [on]);
}
