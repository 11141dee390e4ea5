import { describe, expect, it } from 'vitest';
import { currencyFault, formatMinor, minorDigits } from './currency.js';

describe('amounts of money', () => {
  it.each([
    [0, 2, '0.00'],
    [5, 2, '0.05'],
    [-5, 2, '-0.05'],
    [12345, 2, '123.45'],
    [12345, 0, '12345'],
    [1234, 3, '1.234'],
    [-9007199254740991, 2, '-90071992547409.91'],
  ])('%i with %i digits is %s', (minor, digits, text) => expect(formatMinor(minor, digits)).toBe(text));

  // Minor units of ISO 4217, from memory: yen have none, euros two, Bahraini dinars three.
  it.each([
    ['JPY', 0],
    ['EUR', 2],
    ['BHD', 3],
  ])('%s has %i decimals', (currency, digits) => expect(minorDigits(currency)).toBe(digits));

  it.each(['EUR', 'JPY', 'CHF'])('%s is a currency', (code) => expect(currencyFault(code)).toBeNull());
  it.each(['', 'eur', 'EURO', 'E1R', 'QQQ'])('"%s" is none', (code) => expect(currencyFault(code)).toContain('ISO 4217'));
});
