import { describe, expect, test } from 'vitest';
import { plain } from '../test/read-pdf.js';
import {
  writtenAmount,
  writtenCount,
  writtenDecimal,
  writtenDate,
  writtenHash,
  writtenInstant,
  writtenPieces,
  writtenQuantity,
  writtenShare,
  writtenSpans,
} from './written.js';

describe('figures as they are printed', () => {
  test.each([
    [0, '0'],
    [999, '999'],
    [1000, '1 000'],
    [2_147_483_647, '2 147 483 647'],
    [-1500, '−1 500'],
  ])('count %i', (count, text) => expect(plain(writtenCount(count))).toBe(text));

  test.each([
    [12_500_000, 'kg', '12.5 kg'],
    [2_400_000_000, 'L', '2 400 L'],
    [1, 'kg', '0.000001 kg'],
    [-1_234_567_890_000, 'kg', '−1 234 567.89 kg'],
  ])('%i millionths of a %s', (micro, unit, text) => expect(plain(writtenQuantity(micro, unit))).toBe(text));

  test.each([
    [0, '0 %'],
    [1, '100 %'],
    [0.0482, '4.82 %'],
    [0.00163, '0.16 %'],
    [0.5, '50 %'],
    [0.000_001, '< 0.001 %'],
    [0.000_012, '0.0012 %'],
    [0.999_99, '> 99.9 %'],
  ])('share %d', (fraction, text) => expect(plain(writtenShare(fraction))).toBe(text));

  test('a share of something is never printed as nothing, a share of less than all never as all', () => {
    for (let e = -12; e < 0; e += 0.01) {
      expect(writtenShare(10 ** e)).not.toMatch(/^0\s/u);
      expect(writtenShare(1 - 10 ** e)).not.toMatch(/^100\s/u);
    }
  });

  test('pieces, spans, dates and hashes', () => {
    expect(plain(writtenPieces(1))).toBe('1 piece');
    expect(plain(writtenPieces(2880))).toBe('2 880 pieces');
    expect(plain(writtenSpans([[1, 5], [7, 7], [1921, 4800]]))).toBe('1–5, 7, 1 921–4 800'); // prettier-ignore
    expect(plain(writtenDate('2026-03-05'))).toBe('5 Mar 2026');
    expect(plain(writtenInstant('2026-12-31T23:59:59.999Z'))).toBe('31 Dec 2026, 23:59 UTC');
    expect(writtenHash('0123456789abcdef', 8)).toBe('01234567 …');
    expect(writtenHash('0123456789abcdef')).toBe('01234567 89abcdef');
    expect(writtenAmount({ spans: [[1, 24]], quantityMicro: 5, unit: 'each' })).toBe('24');
    expect(plain(writtenAmount({ spans: null, quantityMicro: 500_000, unit: 'kg' }))).toBe('0.5 kg');
  });
});

test('a decimal of the wire keeps every digit', () => {
  expect(plain(writtenDecimal('2400.500', 'kg'))).toBe('2 400.500 kg');
  expect(plain(writtenDecimal('-1234567'))).toBe('−1 234 567');
  expect([writtenDecimal('1', 'each'), writtenDecimal('2000', 'each')].map(plain)).toEqual(['1 piece', '2 000 pieces']);
  expect(writtenDecimal('not a number')).toBe('not a number');
});
