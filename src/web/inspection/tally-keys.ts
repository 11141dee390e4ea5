/** Keys that always mean the same while inspecting. */
export const CONFORMING_KEY = 'c';
export const UNDO_KEY = 'u';
export const SAME_ITEM_KEY = 's';

const FINDING_KEYS = [...'1234567890', ...'abdefghijklmnopqrtvwxyz'];

/** The key of each finding, in the order of the buttons; the rest have none and are pressed. */
export const keyOfFinding = (place: number): string | null => FINDING_KEYS[place] ?? null;

/** Which finding a key stands for, or null. */
export function findingOfKey(key: string, findings: number): number | null {
  const place = FINDING_KEYS.indexOf(key.toLowerCase());
  return place === -1 || place >= findings ? null : place;
}

/** A hand scanner types: keys that follow each other faster than this are no presses of a person. */
const BURST_MS = 60;

/**
 * Tells single presses from the bursts of a scanner. A press counts once nothing has followed it for a moment, and only if nothing came
 * just before it; of a burst nothing counts.
 * @param press called with the key of each single press
 * @returns to be called with every key, and a function that forgets what waits
 */
export function singlePresses(press: (key: string) => void): { hear: (key: string, atMs: number) => void; stop: () => void } {
  let last = -Infinity;
  let waiting: ReturnType<typeof setTimeout> | undefined;
  return {
    hear(key, atMs) {
      clearTimeout(waiting);
      const alone = atMs - last > BURST_MS;
      last = atMs;
      if (alone) waiting = setTimeout(() => press(key), BURST_MS);
    },
    stop: () => clearTimeout(waiting),
  };
}
