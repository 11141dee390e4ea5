/**
 * The acceptance quality limits of ISO 2859-1:1999, as printed. Up to 10 they are per cent nonconforming items or nonconformities per
 * 100 items; above 10 only nonconformities per 100 items. Five steps a decade (the R5 series), so a step is about a factor of 1.58.
 */
export const AQLS = [
  ...(['0.010', '0.015', '0.025', '0.040', '0.065'] as const),
  ...(['0.10', '0.15', '0.25', '0.40', '0.65'] as const),
  ...(['1.0', '1.5', '2.5', '4.0', '6.5'] as const),
  ...(['10', '15', '25', '40', '65'] as const),
  ...(['100', '150', '250', '400', '650', '1000'] as const),
] as const;

/** One of the 26 limits, as printed. */
export type Aql = (typeof AQLS)[number];

/** What an AQL counts: nonconforming items in per cent, or nonconformities per 100 items, of which one item can have several. */
export const BASES = ['items', 'nonconformities'] as const;
export type Basis = (typeof BASES)[number];

const DECIMAL = /^\d+(\.\d+)?$/;

/** The printed form of a limit however it is written (`1`, `1.00` and `01.0` are `1.0`), or undefined when it is none of the 26. */
export function aqlOf(text: string): Aql | undefined {
  if (!DECIMAL.test(text)) return undefined;
  const value = Number(text);
  return AQLS.find((aql) => Number(aql) === value);
}

/**
 * The limits on either side of a number that is none: two, or one beyond either end of the list.
 * @returns none when the text is not a decimal number
 */
export function nearestAqls(text: string): readonly Aql[] {
  if (!DECIMAL.test(text)) return [];
  const value = Number(text);
  const below = AQLS.findLast((aql) => Number(aql) < value);
  const above = AQLS.find((aql) => Number(aql) > value);
  return [below, above].filter((aql) => aql !== undefined);
}

/** Whether the limit can mean per cent nonconforming items: those up to 10. */
export const limitsItems = (aql: Aql): boolean => Number(aql) <= 10;
