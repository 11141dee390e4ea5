import { expect, test } from 'vitest';
import { checkPair } from './check-pair.js';
import { readElementString } from './element-string.js';

/** Source: unit tests of the GS1 Barcode Syntax Dictionary, src/lint_csumalpha.c, commit 101d3a46e2f887a507434f939717dd2d1844b316, Apache-2.0. */
const RIGHT = [
  '1987654Ad4X4bL5ttr2310c2K',
  '12345678901234567890123NT',
  '12345_ABCDEFGHIJKLMCP',
  '12345_abcdefghijklmN3',
  '12345_0123456789:;<=>?62',
  '7907665Bm8v2AB',
  '149512464PM+GH',
  '99999zzzzzzzzzzzzzzzzzzT2',
];

test.each(RIGHT)('%s', (text) => {
  expect(checkPair(text.slice(0, -2))).toBe(text.slice(-2));
  expect(readElementString(`8013${text}`, 2026).faults).toEqual([]);
  expect(readElementString(`8013${text.slice(0, -1)}${text.endsWith('3') ? '4' : '3'}`, 2026).faults.map(({ code }) => code)).toEqual([
    'check-digit-wrong',
  ]);
});

test('a character of no weight', () => {
  expect(checkPair('a b')).toBeNull();
});

/** The second is the specimen of the IBAN registry, from memory; the first differs from it in one digit. */
test.each([
  ['GB82WEST12345698765433', ['check-digit-wrong']],
  ['GB82WEST12345698765432', []],
  ['no account', ['bad-character']],
  ['12WEST', ['content-not-allowed']],
])('account number %s', (text, codes) => {
  expect(readElementString(`8007${text}`, 2026).faults.map(({ code }) => code)).toEqual(codes);
});
