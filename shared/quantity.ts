/** Millionths in one base unit: a quantity of 12.5 kg is the number 12_500_000. */
export const MICRO = 1_000_000;

const DECIMALS = 6;
const LARGEST = BigInt(Number.MAX_SAFE_INTEGER);

/** A quantity that cannot be read or kept exactly; `message` says why in plain words. */
export class QuantityFault extends Error {
  override readonly name = 'QuantityFault';
}

function toSafe(micro: bigint, subject: string): number {
  if (micro > LARGEST || micro < -LARGEST) throw new QuantityFault(`${subject} is larger than can be kept exactly`);
  return Number(micro);
}

/**
 * Reads decimal text into whole millionths of the base unit.
 * @param text digits with at most six decimals after a point; a sign is allowed, an exponent is not
 * @throws QuantityFault saying what is wrong with the text
 */
export function parseQuantity(text: string): number {
  if (text.length < 10 && /^\d+$/.test(text)) return Number(text) * MICRO; // most quantities, and exact: nine digits and six zeros
  const match = /^([+-]?)(\d+)(?:\.(\d+))?$/.exec(text);
  if (match === null) {
    const shown = text.length > 40 ? `${text.slice(0, 40)}…` : text;
    throw new QuantityFault(text.includes(',') ? `'${shown}' has a comma; decimals follow a point` : `'${shown}' is not a decimal number`);
  }
  const [, sign, whole = '', decimals = ''] = match;
  if (decimals.length > DECIMALS) throw new QuantityFault(`more than ${DECIMALS} decimals; quantities are kept to the millionth`);
  const digits = `${whole}${decimals.padEnd(DECIMALS, '0')}`.replace(/^0+/, '');
  // Refused by its length first, so that a megabyte of digits costs nothing.
  if (digits.length > 16) throw new QuantityFault('the quantity is larger than can be kept exactly');
  const micro = toSafe(BigInt(digits), 'the quantity');
  return sign === '-' && micro !== 0 ? -micro : micro;
}

/**
 * Writes whole millionths as decimal text without trailing zeros: '12.5', '2400', '-0.000001'.
 * @throws QuantityFault when the number is not a safe integer
 */
export function formatQuantity(micro: number): string {
  if (!Number.isSafeInteger(micro)) throw new QuantityFault(`${micro} is not a whole number of millionths`);
  const size = Math.abs(micro);
  const rest = size % MICRO;
  // The remainder goes first, so that the division is exact and nothing rests on how it rounds.
  const whole = `${micro < 0 ? '-' : ''}${(size - rest) / MICRO}`;
  return rest === 0 ? whole : `${whole}.${`${rest}`.padStart(DECIMALS, '0').replace(/0+$/, '')}`;
}

/**
 * a · b / c, exact and then rounded once, half to even, to a whole number.
 * @param a safe integer, as are `b` and `c`
 * @throws QuantityFault when c is 0, an operand is not a safe integer, or the result is none
 */
export function mulDivMicro(a: number, b: number, c: number): number {
  for (const operand of [a, b, c]) {
    if (!Number.isSafeInteger(operand)) throw new QuantityFault(`${operand} is not a whole number`);
  }
  if (c === 0) throw new QuantityFault('a quantity cannot be divided by nothing');
  const product = BigInt(a) * BigInt(b);
  const negative = product < 0n !== c < 0;
  const size = product < 0n ? -product : product;
  const divisor = BigInt(Math.abs(c));
  const down = size / divisor;
  const twiceRest = (size % divisor) * 2n;
  const up = twiceRest > divisor || (twiceRest === divisor && down % 2n === 1n);
  const rounded = up ? down + 1n : down;
  return toSafe(negative ? -rounded : rounded, 'the result');
}

/**
 * The sum of quantities in whole millionths, in any order the same.
 * @throws QuantityFault when a term is not a safe integer or the sum is none
 */
export function sumMicro(terms: Iterable<number>): number {
  let sum = 0n;
  for (const term of terms) {
    if (!Number.isSafeInteger(term)) throw new QuantityFault(`${term} is not a whole number of millionths`);
    sum += BigInt(term);
  }
  return toSafe(sum, 'the sum');
}

/**
 * The mass of a quantity, in whole millionths of a kilogram.
 * @param quantityMicro millionths of `unit`
 * @param unit the item's base unit: `kg`, `L`, `m` or `each`
 * @param densityMicro millionths of a kilogram per litre, where the item has a density
 * @returns null when the quantity has no mass that is known: metres, pieces, or litres without a density
 * @throws QuantityFault when the mass is too large to keep exactly
 */
export function massMicro(quantityMicro: number, unit: string, densityMicro: number | null): number | null {
  if (unit === 'kg') return quantityMicro;
  if (unit === 'L' && densityMicro !== null) return mulDivMicro(quantityMicro, densityMicro, MICRO);
  return null;
}
