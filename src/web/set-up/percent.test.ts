import { describe, expect, it } from 'vitest';
import { bpOfPercent, percentOfBp } from './percent.js';

describe('percentages of recipes', () => {
  it.each([
    ['0', 0],
    ['2.5', 250],
    ['0.01', 1],
    ['105', 10_500],
  ])('%s %% is %i hundredths of a percent, and back', (text, bp) => {
    expect(bpOfPercent(text)).toBe(bp);
    expect(percentOfBp(bp)).toBe(text);
  });
});
