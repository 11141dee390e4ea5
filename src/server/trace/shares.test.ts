import { describe, expect, test } from 'vitest';
import { Genealogy } from './genealogy.js';
import { cutByShare, type Shares, sharesOf } from './shares.js';
import { traceForward } from './walk.js';

const KG = 1_000_000;
type Pour = readonly [from: string, to: string, kg: number, toFirst?: number, toLast?: number, fromFirst?: number, fromLast?: number];

/** A plant of bulk lots and of numbered lots (by their pieces); a pour of 0 kg does not blend. */
class Vessels {
  readonly genealogy = new Genealogy();
  readonly #names: string[];
  #seq = 0;

  constructor(lots: Record<string, number>, pours: readonly Pour[]) {
    this.#names = Object.keys(lots);
    for (const name of this.#names) this.genealogy.addLot(this.id(name), lots[name] ?? 0);
    for (const [from, to, kg, toFirst, toLast, fromFirst, fromLast] of pours) {
      this.genealogy.append({
        seq: ++this.#seq,
        ord: 0,
        fromLot: this.id(from),
        fromFirst: fromFirst ?? 0,
        fromLast: fromLast ?? 0,
        toLot: this.id(to),
        toFirst: toFirst ?? 0,
        toLast: toLast ?? 0,
        quantityMicro: Math.round(kg * KG),
        massMicro: Math.round(kg * KG),
        map: 'all',
        blends: kg > 0,
      });
    }
    this.genealogy.commitUpTo(this.#seq);
  }

  id(name: string): number {
    return this.#names.indexOf(name) + 1;
  }

  shares(origin: string, spans: [number, number][] | null = null): Shares {
    const origins = [{ lot: this.id(origin), spans }];
    return sharesOf(this.genealogy, traceForward(this.genealogy, origins), origins);
  }

  share(origin: string, lot: string): number | null | undefined {
    return this.shares(origin).byLot.get(this.id(lot))?.share;
  }
}

describe('shares by mass', () => {
  test('a batch is shared by what went in, and inputs that are not affected dilute', () => {
    const vessels = new Vessels({ oil: 0, base: 0, batch: 0, cans: 100 }, [
      ['oil', 'batch', 30],
      ['base', 'batch', 90],
      ['batch', 'cans', 25, 1, 100],
    ]);
    expect(vessels.share('oil', 'oil')).toBe(1);
    expect(vessels.share('oil', 'batch')).toBe(0.25);
    expect(vessels.shares('oil').byLot.get(vessels.id('cans'))).toEqual({ lot: vessels.id('cans'), share: 0.25, shares: [[1, 100, 0.25]] });
  });

  test('what does not blend is counted and not shared', () => {
    const vessels = new Vessels({ labels: 0, batch: 0, cans: 100 }, [
      ['labels', 'cans', 0, 1, 100],
      ['batch', 'cans', 25, 1, 100],
    ]);
    expect(vessels.share('labels', 'cans')).toBeNull();
    expect(vessels.share('batch', 'cans')).toBe(1);
  });

  test('where inputs change within a numbered lot each stretch has its share, and the lot the mean over all pieces', () => {
    const vessels = new Vessels({ A: 0, B: 0, cans: 10 }, [
      ['A', 'cans', 4, 1, 4],
      ['B', 'cans', 6, 4, 10],
      ['A', 'cans', 0, 9, 10],
    ]);
    const cans = vessels.shares('A').byLot.get(vessels.id('cans'));
    // Piece 4 holds 1 kg of A and 6/7 kg of B.
    expect(cans?.shares).toEqual([
      [1, 3, 1],
      [4, 4, 1 / (1 + 6 / 7)],
      [5, 10, 0],
    ]);
    expect(cans?.share).toBeCloseTo((3 + 7 / 13) / 10, 15);
  });

  test('pieces as the origin have share 1, the rest of their lot what it has', () => {
    const vessels = new Vessels({ batch: 0, cans: 10, next: 0 }, [
      ['batch', 'cans', 10, 1, 10],
      ['cans', 'next', 4, undefined, undefined, 1, 4],
      ['batch', 'next', 4],
    ]);
    const { byLot } = vessels.shares('cans', [[3, 3]]);
    expect(byLot.get(vessels.id('cans'))?.shares).toEqual([
      [1, 2, 0],
      [3, 3, 1],
      [4, 10, 0],
    ]);
    expect(byLot.get(vessels.id('next'))?.share).toBe(0.125);
  });

  test('cans reworked into the batch they came from: the cycle settles where in and out agree', () => {
    const vessels = new Vessels({ oil: 0, batch: 0, cans: 100 }, [
      ['oil', 'batch', 10],
      ['batch', 'cans', 40, 1, 100],
      ['cans', 'batch', 5, undefined, undefined, 1, 10],
      ['cans', 'batch', 0, undefined, undefined, 11, 20],
    ]);
    // batch = (10 * 1 + 5 * batch) / 15, so all of it is oil
    expect(vessels.share('oil', 'batch')).toBeCloseTo(1, 14);
  });

  test('a cycle that gives back nearly everything is solved and not given up on', () => {
    const vessels = new Vessels({ oil: 0, base: 0, A: 0, B: 0 }, [
      ['oil', 'A', 0.001],
      ['base', 'A', 0.003],
      ['B', 'A', 1000],
      ['A', 'B', 1000],
    ]);
    expect(vessels.share('oil', 'B')).toBeCloseTo(0.25, 15);
    expect(vessels.shares('oil').unsettled).toEqual([]);
  });
});

test('a diamond of 20 steps has a million paths and is worked out once per lot', () => {
  const lots: Record<string, number> = { top: 0 };
  const pours: Pour[] = [];
  for (let step = 0; step < 20; step++) {
    const above = step === 0 ? 'top' : `join ${step - 1}`;
    for (const name of [`left ${step}`, `right ${step}`, `join ${step}`]) lots[name] = 0;
    pours.push([above, `left ${step}`, 1], [above, `right ${step}`, 1], ['top', `right ${step}`, 0.5]);
    pours.push([`left ${step}`, `join ${step}`, 1], [`right ${step}`, `join ${step}`, 1]);
  }
  expect(new Vessels(lots, pours).share('top', 'join 19')).toBe(1);
});

test('a heel chain is followed to its end, however small the share, and a cut-off lists what it leaves out', () => {
  const lots: Record<string, number> = { oil: 0, base: 0, labels: 0, cans: 50 };
  const pours: Pour[] = [['oil', 'batch 0', 100]];
  for (let step = 0; step < 40; step++) {
    lots[`batch ${step}`] = 0;
    if (step > 0) pours.push([`batch ${step - 1}`, `batch ${step}`, 3], ['base', `batch ${step}`, 97]);
  }
  pours.push(['batch 39', 'cans', 5, 1, 50]);
  const vessels = new Vessels(lots, pours);
  expect(vessels.share('oil', 'cans')).toBeCloseTo(0.03 ** 39, 70);
  expect(vessels.share('oil', 'cans')).toBeGreaterThan(0);

  const origins = [{ lot: vessels.id('oil'), spans: null }];
  const traced = traceForward(vessels.genealogy, origins);
  const { kept, leftOut } = cutByShare(vessels.genealogy, traced, origins, 1e-4);
  // 0.03^2 = 9e-4 stays, 0.03^3 = 2.7e-5 does not.
  expect(kept.lots.map(({ lot }) => lot)).toEqual(['oil', 'batch 0', 'batch 1', 'batch 2'].map((name) => vessels.id(name)));
  expect(leftOut).toHaveLength(traced.lots.length - kept.lots.length);
  expect(leftOut.find(({ lot }) => lot === vessels.id('batch 3'))).toMatchObject({ spans: null, share: expect.closeTo(2.7e-5, 10) });
  expect(leftOut.find(({ lot }) => lot === vessels.id('cans'))?.spans).toEqual([[1, 50]]);
});

test('a cut-off leaves in what the origin also reaches without blending', () => {
  const vessels = new Vessels({ oil: 0, base: 0, seal: 0, batch: 0, cans: 10 }, [
    ['oil', 'batch', 0.001],
    ['base', 'batch', 100],
    ['batch', 'cans', 1, 1, 10],
    ['oil', 'cans', 0, 3, 4],
  ]);
  const origins = [{ lot: vessels.id('oil'), spans: null }];
  const { kept, leftOut } = cutByShare(vessels.genealogy, traceForward(vessels.genealogy, origins), origins, 1e-3);
  expect(kept.get(vessels.id('cans'))?.spans).toEqual([[3, 4]]);
  expect(new Map(leftOut.map(({ lot, spans }) => [lot, spans]))).toEqual(
    new Map([
      [vessels.id('batch'), null],
      [
        vessels.id('cans'),
        [
          [1, 2],
          [5, 10],
        ],
      ],
    ]),
  );
});
