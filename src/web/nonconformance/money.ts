import { parseQuantity } from '../../../shared/quantity.js';

const MICRO_DIGITS = 6;

/**
 * An amount as it is typed, `-12.50`, as whole minor units of a currency; null when it cannot be read or is finer than its minor unit.
 * @param digits decimals of the minor unit
 */
export function minorOf(text: string, digits: number): number | null {
  try {
    const micro = parseQuantity(text.trim());
    const finest = 10 ** (MICRO_DIGITS - digits);
    return micro % finest === 0 ? micro / finest : null;
  } catch {
    return null;
  }
}
