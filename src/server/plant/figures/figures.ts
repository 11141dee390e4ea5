import { exactInterval } from '../../../../shared/statistics/interval.js';
import type { SupplierItemView } from './figures.dto.js';

/** A lot as the figures count it. */
export interface CountedLot {
  readonly item: string;
  /** Empty: made here. */
  readonly supplier: string;
  readonly bornAt: string;
  /** When any of it was first released; null: not yet. */
  readonly releasedAt: string | null;
}

/** An inspection of a lot that was presented for the first time. */
export interface CountedInspection {
  readonly item: string;
  readonly supplier: string;
  readonly state: string;
  readonly verdict: string | null;
  readonly inspected: number;
  readonly nonconforming: number;
  readonly curtailed: boolean;
}

/** How severely a class is inspected now. */
export interface CountedSeverity {
  readonly item: string;
  readonly supplier: string;
  readonly class: string;
  readonly plan: string;
  readonly severity: string;
}

const CONFIDENCE = 0.95;
const MILLION = 1e6;
const HOUR = 3_600_000;

/**
 * The picture of each supplier and item, sorted by supplier and then item.
 * Nonconforming per million rests on whole samples only: a curtailed inspection stops at what it finds and would make the figure too high.
 * @see docs/rules/figures.md F-1 to F-5
 */
export function supplierItems(
  lots: readonly CountedLot[],
  inspections: readonly CountedInspection[],
  severities: readonly CountedSeverity[],
): SupplierItemView[] {
  const keys = new Map<string, { item: string; supplier: string }>();
  for (const { item, supplier } of [...lots, ...inspections]) keys.set(`${supplier}\u0000${item}`, { item, supplier });
  return [...keys]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([, { item, supplier }]) => {
      const own = <T extends { item: string; supplier: string }>(all: readonly T[]): T[] =>
        all.filter((one) => one.item === item && one.supplier === supplier);
      return pictureOf(item, supplier, own(lots), own(inspections), own(severities));
    });
}

function pictureOf(
  item: string,
  supplier: string,
  lots: readonly CountedLot[],
  inspections: readonly CountedInspection[],
  severities: readonly CountedSeverity[],
): SupplierItemView {
  const whole = inspections.filter((one) => one.state === 'decided' && !one.curtailed);
  const inspected = whole.reduce((sum, one) => sum + one.inspected, 0);
  const nonconforming = whole.reduce((sum, one) => sum + one.nonconforming, 0);
  const hours = lots
    .flatMap((lot) => (lot.releasedAt === null ? [] : [(Date.parse(lot.releasedAt) - Date.parse(lot.bornAt)) / HOUR]))
    .toSorted((a, b) => a - b);
  return {
    supplier: supplier === '' ? null : supplier,
    item,
    lots: lots.length,
    accepted: inspections.filter((one) => one.verdict === 'accepted').length,
    notAccepted: inspections.filter((one) => one.verdict === 'not-accepted').length,
    skipped: inspections.filter((one) => one.state === 'skipped').length,
    open: inspections.filter((one) => one.state === 'waiting' || one.state === 'begun').length,
    itemsInspected: inspected,
    itemsNonconforming: nonconforming,
    nonconformingPerMillion: inspected === 0 ? null : perMillion(nonconforming, inspected),
    severity: severities.map(({ class: of, plan, severity }) => ({ class: of, plan, severity })),
    released: hours.length,
    medianHoursToRelease: hours.length === 0 ? null : rounded(median(hours)),
    longestHoursToRelease: hours.length === 0 ? null : rounded(hours.at(-1)!),
  };
}

function perMillion(found: number, items: number): { estimate: number; lower: number; upper: number; confidence: number } {
  const { estimate, lower, upper } = exactInterval(found, items, CONFIDENCE);
  return {
    estimate: rounded(estimate * MILLION),
    lower: rounded(lower * MILLION),
    upper: rounded(upper * MILLION),
    confidence: CONFIDENCE,
  };
}

const rounded = (value: number): number => Math.round(value * 10) / 10;

function median(sorted: readonly number[]): number {
  const half = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}
