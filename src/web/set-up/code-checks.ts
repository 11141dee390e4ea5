import { gs1CheckDigit, isValidGln, isValidGtin } from '../../../shared/gs1/check-digit.js';

/** What is wrong with a number as it is typed: null where it is right, or nothing stands there. */
export type Check = (text: string) => string | null;

const rightEnd = (text: string): string => `its last digit is a check digit and would be ${gs1CheckDigit(text.slice(0, -1))}`;

/** A GTIN: 8, 12, 13 or 14 digits, the last a check digit. */
export const gtinFault: Check = (text) => {
  if (text === '' || isValidGtin(text)) return null;
  if (/\D/u.test(text)) return `${text} is no GTIN: it has digits only`;
  if (![8, 12, 13, 14].includes(text.length)) return `${text.length} digits so far; a GTIN has 8, 12, 13 or 14`;
  return `${text} is no GTIN: ${rightEnd(text)}`;
};

/** A GLN: 13 digits, the last a check digit. */
export const glnFault: Check = (text) => {
  if (text === '' || isValidGln(text)) return null;
  if (/\D/u.test(text)) return `${text} is no GLN: it has digits only`;
  if (text.length !== 13) return `${text.length} digits so far; a GLN has 13`;
  return `${text} is no GLN: ${rightEnd(text)}`;
};
