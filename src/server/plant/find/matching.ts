import type { FoundKind, FindLineView } from './find.dto.js';
import { FOUND_KINDS } from './find.dto.js';

/** How well something fits what was asked for: 0 exactly, 1 but for upper and lower case, 2 begins with it, 3 contains it. */
export type Rank = 0 | 1 | 2 | 3;

/** Something found, before it is put in order. */
export interface Match {
  readonly rank: Rank;
  readonly found: Omit<FindLineView, 'exact'>;
}

/** Finds of one kind: the best, and how many there are in all. */
export interface Matches {
  readonly matches: readonly Match[];
  readonly total: number;
}

/** How well a text fits, or null if it does not. */
export function rankOf(candidate: string, asked: string): Rank | null {
  if (candidate === asked) return 0;
  const [lower, wanted] = [candidate.toLowerCase(), asked.toLowerCase()];
  if (lower === wanted) return 1;
  if (lower.startsWith(wanted)) return 2;
  return lower.includes(wanted) ? 3 : null;
}

/** The better of the ranks of a code and of other texts by which a thing is known; those never fit exactly. */
export function bestRank(code: string, asked: string, others: readonly (string | null | undefined)[]): Rank | null {
  const ranks = others.flatMap((text) => (text === null || text === undefined ? [] : [rankOf(text, asked)]));
  const found = [rankOf(code, asked), ...ranks.map((rank) => (rank === null ? null : (Math.max(2, rank) as Rank)))].filter(
    (rank) => rank !== null,
  );
  return found.length === 0 ? null : found.reduce((best, rank) => (rank < best ? rank : best));
}

const place = new Map<FoundKind, number>(FOUND_KINDS.map((kind, i) => [kind, i]));

/** The best finds of all kinds. */
export function bestOf(all: readonly Matches[], limit: number): { found: FindLineView[]; total: number } {
  const matches = all.flatMap((one) => one.matches);
  const sorted = matches.toSorted(
    (a, b) =>
      a.rank - b.rank ||
      place.get(a.found.kind)! - place.get(b.found.kind)! ||
      (a.found.code < b.found.code ? -1 : a.found.code > b.found.code ? 1 : 0) ||
      ((a.found.of ?? '') < (b.found.of ?? '') ? -1 : 1),
  );
  return {
    found: sorted.slice(0, limit).map(({ rank, found }) => ({ ...found, exact: rank <= 1 })),
    total: all.reduce((sum, one) => sum + one.total, 0),
  };
}
