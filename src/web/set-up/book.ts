import type { ComponentType } from 'react';

/** What every record of the catalogue has. */
export interface Recorded {
  readonly code: string;
  readonly revision: number;
  readonly name: string;
}

/** A kind of record in the plant's own words. */
export interface Words {
  /** Its part of the address. */
  readonly place: string;
  /** As a heading: `Items`. */
  readonly many: string;
  /** In a sentence: `item`. */
  readonly one: string;
  /** What records of this kind are for. */
  readonly purpose: string;
  /** What goes on with the revision it was made with, after a new one. */
  readonly kept: string;
}

/** The pages of one kind of record. */
export interface Book {
  readonly words: Words;
  readonly List: ComponentType;
  readonly Page: ComponentType<{ code: string }>;
  /** The form for a new one (`null`) or for a new revision. */
  readonly Edit: ComponentType<{ code: string | null }>;
}

/** Who may change the catalogue. */
export const REVISERS = ['quality', 'administrator'] as const;

export const addressOf = (place: string, code: string): string => `/set-up/${place}/${encodeURIComponent(code)}`;
export const withArticle = (noun: string): string => `${/^[aeiou]/u.test(noun) ? 'an' : 'a'} ${noun}`;
