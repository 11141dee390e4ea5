import type { Traced } from '../../src/server/trace/traced.js';
import type { OracleOrigin, OracleReached } from '../oracle.js';

/** Answers in one plain form, so that `toEqual` shows what differs: lot to depth, pieces ('bulk' or a list), and what comes back. */
export type Answer = Record<string, { depth: number; pieces: string; again: string | null }>;

const listed = (pieces: Iterable<number>): string => [...pieces].toSorted((a, b) => a - b).join(',');

const expanded = (spans: readonly (readonly [number, number])[] | null): string => {
  if (spans === null) return 'bulk';
  return listed(spans.flatMap(([first, last]) => Array.from({ length: last - first + 1 }, (_, k) => first + k)));
};

const withoutPieces = (pieces: Set<number>): string => (pieces.has(0) ? 'bulk' : listed(pieces));

export function answerOfIndex(traced: Traced): Answer {
  return Object.fromEntries(
    traced.lots.map(({ lot, depth, spans, again }) => [
      lot,
      { depth, pieces: expanded(spans), again: again && `${again.depth}: ${expanded(again.spans)}` },
    ]),
  );
}

export function answerOfOracle(reached: Map<number, OracleReached>): Answer {
  return Object.fromEntries(
    [...reached].map(([lot, { depth, pieces, again }]) => [
      lot,
      { depth, pieces: withoutPieces(pieces), again: again && `${again.depth}: ${withoutPieces(again.pieces)}` },
    ]),
  );
}

/** The spans of a list of pieces, worked out here and not in shared/. */
export function spansOf(pieces: number[] | null): [number, number][] | null {
  if (pieces === null) return null;
  const spans: [number, number][] = [];
  for (const piece of [...new Set(pieces)].toSorted((a, b) => a - b)) {
    const last = spans.at(-1);
    if (last && last[1] === piece - 1) last[1] = piece;
    else spans.push([piece, piece]);
  }
  return spans;
}

export const originsOf = (origins: OracleOrigin[]) => origins.map(({ lot, pieces }) => ({ lot, spans: spansOf(pieces) }));
