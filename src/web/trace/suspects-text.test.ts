import { expect, test } from 'vitest';
import { failedText, readFailed, readPopulation, withLines } from './suspects-text.js';

test('a code alone is a serial among what failed, and a lot among what might have', () => {
  expect(readFailed('K-02291\n\n F-1  5-17, 40 \nF-2 all').read).toEqual([
    { serial: 'K-02291' },
    { lot: 'F-1', pieces: '5-17,40' },
    { lot: 'F-2' },
  ]);
  expect(readPopulation('F-1\r\nF-2 1-400').read).toEqual([{ lot: 'F-1' }, { lot: 'F-2', pieces: '1-400' }]);
});

test('blanks between piece numbers part them', () => {
  expect(readFailed('F-1 1 5 7 - 9').read).toEqual([{ lot: 'F-1', pieces: '1,5,7-9' }]);
});

test('every line that cannot be read is said, with where', () => {
  const { read, faults } = readFailed('F-1 9-5\nK-1\nF-2 x');
  expect(read).toEqual([{ serial: 'K-1' }]);
  expect(faults.map(({ detail, pointer }) => [detail.split(':')[0], pointer])).toEqual([
    ['F-1 9-5', '/failed'],
    ['F-2 x', '/failed'],
  ]);
});

test('parts are written as they are read, and no line is added twice', () => {
  const parts = [{ lot: 'F-1', pieces: '3' }, { lot: 'F-2' }];
  expect(readFailed(failedText(parts)).read).toEqual(parts);
  expect(withLines('F-1\nF-2\n', ['F-2', 'F-3'])).toBe('F-1\nF-2\nF-3');
  expect(withLines(' ', ['F-1'])).toBe('F-1');
});
