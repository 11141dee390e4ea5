const GTIN_LENGTHS: ReadonlySet<number> = new Set([8, 12, 13, 14]);
const GLN_LENGTH = 13;

/**
 * The check digit that follows the given digits: from the right they weigh 3 and 1 in turn, and the check digit brings the sum to a
 * multiple of ten. The rule is that of gs1.org, "How to calculate a check digit manually", the same for GTIN, GLN and SSCC.
 * @param digits the number without its check digit
 * @throws RangeError when the text is empty or holds anything but the digits 0 to 9
 */
export function gs1CheckDigit(digits: string): number {
  if (!/^[0-9]+$/.test(digits)) throw new RangeError(`'${digits}' is not made of digits`);
  let sum = 0;
  for (let fromRight = 0; fromRight < digits.length; fromRight += 1) {
    const digit = Number(digits[digits.length - 1 - fromRight]);
    sum += fromRight % 2 === 0 ? digit * 3 : digit;
  }
  return (10 - (sum % 10)) % 10;
}

function endsInCheckDigit(text: string): boolean {
  return /^[0-9]{2,}$/.test(text) && gs1CheckDigit(text.slice(0, -1)) === Number(text.at(-1));
}

/** Whether the text is a GTIN of 8, 12, 13 or 14 digits whose check digit is right. */
export function isValidGtin(text: string): boolean {
  return GTIN_LENGTHS.has(text.length) && endsInCheckDigit(text);
}

/** Whether the text is a GLN: 13 digits whose check digit is right. */
export function isValidGln(text: string): boolean {
  return text.length === GLN_LENGTH && endsInCheckDigit(text);
}
