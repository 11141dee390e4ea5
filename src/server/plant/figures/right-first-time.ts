import { isoWeek } from '../../../../shared/iso-week.js';
import { countPieces, type SpanSet } from '../../../../shared/spans.js';
import type { RightFirstTimeRowView } from './nonconformance.dto.js';

/** A first inspection that was decided. */
export interface FirstInspection {
  readonly item: string;
  /** Null: a bulk lot. */
  readonly spans: SpanSet | null;
  readonly accepted: boolean;
  readonly decidedAt: string;
}

/**
 * How much was accepted the first time it was inspected, by item and week of the decision.
 * @see docs/rules/figures.md F-12, F-13
 */
export function rightFirstTime(inspections: readonly FirstInspection[]): RightFirstTimeRowView[] {
  const rows = new Map<string, RightFirstTimeRowView>();
  for (const { item, spans, accepted, decidedAt } of inspections) {
    const week = isoWeek(decidedAt.slice(0, 10));
    const key = `${item}\u0000${week}`;
    const row = rows.get(key) ?? { item, week, lots: 0, lotsAccepted: 0, lotRate: 0, pieces: 0, piecesAccepted: 0, pieceRate: null };
    const pieces = spans === null ? 0 : countPieces(spans);
    row.lots += 1;
    row.pieces += pieces;
    if (accepted) row.lotsAccepted += 1;
    if (accepted) row.piecesAccepted += pieces;
    rows.set(key, row);
  }
  return [...rows]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([, row]) => ({
      ...row,
      lotRate: rounded(row.lotsAccepted / row.lots),
      pieceRate: row.pieces === 0 ? null : rounded(row.piecesAccepted / row.pieces),
    }));
}

const rounded = (rate: number): number => Math.round(rate * 10_000) / 10_000;
