import { formatQuantity } from '../../../../shared/quantity.js';
import { countPieces, formatSpans, type SpanSet } from '../../../../shared/spans.js';
import type { Unit } from '../stock/effects.facts.js';

/** What a sentence may ask that the fact does not say. */
export interface Known {
  /** Base unit of a lot; undefined for one that no entry brought into being. */
  unitOf(lot: string): Unit | undefined;
}

/** A fact in one sentence, without its full stop; who and when stand beside it. */
export type Say<F = never> = (fact: F, known: Known) => string;

/** `3 lots`, `1 lot`, `2 deliveries`. */
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** `pieces 5-17 of F26-0031` or `12.5 kg of R26-0007`. */
export function partOf(
  part: { readonly lot: string; readonly spans?: SpanSet | null; readonly quantityMicro?: number | null },
  known: Known,
): string {
  if (part.spans && part.spans.length > 0) return `${piecesOf(part.spans)} of ${part.lot}`;
  if (part.quantityMicro === undefined || part.quantityMicro === null) return part.lot;
  return `${amountOf(part.lot, part.quantityMicro, known)} of ${part.lot}`;
}

export function amountOf(lot: string, quantityMicro: number, known: Known): string {
  const unit = known.unitOf(lot);
  return `${formatQuantity(quantityMicro)}${unit === undefined || unit === 'each' ? '' : ` ${unit}`}`;
}

export const piecesOf = (spans: SpanSet): string => `${countPieces(spans) === 1 ? 'piece' : 'pieces'} ${formatSpans(spans)}`;

const MOST_IN_A_LIST = 12;

/** `A, B and C`; a long list is cut with a count of the rest, and the entry itself has all of it. */
export function listed(words: readonly string[]): string {
  if (words.length > MOST_IN_A_LIST) return `${words.slice(0, MOST_IN_A_LIST).join(', ')} and ${words.length - MOST_IN_A_LIST} more`;
  if (words.length < 2) return words[0] ?? 'nothing';
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)!}`;
}

/** `: because` where somebody gave a reason. */
export const because = (reason: string | undefined): string => (reason === undefined || reason === '' ? '' : `: ${reason}`);

export const signedBy = (signature: { readonly by: string; readonly meaning: string }): string =>
  ` (signed by ${signature.by}: ${signature.meaning})`;
