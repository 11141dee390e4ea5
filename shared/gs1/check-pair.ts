/** The 82 characters an element's value may be made of, in the order that gives them their weights (GS1 General Specifications, CSET 82). */
export const CSET_82 = '!"%&\'()*+,-./0123456789:;<=>?ABCDEFGHIJKLMNOPQRSTUVWXYZ_abcdefghijklmnopqrstuvwxyz';

const CSET_32 = '23456789ABCDEFGHJKLMNPQRSTUVWXYZ';

function primes(count: number): number[] {
  const found: number[] = [];
  for (let n = 2; found.length < count; n += 1) if (found.every((prime) => n % prime !== 0)) found.push(n);
  return found;
}

/**
 * The two check characters that follow a key with letters: its characters, weighed from the right by 2, 3, 5, 7, 11 …, added modulo 1021,
 * and the ten bits of the sum in two halves. The rule is that of the GS1 Barcode Syntax Dictionary, src/lint_csumalpha.c.
 * @returns null when a character is not one of CSET 82
 */
export function checkPair(text: string): string | null {
  const weights = primes(text.length).toReversed();
  let sum = 0;
  for (const [i, letter] of [...text].entries()) {
    const value = CSET_82.indexOf(letter);
    if (value < 0) return null;
    sum += value * (weights[i] ?? 0);
  }
  sum %= 1021;
  return `${CSET_32[sum >> 5]}${CSET_32[sum & 31]}`;
}
