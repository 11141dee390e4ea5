import * as fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MICRO } from '../../shared/quantity.js';
import { countPieces, intersectSpans, sameSpans, type Span, type SpanSet, unionSpans, wholeLot } from '../../shared/spans.js';
import { Reader } from '../../src/server/platform/database/reader.js';
import type { Fate, Movement, Place } from '../../src/server/plant/stock/effects.facts.js';
import { lotStates } from '../../src/server/plant/stock/lot-state.query.js';
import type { LotState } from '../../src/server/plant/stock/lot-state.facts.js';
import { takeFrom } from '../../src/server/plant/stock/part.decide.js';
import { Lineage } from '../../src/server/trace/lineage.js';
import { recordFacts } from '../fernhollow.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';
import { makeLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';

const PLACES: readonly Place[] = [
  { fate: 'on-hand', at: 'A' },
  { fate: 'on-hand', at: 'B' },
  { fate: 'on-hand', at: "O'Brien's" },
  { fate: 'consumed', at: 'RUN-1' },
  { fate: 'dispatched', at: 'S-0001' },
  { fate: 'scrapped', at: 'SC-0001' },
  { fate: 'retained', at: 'RETAIN' },
  { fate: 'count-difference', at: 'CN-0001' },
];
const PIECES = 40;
const QUANTITY = 1_000_003;

interface Step {
  readonly from: number;
  readonly to: number;
  readonly span: Span;
  readonly quantityMicro: number;
}

const step: fc.Arbitrary<Step> = fc.record({
  from: fc.nat(PLACES.length - 1),
  to: fc.nat(PLACES.length - 1),
  span: fc
    .tuple(fc.integer({ min: 1, max: PIECES }), fc.integer({ min: 1, max: PIECES }))
    .map(([a, b]): Span => [Math.min(a, b), Math.max(a, b)]),
  quantityMicro: fc.integer({ min: 1, max: QUANTITY }),
});

/** What can really be moved of what the step asks for. */
function possible(lot: LotState, { from, to, span, quantityMicro }: Step): Movement[] {
  const there = lot.places.find((part) => part.place.fate === PLACES[from]!.fate && part.place.at === PLACES[from]!.at);
  if (!there || from === to) return [];
  const spans = there.spans === null ? null : intersectSpans(there.spans, [span]);
  const part = { spans, quantityMicro: spans === null ? Math.min(quantityMicro, there.quantityMicro) : countPieces(spans) * MICRO };
  return part.quantityMicro === 0 ? [] : takeFrom(lot, part, PLACES[from]!, PLACES[to]!);
}

/** Rule 2 of the domain on one lot, by counting. */
function expectConserved(lot: LotState): void {
  expect(lot.places.reduce((sum, part) => sum + part.quantityMicro, 0)).toBe(lot.quantityMicro);
  if (lot.pieces === null) return;
  const all = lot.places.reduce<SpanSet>((sum, part) => unionSpans(sum, part.spans!), []);
  expect(sameSpans(all, wholeLot(lot.pieces))).toBe(true);
  expect(lot.places.reduce((sum, part) => sum + countPieces(part.spans!), 0)).toBe(lot.pieces);
  for (const part of lot.places) expect(part.quantityMicro).toBe(countPieces(part.spans!) * MICRO);
}

describe.each(DATABASES)('S-12: stock is conserved on %s', (database) => {
  let plant: Plant;
  let made = 0;
  const stateOf = async (lot: string): Promise<LotState> => {
    const states = await lotStates(plant.app.get(Reader).manager, plant.app.get(Lineage), [{ lot, spans: null }]);
    return states.get(lot)!;
  };

  beforeAll(async () => {
    plant = await startPlant(database);
  });
  afterAll(() => plant.stop());

  it.each([
    ['pieces', { pieces: PIECES }],
    ['a quantity', { quantityMicro: QUANTITY, unit: 'kg' as const }],
  ])('random movements of %s', async (_what, size) => {
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 12 }), async (steps) => {
        const lot = `P-${++made}`;
        await makeLots(plant, [{ lot, item: 'ANY', at: 'A', ...size }]);
        for (const one of steps) {
          const moved = possible(await stateOf(lot), one);
          if (moved.length > 0) await recordFacts(plant, [{ kind: 'MovedForTest', v: 1, moved }]);
          expectConserved(await stateOf(lot));
        }
      }),
      { numRuns: 25 },
    );
  });

  it('moves back and forth within one entry come out as what is left', async () => {
    await makeLots(plant, [{ lot: 'BACK', item: 'ANY', at: 'A', pieces: 10 }]);
    const move = (from: Place, to: Place, first: number, last: number): Movement => ({
      lot: 'BACK',
      spans: [[first, last]],
      quantityMicro: (last - first + 1) * MICRO,
      from,
      to,
    });
    const [a, b, c] = PLACES as unknown as [Place, Place, Place];
    await recordFacts(plant, [
      { kind: 'MovedForTest', v: 1, moved: [move(a, b, 1, 10), move(b, c, 4, 6), move(b, a, 1, 3), move(c, a, 4, 4)] },
    ]);
    const places = (await stateOf('BACK')).places.map((part) => [part.place.at, part.spans]);
    expect(places).toEqual([
      ['A', [[1, 4]]],
      ['B', [[7, 10]]],
      ["O'Brien's", [[5, 6]]],
    ]);
  });

  it.each<[string, Fate]>([
    ['more than is there is an error of the program, not a negative balance', 'on-hand'],
    ['so is what comes from where nothing is', 'retained'],
  ])('%s', async (_what, fate) => {
    const lot = `OVER-${fate}`;
    await makeLots(plant, [{ lot, item: 'ANY', at: 'A', quantityMicro: 5, unit: 'kg' }]);
    const moved = [{ lot, spans: null, quantityMicro: 6, from: { fate, at: 'A' }, to: PLACES[1]! }];
    await expect(recordFacts(plant, [{ kind: 'MovedForTest', v: 1, moved }])).rejects.toThrow('more than is there');
    expectConserved(await stateOf(lot));
  });

  it('pieces come only from where they are, however many others lie there', async () => {
    await makeLots(plant, [{ lot: 'ELSE', item: 'ANY', at: 'A', pieces: 10 }]);
    const movement = (spans: SpanSet, from: Place, to: Place): Movement => ({
      lot: 'ELSE',
      spans,
      quantityMicro: countPieces(spans) * MICRO,
      from,
      to,
    });
    await recordFacts(plant, [{ kind: 'MovedForTest', v: 1, moved: [movement([[1, 5]], PLACES[0]!, PLACES[1]!)] }]);
    const wrong = [movement([[5, 6]], PLACES[0]!, PLACES[1]!)];
    await expect(recordFacts(plant, [{ kind: 'MovedForTest', v: 1, moved: wrong }])).rejects.toThrow('pieces that are not there');
    expectConserved(await stateOf('ELSE'));
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
