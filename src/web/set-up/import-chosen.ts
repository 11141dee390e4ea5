import { useSyncExternalStore } from 'react';
import type { Chosen } from './import-files.js';

const NONE: Chosen = { files: new Map(), strangers: [] };

let chosen = NONE;
const listeners = new Set<() => void>();
const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener);
  return () => void listeners.delete(listener);
};

/** The files that are chosen. They stay chosen while one looks at other pages, as what comes of checking them does. */
export const useChosen = (): Chosen => useSyncExternalStore(subscribe, () => chosen);

export function choose(next: Chosen = NONE): void {
  chosen = next;
  listeners.forEach((tell) => tell());
}
