import { sumMicro } from '../../../shared/quantity.js';
import { countPieces, intersectSpans, subtractSpans, unionSpans, type SpanSet } from '../../../shared/spans.js';
import type { AffectedLot, AffectedWhereabouts, Fate } from './recall-report.types.js';

/** The order in which fates are listed: what left the plant first. */
export const FATES: readonly Fate[] = [
  'dispatched',
  'on hand',
  'consumed',
  'scrapped',
  'retained',
  'destroyed in test',
  'returned to supplier',
  'counted adjustment',
];

/** Counted in pieces for numbered lots, in whole millionths of the unit for others. */
export type Counted = number;

export interface LotAccount {
  readonly lot: string;
  readonly affected: Counted;
  readonly byFate: ReadonlyMap<Fate, Counted>;
  /** `affected` less all that is accounted for; 0 when they add up. */
  readonly difference: Counted;
  /** Affected pieces that are nowhere in the whereabouts. */
  readonly missing: SpanSet;
  /** Affected pieces that are in two places at once. */
  readonly twice: SpanSet;
  /** Pieces in the whereabouts given that are not affected at all. */
  readonly beside: SpanSet;
}

/** The accounts of all affected lots that count in one unit, with their sums. */
export interface UnitAccount {
  /** `pieces` for numbered lots, else the base unit. */
  readonly unit: string;
  readonly lots: readonly LotAccount[];
  readonly affected: Counted;
  readonly byFate: ReadonlyMap<Fate, Counted>;
  readonly difference: Counted;
}

/**
 * Sets the affected pieces and quantities against where they are, lot by lot, and says exactly what does not add up. Pieces are
 * compared one by one (as spans), so two mistakes that cancel in the count are still found.
 * @throws RangeError when whereabouts are given for a lot that is not affected, or without pieces for a numbered one
 */
export function reconcile(lots: readonly AffectedLot[], whereabouts: readonly AffectedWhereabouts[]): UnitAccount[] {
  const places = new Map<string, AffectedWhereabouts[]>(lots.map(({ lot }) => [lot, []]));
  for (const place of whereabouts) {
    const list = places.get(place.lot);
    if (list === undefined) throw new RangeError(`whereabouts are given for lot ${place.lot}, which is not affected`);
    list.push(place);
  }
  for (const { lot, spans } of lots) {
    const place = places.get(lot)?.find((each) => (each.spans === null) !== (spans === null));
    if (place !== undefined) throw new RangeError(`lot ${lot} and its place ${place.holder} do not count in the same way`);
  }
  const units = new Map<string, LotAccount[]>();
  for (const lot of lots) {
    const unit = lot.spans === null ? lot.unit : 'pieces';
    const account = accountOf(lot, places.get(lot.lot) ?? []);
    const accounts = units.get(unit);
    if (accounts === undefined) units.set(unit, [account]);
    else accounts.push(account);
  }
  return [...units].map(([unit, accounts]) => ({
    unit,
    lots: accounts,
    affected: sumMicro(accounts.map(({ affected }) => affected)),
    byFate: sumByFate(accounts.flatMap(({ byFate }) => [...byFate])),
    difference: sumMicro(accounts.map(({ difference }) => difference)),
  }));
}

/** Whether every lot adds up, piece by piece. */
export function addsUp(accounts: readonly UnitAccount[]): boolean {
  return accounts.every(({ lots }) => lots.every(lotAddsUp));
}

/** Whether one lot adds up, piece by piece. */
export function lotAddsUp(account: LotAccount): boolean {
  return account.difference === 0 && [account.missing, account.twice, account.beside].every((spans) => spans.length === 0);
}

function sumByFate(entries: readonly (readonly [Fate, Counted])[]): Map<Fate, Counted> {
  const sums = new Map<Fate, Counted>();
  for (const [fate, counted] of entries) sums.set(fate, sumMicro([sums.get(fate) ?? 0, counted]));
  return sums;
}

function countedOf(place: AffectedWhereabouts): Counted {
  return place.spans === null ? place.quantityMicro : countPieces(place.spans);
}

function accountOf(lot: AffectedLot, places: readonly AffectedWhereabouts[]): LotAccount {
  const byFate = sumByFate(places.map((place) => [place.fate, countedOf(place)] as const));
  const affected = lot.spans === null ? lot.affectedMicro : countPieces(lot.spans);
  const difference = affected - sumMicro(byFate.values());
  if (lot.spans === null) return { lot: lot.lot, affected, byFate, difference, missing: [], twice: [], beside: [] };
  const { once, twice } = overlay(places.map(({ spans }) => spans ?? []));
  return {
    lot: lot.lot,
    affected,
    byFate,
    difference,
    missing: subtractSpans(lot.spans, once),
    twice,
    beside: subtractSpans(once, lot.spans),
  };
}

/**
 * The pieces in any of the sets, and those in more than one. Halved again and again, so that a lot that went to thousands of
 * customers is not united with each of them in turn.
 */
function overlay(sets: readonly SpanSet[]): { once: SpanSet; twice: SpanSet } {
  if (sets.length <= 1) return { once: sets[0] ?? [], twice: [] };
  const middle = sets.length >> 1;
  const left = overlay(sets.slice(0, middle));
  const right = overlay(sets.slice(middle));
  return {
    once: unionSpans(left.once, right.once),
    twice: unionSpans(unionSpans(left.twice, right.twice), intersectSpans(left.once, right.once)),
  };
}
