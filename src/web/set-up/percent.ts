import { formatQuantity, parseQuantity } from '../../../shared/quantity.js';

/** Millionths of a percent in a hundredth of a percent. */
const MICRO_OF_BP = 10_000;

/** What a field for a percentage takes: at most two decimals. */
export const PERCENT_PATTERN = '[0-9]+([.][0-9]{1,2})?';

/** Hundredths of a percent as a percentage: 250 is `2.5`. */
export const percentOfBp = (bp: number): string => formatQuantity(bp * MICRO_OF_BP);

/** A percentage as hundredths of a percent. @throws QuantityFault where the text is no decimal number */
export const bpOfPercent = (text: string): number => Math.round(parseQuantity(text.trim()) / MICRO_OF_BP);
