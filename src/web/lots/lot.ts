import { MICRO, parseQuantity } from '../../../shared/quantity.js';
import { type SpanSet, unionSpans, wholeLot } from '../../../shared/spans.js';
import type { View } from '../wire/client.js';
import { spansIn } from './words.js';

export type Lot = View<'LotView'>;
type Place = Lot['places'][number];

/** The stretches of a numbered lot that have one of these fates. */
export const spansOfFate = (lot: Lot, ...fates: readonly string[]): SpanSet =>
  lot.places
    .filter(({ fate }) => fates.includes(fate))
    .map(({ pieces }) => spansIn(pieces))
    .reduce(unionSpans, []);

/** How much of a lot has one of these fates, in whole millionths of its unit. */
export const microOfFate = (lot: Lot, ...fates: readonly string[]): number =>
  lot.places.filter(({ fate }) => fates.includes(fate)).reduce((sum, { quantity }) => sum + parseQuantity(quantity), 0);

/** The part that is stamped with a word: pieces of a numbered lot, all of it where it is stamped as a whole. */
export const spansStamped = (lot: Lot, word: string): SpanSet =>
  lot.stamps
    .filter(({ stamp }) => stamp === word)
    .map(({ pieces }) => (pieces === null ? wholeLot(lot.pieces ?? 0) : spansIn(pieces)))
    .reduce(unionSpans, []);

export const isStamped = (lot: Lot, word: string): boolean => lot.stamps.some(({ stamp }) => stamp === word);

/** Where parts of the lot stand that can be taken. */
export const placesOnHand = (lot: Lot): readonly Place[] => lot.places.filter(({ fate }) => fate === 'on-hand');

/** Quantities of the reconciliation by the word for where it is; they add up to the lot. */
export function whereItIs(lot: Lot): { says: string; micro: number }[] {
  const { reconciliation: sums } = lot;
  const all: readonly [string, string][] = [
    ['On hand', sums.onHand],
    ['Dispatched', sums.dispatched],
    ['Consumed', sums.consumed],
    ['Retained', sums.retained],
    ['Scrapped', sums.scrapped],
    ['Tested to destruction', sums.destroyedInTest],
    ['Back to the supplier', sums.returnedToSupplier],
    ['Count difference', sums.countDifference],
  ];
  return all.map(([says, quantity]) => ({ says, micro: parseQuantity(quantity) }));
}

/** All of the lot. @returns whole millionths of its unit */
export const wholeMicro = (lot: Lot): number => (lot.pieces === null ? parseQuantity(lot.quantity) : lot.pieces * MICRO);

/** The address of a trace or a report that takes the lot and the pieces selected. */
export function askedWith(path: string, lot: Lot, selection: string, more: Readonly<Record<string, string>> = {}): string {
  const asked = new URLSearchParams({ lot: lot.lot, ...(selection === '' ? {} : { pieces: selection }), ...more });
  return `${path}?${asked.toString()}`;
}
