import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import type { Recipe } from '../catalogue/catalogue.facts.js';
import { mixingTime, recipeDeviations, stepFor, stepStates } from './recipe.decide.js';
import { asCharged, type ChargeState } from './run-state.facts.js';

const recipe: Recipe = {
  code: 'RCP',
  name: 'Two waxes and an oil',
  item: 'MIX',
  batchMicro: 100 * MICRO,
  steps: [
    { item: 'WAX', targetMicro: 60 * MICRO, toleranceBp: 200, mixMinutes: 30 },
    { item: 'OIL', targetMicro: 20 * MICRO, toleranceBp: 500, mixMinutes: 10 },
    { item: 'WAX', targetMicro: 20 * MICRO, toleranceBp: 0, mixMinutes: 0 },
  ],
  yieldBp: [9500, 10200],
};

const minute = (n: number): string => new Date(Date.UTC(2026, 2, 2, 8, n)).toISOString();

const charged = (list: readonly (readonly [step: number, quantity: number, atMinute: number])[]): ChargeState[] =>
  list.map(([step, quantity, at], i) =>
    asCharged({
      charge: i + 1,
      step,
      lot: `L-${i}`,
      item: recipe.steps[step - 1]!.item,
      spans: null,
      quantityMicro: quantity * MICRO,
      massMicro: quantity * MICRO,
      chargedAt: minute(at),
      by: 'operator-1',
      heel: false,
      into: [],
      deviations: [],
      deviationReason: null,
      urgentReleases: [],
      conversion: null,
      takenFrom: 'RACK-1',
    }),
  );

type Before = readonly (readonly [number, number, number])[];

describe('deviations from a recipe (P-9 to P-12)', () => {
  it.each<[string, Before, { step: number | null; quantity: number; at: number }, string[]]>([
    ['the first step, exactly', [], { step: 1, quantity: 60, at: 0 }, []],
    ['at the upper tolerance', [], { step: 1, quantity: 61.2, at: 0 }, []],
    ['a hair above it', [], { step: 1, quantity: 61.200001, at: 0 }, ['above-tolerance']],
    ['in two charges above it', [[1, 40, 0]], { step: 1, quantity: 22, at: 1 }, ['above-tolerance']],
    ['the second step before the first is there', [], { step: 2, quantity: 20, at: 0 }, ['step-short']],
    ['the first is a hair short', [[1, 58.799999, 0]], { step: 2, quantity: 20, at: 30 }, ['step-short']],
    ['just enough, just in time', [[1, 58.8, 0]], { step: 2, quantity: 20, at: 30 }, []],
    ['a minute early', [[1, 60, 0]], { step: 2, quantity: 20, at: 29 }, ['mixing-time']],
    ['a second charge of the same step needs no wait', [[1, 30, 0]], { step: 1, quantity: 30, at: 0 }, []],
    [
      'back to an earlier step',
      [
        [1, 60, 0],
        [2, 10, 30],
      ],
      { step: 1, quantity: 1, at: 60 },
      ['order'],
    ],
    [
      'recorded late, between two others',
      [
        [1, 60, 0],
        [2, 20, 60],
      ],
      { step: 2, quantity: 1, at: 10 },
      ['mixing-time'],
    ],
    ['not in the recipe', [], { step: null, quantity: 1, at: 0 }, ['not-in-recipe']],
  ])('%s', (_case, before, asked, wanted) => {
    const charges = charged(before);
    const steps = stepStates(recipe, null, charges);
    const deviations = recipeDeviations(steps, charges, {
      step: asked.step,
      item: 'X',
      quantityMicro: Math.round(asked.quantity * MICRO),
      chargedAt: minute(asked.at),
    });
    expect(deviations.map(({ what }) => what)).toEqual(wanted);
  });

  it('scales to the planned batch, tolerance and all', () => {
    expect(stepStates(recipe, 25 * MICRO, []).map((step) => [step.lowMicro, step.targetMicro, step.highMicro])).toEqual([
      [14_700_000, 15_000_000, 15_300_000],
      [4_750_000, 5_000_000, 5_250_000],
      [5_000_000, 5_000_000, 5_000_000],
    ]);
  });

  it('gives an item that comes twice to the step that still wants some', () => {
    expect(stepFor(stepStates(recipe, null, []), 'WAX')).toBe(1);
    expect(stepFor(stepStates(recipe, null, charged([[1, 60, 0]])), 'WAX')).toBe(3);
    expect(stepFor(stepStates(recipe, null, []), 'SALT')).toBeNull();
  });

  it('lets the last step mix before the closing too', () => {
    const charges = charged([
      [1, 60, 0],
      [2, 20, 30],
    ]);
    const steps = stepStates(recipe, null, charges);
    expect(mixingTime(steps, charges, null, minute(39))?.what).toBe('mixing-time');
    expect(mixingTime(steps, charges, null, minute(40))).toBeNull();
  });
});
