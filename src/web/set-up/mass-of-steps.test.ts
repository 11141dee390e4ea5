import { describe, expect, it } from 'vitest';
import { massOfSteps } from './mass-of-steps.js';

const ITEMS = [
  { code: 'WAX', unit: 'kg', density: null },
  { code: 'OIL', unit: 'L', density: '0.85' },
  { code: 'SOLV', unit: 'L', density: null },
];

describe('what the steps of a recipe add up to', () => {
  it('weighs litres by their density', () => {
    const steps = [
      { item: 'WAX', target: '240' },
      { item: ' OIL ', target: '100' },
    ];
    expect(massOfSteps(steps, ITEMS)).toBe(325_000_000);
  });

  it.each([
    ['a density that is missing', { item: 'SOLV', target: '1' }],
    ['an item that is none', { item: 'XYZ', target: '1' }],
    ['an amount that is none yet', { item: 'WAX', target: '1.' }],
  ])('is not known with %s', (_what, step) => {
    expect(massOfSteps([{ item: 'WAX', target: '240' }, step], ITEMS)).toBeNull();
  });
});
