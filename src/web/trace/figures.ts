import type { AffectedPart, TraceAnswer } from '../../../shared/api/trace.js';
import { parseQuantity } from '../../../shared/quantity.js';
import { countPieces } from '../../../shared/spans.js';
import { writtenCount, writtenQuantity } from '../../../shared/written.js';

/** Pieces, and quantities of bulk goods by unit: those are never added up with each other. */
export interface Amount {
  readonly pieces: number;
  readonly bulk: ReadonlyMap<string, number>;
}

interface Counted {
  readonly pieces: number | null;
  readonly unit: string;
  readonly quantity: string;
}

function sum(parts: readonly Counted[]): Amount {
  let pieces = 0;
  const bulk = new Map<string, number>();
  for (const part of parts) {
    if (part.pieces !== null) pieces += part.pieces;
    else bulk.set(part.unit, (bulk.get(part.unit) ?? 0) + parseQuantity(part.quantity));
  }
  return { pieces, bulk };
}

/** An amount in words: `1 205 pieces, 399.2 kg`. */
export function writtenBulk({ bulk }: Pick<Amount, 'bulk'>): string {
  const parts = [...bulk].filter(([, micro]) => micro !== 0).toSorted(([a], [b]) => (a < b ? -1 : 1));
  return parts.map(([unit, micro]) => writtenQuantity(micro, unit)).join(', ');
}

export function writtenWhole(amount: Amount): string {
  const bulk = writtenBulk(amount);
  const pieces = `${writtenCount(amount.pieces)} ${amount.pieces === 1 ? 'piece' : 'pieces'}`;
  if (amount.pieces === 0) return bulk === '' ? 'none' : bulk;
  return bulk === '' ? pieces : `${pieces}, ${bulk}`;
}

/** Fates as people say them. What was consumed went into other lots, which are in the list themselves. */
const FATES: Readonly<Record<string, string>> = {
  'on-hand': 'On hand',
  dispatched: 'Dispatched',
  scrapped: 'Scrapped',
  retained: 'Retained',
  'destroyed-in-test': 'Destroyed in test',
  'returned-to-supplier': 'Returned to the supplier',
  'count-difference': 'Counted adjustment',
};

export interface Standing {
  readonly fate: string;
  readonly at: string;
  readonly amount: Amount;
}

/** Where affected goods are now, the same fate and place as one; what was dispatched as one. */
export function standings(answer: TraceAnswer): Standing[] {
  const units = new Map([...answer.lots, ...(answer.flow?.lots ?? [])].map(({ lot, unit }) => [lot, unit]));
  const groups = new Map<string, { fate: string; at: string; parts: Counted[] }>();
  const places = (answer.whereabouts ?? []).filter(({ fate }) => fate !== 'consumed');
  for (const part of places) {
    const at = part.fate === 'on-hand' ? part.at : '';
    const key = `${part.fate}\n${at}`;
    const group = groups.get(key) ?? { fate: part.fate, at, parts: [] };
    groups.set(key, group);
    group.parts.push({ pieces: part.pieces, quantity: part.quantity, unit: units.get(part.lot) ?? '' });
  }
  return [...groups.values()]
    .map(({ fate, at, parts }) => ({ fate: FATES[fate] ?? fate, at, amount: sum(parts) }))
    .toSorted((a, b) => Object.values(FATES).indexOf(a.fate) - Object.values(FATES).indexOf(b.fate) || (a.at < b.at ? -1 : 1));
}

const ofFate = (answer: TraceAnswer, fate: AffectedPart['fate']): Amount => {
  const units = new Map([...answer.lots, ...(answer.flow?.lots ?? [])].map(({ lot, unit }) => [lot, unit]));
  return sum(
    (answer.whereabouts ?? [])
      .filter((part) => part.fate === fate)
      .map(({ lot, pieces, quantity }) => ({ pieces, quantity, unit: units.get(lot) ?? '' })),
  );
};

/** What the page states before everything else. The origins count with what they reached, as in a recall. */
export interface TraceFigures extends Amount {
  readonly lots: number;
  readonly consignees: number;
  readonly dispatched: Amount;
  readonly onHand: Amount;
}

/** @param answer with its flow, which holds the origins too */
export function figuresOf(answer: TraceAnswer): TraceFigures {
  const hit = (answer.flow?.lots ?? []).filter(({ affected }) => affected);
  const parts = hit.map(({ pieces, spans, unit, affectedQuantity }) => ({
    pieces: pieces === null || spans === null ? null : countPieces(spans),
    unit,
    quantity: affectedQuantity,
  }));
  return {
    ...sum(parts),
    lots: hit.length,
    consignees: answer.totals.consignees,
    dispatched: ofFate(answer, 'dispatched'),
    onHand: ofFate(answer, 'on-hand'),
  };
}

/** One scope in numbers that can be set beside the other's. */
export interface ScopeFigures {
  readonly pieces: number;
  readonly lots: number;
  readonly consignees: number;
  readonly dispatchedPieces: number;
}

/** Both scopes, the origins included: conservatively these are whole lots too. */
export function scopesOf(
  answer: TraceAnswer,
  { lots, pieces }: TraceFigures,
): { readonly narrow: ScopeFigures; readonly conservative: ScopeFigures } | null {
  const { conservative, origin, flow, totals } = answer;
  if (conservative === undefined) return null;
  const whole = new Map((flow?.lots ?? []).map((lot) => [lot.lot, lot.pieces ?? 0]));
  const all = new Map([
    ...conservative.lots.map(({ lot, affectedPieces }): [string, number] => [lot, affectedPieces ?? 0]),
    ...origin.map(({ lot }): [string, number] => [lot, whole.get(lot) ?? 0]),
  ]);
  return {
    narrow: { pieces, lots, consignees: totals.consignees, dispatchedPieces: totals.dispatchedPieces },
    conservative: {
      pieces: [...all.values()].reduce((total, count) => total + count, 0),
      lots: all.size,
      consignees: conservative.totals.consignees,
      dispatchedPieces: conservative.totals.dispatchedPieces,
    },
  };
}
