import { expect, it } from 'vitest';
import { pieceNumber } from './piece-number.js';

it('takes a whole number of pieces, and nothing else for one', () => {
  expect([' 753 ', '1', '2147483647'].map(pieceNumber)).toEqual([753, 1, 2147483647]);
  expect(['', '0', '-4', '1.5', '1,5', '1e3', 'abc', '0x10', '2147483648', '99999999999'].map(pieceNumber)).toEqual(Array(10).fill(0));
});
