import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import figures from '../../fixtures/standards/gs1-check-digits.json' with { type: 'json' };
import { gs1CheckDigit, isValidGln, isValidGtin } from './check-digit.js';

test.each(figures.right)('$kind $number ($source)', ({ kind, number }) => {
  expect(gs1CheckDigit(number.slice(0, -1))).toBe(Number(number.at(-1)));
  expect(isValidGtin(number)).toBe(kind.startsWith('GTIN') || kind === 'GLN');
  expect(isValidGln(number)).toBe(number.length === 13);
});

test.each(figures.wrong)('refused: $value ($source)', ({ value }) => {
  expect(isValidGtin(value)).toBe(false);
  expect(isValidGln(value)).toBe(false);
  expect(/^\d{2,}$/.test(value) && gs1CheckDigit(value.slice(0, -1)) === Number(value.at(-1))).toBe(false);
});

test.each(['', '12 4', '١٢٣', '12a', '-1'])('no digits: %j', (text) => {
  expect(() => gs1CheckDigit(text)).toThrow(RangeError);
});

const body = (length: number) =>
  fc.array(fc.integer({ min: 0, max: 9 }), { minLength: length, maxLength: length }).map((list) => list.join(''));

test('one digit changed is always noticed', () => {
  fc.assert(
    fc.property(fc.constantFrom(7, 11, 12, 13).chain(body), fc.nat(), fc.integer({ min: 1, max: 9 }), (digits, at, shift) => {
      const number = `${digits}${gs1CheckDigit(digits)}`;
      expect(isValidGtin(number)).toBe(true);
      const place = at % number.length;
      const changed = number.slice(0, place) + ((Number(number[place]) + shift) % 10) + number.slice(place + 1);
      expect(isValidGtin(changed)).toBe(false);
    }),
  );
});

test('zeros put before change nothing, so the shorter numbers live in the longer', () => {
  fc.assert(
    fc.property(body(7), (digits) => {
      expect(gs1CheckDigit(`000000${digits}`)).toBe(gs1CheckDigit(digits));
    }),
  );
});
