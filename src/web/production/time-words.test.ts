import { describe, expect, it } from 'vitest';
import { countdown, elapsedWords } from './time-words.js';

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

describe('times in words', () => {
  it('says how long in the two largest units', () => {
    expect(plain(elapsedWords(30_000))).toBe('under a minute');
    expect(plain(elapsedWords(72 * 60_000))).toBe('1 h 12 min');
    expect(plain(elapsedWords(60 * 60_000))).toBe('1 h');
    expect(plain(elapsedWords((3 * 24 + 4) * 3_600_000 + 59 * 60_000))).toBe('3 d 4 h');
  });

  it('counts down to nought and never below', () => {
    expect(countdown(10 * 60_000)).toBe('10:00');
    expect(countdown(425_000)).toBe('7:05');
    expect(countdown(1)).toBe('0:01');
    expect(countdown(0)).toBe('0:00');
    expect(countdown(-5000)).toBe('0:00');
    expect(countdown(3_600_000 + 65_000)).toBe('1:01:05');
  });
});
