import type { Tone } from '../sheet.model.js';

/** The light inks of the record book, the same as the browser client's. */
export const INK: Readonly<Record<Tone, string>> = {
  ink: '#1c2430',
  quiet: '#4a5464',
  accent: '#a63b1f',
  river: '#33658a',
  riverWash: '#dbe6ee',
  accentWash: '#f6e3db',
  ghost: '#e7e3d8',
  rule: '#d8d3c6',
  ruleStrong: '#a9a394',
  paper: '#ffffff',
};

/** The inks of stamps that no other thing on the page uses. */
export const STAMP_INK = {
  released: '#2f6b45',
  quarantine: '#8a5a00',
  held: '#a63b1f',
  refused: '#7a1f3d',
  muted: '#5c616b',
  drill: '#1c2430',
  open: '#a63b1f',
} as const;
