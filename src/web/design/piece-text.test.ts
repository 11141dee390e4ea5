import { expect, test } from 'vitest';
import { writtenSpans } from '../../../shared/written.js';
import { pieceText } from './piece-text.js';

test.each([
  ['5-17,40', '5-17,40'],
  [' 5 - 17, 40 ', '5-17,40'],
  ['5–17; 40', '5-17,40'],
  ['1-370 400', '1-370,400'],
  ['1 5', '1,5'],
  ['1,,5', '1,,5'],
  ['x', 'x'],
])('%j is %j', (typed, read) => {
  expect(pieceText(typed)).toBe(read);
});

test('what was copied from a page of ours is read as it was meant', () => {
  expect(
    pieceText(
      writtenSpans([
        [1, 1552],
        [12_000, 13_500],
      ]),
    ),
  ).toBe('1-1552,12000-13500');
});
