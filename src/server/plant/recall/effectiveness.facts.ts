import type { Level } from './progress.facts.js';

/** Numbers that level B may be given for so many consignees: more than 10 % and less than 100 %; undefined where there is none. */
export function levelBRange(consignees: number): { readonly least: number; readonly most: number } | undefined {
  const least = Math.floor(consignees / 10) + 1;
  const most = consignees - 1;
  return least <= most ? { least, most } : undefined;
}

/**
 * How many consignees a level of effectiveness checks asks for: A all of them, B a number decided case by case, C 10 %, D 2 %, E none;
 * rounded up (21 CFR 7.42(b)(3)).
 * @param sampleSize the number decided for level B. Kept to more than 10 % should the scope have grown since, and to what there is
 * @see docs/rules/recall.md RL-17
 */
export function checksNeeded(level: Level, consignees: number, sampleSize: number | null): number {
  switch (level) {
    case 'A':
      return consignees;
    case 'B':
      return Math.min(consignees, Math.max(sampleSize ?? 0, Math.floor(consignees / 10) + 1));
    case 'C':
      return Math.ceil(consignees / 10);
    case 'D':
      return Math.ceil(consignees / 50);
    default:
      return 0;
  }
}
