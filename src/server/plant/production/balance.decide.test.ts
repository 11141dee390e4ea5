import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import type { Item, Revised } from '../catalogue/catalogue.facts.js';
import { investigationsOf, yieldFigures } from './balance.decide.js';
import type { NetWeights } from './run.facts.js';
import { asCharged, type ChargeState, type RunState } from './run-state.facts.js';

const item = (over: Partial<Item>): Revised<Item> => ({
  code: 'OUT',
  name: 'out',
  class: 'mixture',
  unit: 'kg',
  tracking: 'bulk',
  revision: 1,
  ...over,
});

const charge = (of: string, quantity: number, mass: number, returned = 0): ChargeState => ({
  ...asCharged({
    charge: 1,
    step: null,
    lot: `L-${of}`,
    item: of,
    spans: null,
    quantityMicro: quantity * MICRO,
    massMicro: mass * MICRO,
    chargedAt: '2026-03-02T08:00:00.000Z',
    by: 'operator-1',
    heel: false,
    into: [],
    deviations: [],
    deviationReason: null,
    urgentReleases: [],
    conversion: null,
    takenFrom: 'RACK-1',
  }),
  returnedMicro: returned * MICRO,
  returnedMassMicro: returned * MICRO,
});

const run = (over: Partial<RunState>): RunState => ({
  run: 'RUN-0001',
  kind: 'mixing',
  item: item({}),
  recipe: null,
  bom: null,
  vessel: null,
  line: null,
  startedAt: '2026-03-02T08:00:00.000Z',
  startedSeq: 1,
  plannedMicro: null,
  closedSeq: null,
  finishedAt: null,
  yields: null,
  charges: [],
  changeovers: [],
  residues: [],
  countedItems: ['CAN'],
  replaced: 0,
  heel: [],
  ...over,
});

const recipe = { code: 'RCP', name: 'r', item: 'OUT', batchMicro: 100 * MICRO, steps: [], yieldBp: [9500, 10200] as const, revision: 1 };
const bom = {
  code: 'BOM',
  name: 'b',
  item: 'OUT',
  revision: 1,
  lines: [
    { item: 'MIX', perPieceMicro: 250_000, trackedBy: 'lot' as const },
    { item: 'CAN', perPieceMicro: MICRO, trackedBy: 'lot' as const },
  ],
};
const weights = (mean: number): NetWeights => ({ count: 10, meanMicro: mean, sdMicro: 0, minMicro: mean, maxMicro: mean });

describe('yield of a batch (P-30, P-34; GE-8)', () => {
  it.each([
    [94.99, 9499, ['yield']],
    [95, 9500, []],
    [102, 10200, []],
    [102.01, 10201, ['yield']],
    [88, 8800, ['yield']],
  ])('%d kg of 100', (out, bp, open) => {
    const figures = yieldFigures(run({ recipe, charges: [charge('A', 60, 60), charge('B', 60, 50, 10)] }), {
      quantityMicro: Math.round(out * MICRO),
      rejectedPieces: 0,
      netWeights: null,
    });
    expect([figures.theoryMicro, figures.yieldBp]).toEqual([100 * MICRO, bp]);
    expect(investigationsOf(figures).map(({ what }) => what)).toEqual(open);
  });

  it('of a batch in litres goes by its density, and without one is not known', () => {
    const charges = [charge('A', 90, 90)];
    const of = (densityMicro?: number) =>
      yieldFigures(run({ recipe, charges, item: item({ unit: 'L', densityMicro }) }), {
        quantityMicro: 100 * MICRO,
        rejectedPieces: 0,
        netWeights: null,
      });
    expect(of(900_000).yieldBp).toBe(10_000);
    expect(of().yieldBp).toBeNull();
  });
});

describe('mass of a filling against its batch (P-32, P-33)', () => {
  const filling = run({
    kind: 'filling',
    bom,
    item: item({ class: 'filled', unit: 'each', tracking: 'pieces', contentMicro: 250_000 }),
    charges: [charge('MIX', 100, 100), charge('CAN', 400, 0)],
  });
  const out = { quantityMicro: 390 * MICRO, rejectedPieces: 4 };

  it('by the nominal content', () => {
    const figures = yieldFigures(filling, { ...out, netWeights: null });
    expect(figures.mass).toEqual({
      chargedMicro: 100 * MICRO,
      filledMicro: 97_500_000,
      rejectedMicro: MICRO,
      lossMicro: 2_500_000,
      lossBp: 250,
      basis: 'nominal',
    });
    expect(figures).toMatchObject({ theoryMicro: 400 * MICRO, yieldBp: 9750, limitsBp: null });
    expect(figures.components).toEqual([
      { item: 'MIX', chargedMicro: 100 * MICRO, neededMicro: 97_500_000 },
      { item: 'CAN', chargedMicro: 400 * MICRO, neededMicro: 390 * MICRO },
    ]);
  });

  it('by the mean weight; more in the cans than was charged is to be explained', () => {
    const light = yieldFigures(filling, { ...out, netWeights: weights(251_000) });
    expect(light.mass).toMatchObject({ filledMicro: 97_890_000, lossMicro: 2_110_000, lossBp: 211, basis: 'mean' });
    expect(investigationsOf(light)).toEqual([]);
    expect(investigationsOf(yieldFigures(filling, { ...out, netWeights: weights(260_000) }))).toEqual([
      { what: 'mass', detail: 'the cans hold 1.40 % more than was charged' },
    ]);
  });
});
