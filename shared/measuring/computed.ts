import { formatQuantity } from '../quantity.js';
import { MeasurementFault } from './measurement-fault.js';
import type { Row } from './method.js';

/** One figure of the working, so that a reader can check the result by hand. */
export interface Figure {
  /** A name a program can rely on. */
  readonly name: string;
  /** What it is, for a reader. */
  readonly words: string;
  /** Decimal text. */
  readonly value: string;
  readonly unit?: string;
}

/** Whether a rule that goes with the method is kept, and each way in which it is not. */
export interface RuleVerdict {
  readonly accepted: boolean;
  /** Why, whichever way it went: one sentence for each rule looked at. */
  readonly reasons: readonly { readonly rule: string; readonly kept: boolean; readonly words: string }[];
}

/** A computed result: the value, what it was worked out from, and how. */
export interface Computed {
  readonly kind: string;
  /** The result in millionths of `unit`, rounded once by the characteristic's rule. */
  readonly valueMicro: number;
  /** Set when the method itself fixes the unit: kg/L, g or mL. */
  readonly unit?: string;
  /** What was read, line by line, as decimal texts. */
  readonly inputs: readonly Readonly<Record<string, string>>[];
  readonly figures: readonly Figure[];
  readonly cautions: readonly string[];
  /** Only where the method carries rules of its own (net content). */
  readonly verdict?: RuleVerdict;
}

/** A figure in millionths as it is shown. */
export function figure(name: string, words: string, micro: number, unit?: string): Figure {
  return { name, words, value: formatQuantity(micro), ...(unit === undefined ? {} : { unit }) };
}

/** What was read, in the texts a person would enter. */
export function echo(rows: readonly Row[]): Record<string, string>[] {
  return rows.map((row) => Object.fromEntries(Object.entries(row).map(([name, micro]) => [name, formatQuantity(micro)])));
}

/**
 * One column of the lines, in millionths.
 * @throws MeasurementFault when a line lacks it or it is not kept exactly
 */
export function column(rows: readonly Row[], name: string): number[] {
  return rows.map((row, i) => {
    const micro = row[name];
    if (micro === undefined) throw new MeasurementFault(`${name} is missing`, `/${i}/${name}`);
    if (!Number.isSafeInteger(micro)) throw new MeasurementFault(`${name} is not a whole number of millionths`, `/${i}/${name}`);
    return micro;
  });
}

/** The exact sum of millionths. */
export const sum = (terms: readonly number[]): bigint => terms.reduce((total, term) => total + BigInt(term), 0n);
