import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../shared/quantity.js';
import { closingFigures, type OfItem, weightsFault, weightsOf } from './closing-figures.js';
import type { Run } from './run.js';

const can: OfItem = { class: 'filled', unit: 'each', content: '0.25', density: null };
const filling = {
  recipe: null,
  planned: '753',
  charges: [{ mass: '189.816' }, { mass: '0' }],
  components: [
    { item: 'WAX', name: 'Wax', unit: 'kg', charged: '189.816', perPiece: '0.25' },
    { item: 'CAN', name: 'Can', unit: 'each', charged: '753', perPiece: '1' },
  ],
} as unknown as Run;

describe('the figures of a closing, before it is done', () => {
  it('sets a filling against the scarcest measured component, and its mass against what was charged', () => {
    // RUN-0053 of the invented plant: the server's own answer for 753 cans of mean 0.251355 kg with 5 rejected.
    const figures = closingFigures(filling, can, { quantityMicro: 753 * MICRO, rejected: 5, meanMicro: 251_355 });
    expect(figures).toMatchObject({ theoryMicro: 759_264_000, yieldBp: 9917 });
    expect(figures.mass).toEqual({
      chargedMicro: 189_816_000,
      filledMicro: 189_270_315,
      rejectedMicro: 1_256_775,
      lossMicro: 545_685,
      lossBp: 29,
    });
    expect(figures.components.map(({ neededMicro }) => neededMicro)).toEqual([188_250_000, 753 * MICRO]);
  });

  it('takes the nominal content where nothing was weighed, and the planned number where nothing is measured', () => {
    expect(closingFigures(filling, can, { quantityMicro: 700 * MICRO, rejected: 0, meanMicro: null }).mass?.filledMicro).toBe(175 * MICRO);
    const counted = { ...filling, components: [filling.components[1]] } as unknown as Run;
    expect(closingFigures(counted, can, { quantityMicro: 753 * MICRO, rejected: 0, meanMicro: null }).yieldBp).toBe(10_000);
  });

  it('sets a batch against the mass of all that went in', () => {
    const mixing = { ...filling, recipe: 'RCP', components: [], charges: [{ mass: '240' }, { mass: '85' }] } as unknown as Run;
    const kg: OfItem = { class: 'mixture', unit: 'kg', content: null, density: null };
    expect(closingFigures(mixing, kg, { quantityMicro: 320 * MICRO, rejected: 0, meanMicro: null })).toMatchObject({
      theoryMicro: 325 * MICRO,
      yieldBp: 9846,
      mass: null,
    });
    expect(
      closingFigures(mixing, { ...kg, unit: 'L', density: '0.5' }, { quantityMicro: 1, rejected: 0, meanMicro: null }).theoryMicro,
    ).toBe(650 * MICRO);
  });

  it('sums up weights as the scale gave them', () => {
    expect(weightsOf('0.250 0.252\n0.248; 0.250')).toEqual({
      count: 4,
      meanMicro: 250_000,
      sdMicro: 1633,
      minMicro: 248_000,
      maxMicro: 252_000,
    });
    expect([weightsOf('0.25'), weightsOf('0.25 about')]).toEqual([null, null]);
    expect(weightsOf('0,250 0,252')).toMatchObject({ count: 2, meanMicro: 251_000 });
    expect(['', '0.25 0.26'].map(weightsFault)).toEqual([null, null]);
    expect(['0.25', '0.25 about', '12,500 12,400'].map((text) => weightsFault(text) === null)).toEqual([false, false, false]);
  });
});
