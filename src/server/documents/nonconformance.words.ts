import { MICRO } from '../../../shared/quantity.js';
import type { Part, Person, Signed } from './nonconformance.types.js';
import type { CellPart, Column } from './sheet.model.js';
import { writtenCount, writtenInstant, writtenPieces, writtenQuantity, writtenSpans } from '../../../shared/written.js';

/** A person by name and code: a name can be erased, a code cannot. */
export const personText = ({ person, name }: Person): string => (name === null ? person : `${name} (${person})`);

/** Pieces of what is counted, quantities of what is weighed: `120 pieces`, `12.5 kg`. */
export const amountOf = (micro: number, unit: string): string =>
  unit === 'each' ? writtenPieces(Math.round(micro / MICRO)) : writtenQuantity(micro, unit);

/** The number alone, where a column says what is counted. */
export const countOf = (micro: number, unit: string): string =>
  unit === 'each' ? writtenCount(Math.round(micro / MICRO)) : writtenQuantity(micro, unit);

/** A part of a lot in one cell. */
export const part = (one: Part): CellPart[] => [
  { text: one.lot, look: 'code' },
  { text: partText(one), look: 'quiet' },
];

/** How much of a lot, in words. */
export const partText = ({ spans, quantityMicro, unit }: Part): string =>
  spans === null ? amountOf(quantityMicro, unit) : `${amountOf(quantityMicro, unit)}: ${writtenSpans(spans)}`;

export const partColumns: readonly Column[] = [
  { head: 'Lot', share: 24 },
  { head: 'Item', share: 44 },
  { head: 'Pieces', share: 30 },
  { head: 'Amount', share: 18, align: 'right' },
];

export const partCells = (one: Part) => [
  [{ text: one.lot, look: 'code' as const }],
  one.itemName === null ? one.item : `${one.item}, ${one.itemName}`,
  one.spans === null ? 'not numbered' : writtenSpans(one.spans),
  countOf(one.quantityMicro, one.unit),
];

/** A signature as it must stand on paper. @see docs/rules/nonconformance.md NR-52 */
export const signatureCells = ({ by, at, meaning, seq }: Signed, broken = false) => [
  by.name === null ? by.person : [{ text: by.name }, { text: by.person, look: 'quiet' as const }],
  writtenInstant(at),
  broken ? [{ text: meaning }, { text: 'broken: what it signed has changed', look: 'accent' as const }] : meaning,
  writtenCount(seq),
];

export const signatureColumns: readonly Column[] = [
  { head: 'Printed name', share: 25 },
  { head: 'Date and time', share: 30 },
  { head: 'Meaning', share: 46 },
  { head: 'Entry', share: 10, align: 'right' },
];
