import { countPieces, intersectSpans, type SpanSet, subtractSpans, unionSpans } from '../../../../shared/spans.js';
import { MICRO } from '../../../../shared/quantity.js';
import type { AffectedPart } from './nonconformance.facts.js';
import type { Disposition, Report } from './report-state.facts.js';

/** How the dispositions of one affected lot stand against what is affected of it. */
export interface LotAccount {
  readonly lot: string;
  /** Millionths of the lot's unit; pieces × 1,000,000 for a numbered lot. */
  readonly affectedMicro: number;
  readonly disposedMicro: number;
  readonly carriedOutMicro: number;
  /** Affected and not disposed of; null for a bulk lot. */
  readonly openSpans: SpanSet | null;
  readonly openMicro: number;
  /** Disposed of more than once, or not affected at all; null for a bulk lot. */
  readonly tooManySpans: SpanSet | null;
  readonly tooManyMicro: number;
}

/** The parts a disposition accounts for now: a sorted one only for what was found to conform. */
export const accountedBy = (one: Disposition): AffectedPart | null => {
  if (one.withdrawn !== null) return null;
  const sorted = one.carriedOut?.fact.sorted;
  return sorted ? sorted.conforming : one.terms.part;
};

/**
 * Affected against disposed, lot by lot: they must come to the same, piece by piece (domain rule 6).
 * @see docs/rules/nonconformance.md NR-20
 */
export function accountsOf(report: Report): LotAccount[] {
  const lots = [...new Set(report.affected.map((part) => part.lot))].toSorted();
  return lots.map((lot) => {
    const affected = report.affected.filter((part) => part.lot === lot);
    const standing = report.dispositions.flatMap((one) => {
      const part = accountedBy(one);
      return part?.lot === lot ? [{ part, done: one.carriedOut !== null }] : [];
    });
    return affected[0]!.spans === null ? bulkAccount(lot, affected, standing) : piecesAccount(lot, affected, standing);
  });
}

type Standing = readonly { readonly part: AffectedPart; readonly done: boolean }[];

function piecesAccount(lot: string, affected: readonly AffectedPart[], standing: Standing): LotAccount {
  const all = affected.reduce<SpanSet>((sum, part) => unionSpans(sum, part.spans ?? []), []);
  let disposed: SpanSet = [];
  let twice: SpanSet = [];
  for (const { part } of standing) {
    twice = unionSpans(twice, intersectSpans(disposed, part.spans ?? []));
    disposed = unionSpans(disposed, part.spans ?? []);
  }
  const done = standing.filter((one) => one.done).reduce<SpanSet>((sum, { part }) => unionSpans(sum, part.spans ?? []), []);
  const open = subtractSpans(all, disposed);
  const tooMany = unionSpans(twice, subtractSpans(disposed, all));
  return {
    lot,
    affectedMicro: countPieces(all) * MICRO,
    disposedMicro: countPieces(disposed) * MICRO,
    carriedOutMicro: countPieces(done) * MICRO,
    openSpans: open,
    openMicro: countPieces(open) * MICRO,
    tooManySpans: tooMany,
    tooManyMicro: countPieces(tooMany) * MICRO,
  };
}

function bulkAccount(lot: string, affected: readonly AffectedPart[], standing: Standing): LotAccount {
  const sum = (parts: readonly AffectedPart[]): number => parts.reduce((total, part) => total + (part.quantityMicro ?? 0), 0);
  const affectedMicro = sum(affected);
  const disposedMicro = sum(standing.map((one) => one.part));
  return {
    lot,
    affectedMicro,
    disposedMicro,
    carriedOutMicro: sum(standing.filter((one) => one.done).map((one) => one.part)),
    openSpans: null,
    openMicro: Math.max(0, affectedMicro - disposedMicro),
    tooManySpans: null,
    tooManyMicro: Math.max(0, disposedMicro - affectedMicro),
  };
}

/** Whether every affected piece and quantity has exactly one disposition. */
export const addsUp = (accounts: readonly LotAccount[]): boolean =>
  accounts.every((account) => account.openMicro === 0 && account.tooManyMicro === 0);
