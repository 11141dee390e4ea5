import type { Reason } from '../refusal.js';

/** What stands between elements where a value's length is not fixed: FNC1 as scanners send it, ASCII 29. */
export const FNC1 = '\u001d';

/** A fault in something scanned: what, in words, and where. */
export interface Gs1Fault extends Reason {
  /** The character it begins at, counted from 0 in the text as scanned. */
  readonly at: number;
  /** The Application Identifier it is in, where one is. */
  readonly ai?: string;
}

/** One element: what it is, and its value as encoded. */
export interface Gs1Element {
  readonly ai: string;
  readonly value: string;
  /** Where its value begins in the text as scanned, counted from 0. */
  readonly at: number;
}

/** Elements that were understood and faults that were found. With any fault the elements are not to be relied on. */
export interface Gs1Reading {
  readonly elements: Gs1Element[];
  readonly faults: Gs1Fault[];
}

/** A piece of scanned text as it may be shown: separators and other unseen characters by name, long ones cut. */
export function shown(text: string): string {
  const cut = text.length > 40 ? `${text.slice(0, 40)}…` : text;
  return [...cut].map((letter) => (letter === FNC1 ? '[FNC1]' : letter < ' ' || letter === '\u007f' ? '[control]' : letter)).join('');
}
