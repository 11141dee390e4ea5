import { describe, expect, test } from 'vitest';
import { traceScopes } from './evidence.js';
import { Genealogy } from './genealogy.js';
import type { Link } from './link.js';
import { traceBackward, traceForward } from './walk.js';

type Side = readonly [lot: string, first?: number, last?: number];

/** A plant told in words: numbered lots by their pieces, then links as [from, to] or [from, to, 'each'], one entry each. */
function plant(sizes: Record<string, number>, ...links: (readonly [Side, Side, 'each'?])[]) {
  const names = Object.keys(sizes);
  const id = (name: string): number => names.indexOf(name) + 1;
  const genealogy = new Genealogy();
  for (const name of names) genealogy.addLot(id(name), sizes[name] ?? 0);
  for (const [at, [from, to, map]] of links.entries()) {
    const link: Link = {
      seq: at + 1,
      ord: 0,
      fromLot: id(from[0]),
      fromFirst: from[1] ?? 0,
      fromLast: from[2] ?? from[1] ?? 0,
      toLot: id(to[0]),
      toFirst: to[1] ?? 0,
      toLast: to[2] ?? to[1] ?? 0,
      quantityMicro: 1,
      massMicro: 0,
      map: map ?? 'all',
      blends: false,
    };
    genealogy.append(link);
  }
  genealogy.commitUpTo(links.length);
  const ask = (trace: typeof traceForward, lot: string, spans: [number, number][] | null) =>
    Object.fromEntries(
      trace(genealogy, [{ lot: id(lot), spans }])
        .reachedByLinks()
        .map((found) => [names[found.lot - 1], found.spans]),
    );
  return {
    genealogy,
    id,
    name: (lot: number): string => names[lot - 1] ?? '',
    forward: (lot: string, spans: [number, number][] | null = null) => ask(traceForward, lot, spans),
    backward: (lot: string, spans: [number, number][] | null = null) => ask(traceBackward, lot, spans),
  };
}

describe('the rules of a link', () => {
  test('from a bulk lot: the whole of the to span is reached', () => {
    const { forward } = plant({ oil: 0, cans: 100 }, [['oil'], ['cans', 11, 20]]);
    expect(forward('oil')).toEqual({ cans: [[11, 20]] });
  });

  test('from a span, all: any piece of it reaches the whole of the to span, other pieces reach nothing', () => {
    const { forward } = plant({ cans: 100, packs: 10 }, [
      ['cans', 11, 20],
      ['packs', 2, 4],
    ]);
    expect(forward('cans', [[20, 30]])).toEqual({ packs: [[2, 4]] });
    expect(forward('cans', [[21, 30]])).toEqual({});
  });

  test('from a span, each: exactly the pieces opposite', () => {
    const { forward, backward } = plant({ gauges: 100, pumps: 50 }, [['gauges', 11, 20], ['pumps', 31, 40], 'each']);
    expect(
      forward('gauges', [
        [1, 12],
        [20, 99],
      ]),
    ).toEqual({
      pumps: [
        [31, 32],
        [40, 40],
      ],
    });
    expect(backward('pumps', [[33, 33]])).toEqual({ gauges: [[13, 13]] });
  });

  test('backward: pieces lead to the whole from span, and to a bulk lot as a whole', () => {
    const { backward } = plant(
      { oil: 0, lids: 500, cans: 100 },
      [['oil'], ['cans', 1, 50]],
      [
        ['lids', 101, 200],
        ['cans', 40, 100],
      ],
    );
    expect(backward('cans', [[50, 50]])).toEqual({ oil: null, lids: [[101, 200]] });
    expect(backward('cans', [[51, 60]])).toEqual({ lids: [[101, 200]] });
  });
});

test('a link is found from its first and its last piece, whatever its length and whatever lies around it', () => {
  const missed: number[] = [];
  for (let length = 1; length <= 70; length++) {
    const around = Array.from({ length: 60 }, (_, k): [Side, Side] => [['cans', 1 + k * 5], ['other']]);
    const { genealogy, forward } = plant({ cans: 300, other: 0, crate: 0 }, ...around, [['cans', 101, 100 + length], ['crate']]);
    genealogy.compact();
    const hits = [101, 100 + length].filter((piece) => 'crate' in forward('cans', [[piece, piece]]));
    const misses = [100, 101 + length].filter((piece) => 'crate' in forward('cans', [[piece, piece]]));
    if (hits.length !== 2 || misses.length !== 0) missed.push(length);
  }
  expect(missed).toEqual([]);
});

test('an origin is listed only if links lead back to it, and then with the pieces they reach', () => {
  const { genealogy, id } = plant({ batch: 0, cans: 100 }, [['batch'], ['cans', 1, 60]], [['cans', 5, 5], ['batch']]);
  const traced = traceForward(genealogy, [{ lot: id('cans'), spans: [[5, 90]] }]);
  expect(traced.get(id('cans'))?.spans).toEqual([[1, 90]]);
  expect(traced.get(id('cans'))?.again).toEqual({ spans: [[1, 60]], depth: 2 });
  expect(traceForward(genealogy, [{ lot: id('cans'), spans: [[6, 90]] }]).reachedByLinks()).toEqual([]);
});

test('a depth is the fewest links to any piece, also where a longer way brings other pieces', () => {
  const { genealogy, id, name } = plant(
    { oil: 0, heel: 0, cans: 10, packs: 10 },
    [['oil'], ['cans', 1, 5]],
    [['oil'], ['heel']],
    [['heel'], ['cans', 6, 10]],
    [
      ['cans', 6, 10],
      ['packs', 1, 10],
    ],
  );
  const { lots } = traceForward(genealogy, [{ lot: id('oil'), spans: null }]);
  expect(Object.fromEntries(lots.map(({ lot, depth }) => [name(lot), depth]))).toEqual({ oil: 0, cans: 1, heel: 1, packs: 3 });
});

test('misaligned repacking stays a handful of spans instead of multiplying', () => {
  const stages = 40;
  const lots = Object.fromEntries(Array.from({ length: stages + 1 }, (_, stage) => [`stage ${stage}`, 10_000]));
  const links = Array.from({ length: stages }, (_, stage) =>
    Array.from({ length: 199 }, (__, k): [Side, Side] => [
      [`stage ${stage}`, 1 + k * 50, Math.min(10_000, 80 + k * 50)],
      [`stage ${stage + 1}`, Math.max(1, k * 50 - 10), k * 50 + 77],
    ]),
  ).flat();
  const { genealogy, id } = plant(lots, ...links);
  const last = traceForward(genealogy, [{ lot: id('stage 0'), spans: [[5_000, 5_000]] }]).get(id(`stage ${stages}`));
  expect(last?.spans).toHaveLength(1);
});

test('unknown origins and pieces are refused', () => {
  const { genealogy } = plant({ oil: 0, cans: 100 });
  expect(() => traceForward(genealogy, [{ lot: 3, spans: null }])).toThrow('not known');
  expect(() => traceForward(genealogy, [{ lot: 1, spans: [[1, 1]] }])).toThrow('no such pieces');
  expect(() => traceBackward(genealogy, [{ lot: 2, spans: [[100, 101]] }])).toThrow('no such pieces');
});

test('both scopes, and for every narrowing the links it rests on', () => {
  const { genealogy, id, name } = plant(
    { oil: 0, batch: 0, other: 0, cans: 100, packs: 10, crate: 0, gift: 0 },
    [['oil'], ['batch']],
    [['batch'], ['cans', 1, 60]],
    [['other'], ['cans', 61, 100]],
    [
      ['cans', 1, 50],
      ['packs', 1, 5],
    ],
    [
      ['cans', 51, 100],
      ['packs', 6, 10],
    ],
    [['packs', 1, 10], ['crate']],
    [['cans', 70, 70], ['gift']],
  );
  const { narrowings } = traceScopes(genealogy, 'forward', [{ lot: id('oil'), spans: null }]);
  const told = narrowings.map(({ lot, keptOut, links, through }) => [name(lot), keptOut, links.map(({ seq }) => seq), through.map(name)]);
  expect(told).toEqual([
    ['cans', [[61, 100]], [2], []],
    ['gift', null, [7], []],
  ]);
  const { conservative } = traceScopes(genealogy, 'forward', [{ lot: id('batch'), spans: null }]);
  const spans = Object.fromEntries(conservative.lots.map((lot) => [name(lot.lot), lot.spans]));
  expect(spans).toEqual({ batch: null, cans: [[1, 100]], packs: [[1, 10]], gift: null, crate: null });
});

test('a lot kept out because what leads to it is kept out says so', () => {
  const { genealogy, id, name } = plant(
    { oil: 0, cans: 100, batch: 0, later: 20 },
    [['oil'], ['cans', 1, 60]],
    [['cans', 61, 70], ['batch']],
    [['batch'], ['later', 1, 20]],
  );
  const { narrowings } = traceScopes(genealogy, 'forward', [{ lot: id('oil'), spans: null }]);
  expect(narrowings.map(({ lot, links, through }) => [name(lot), links.length, through.map(name)])).toEqual([
    ['cans', 1, []],
    ['batch', 1, []],
    ['later', 0, ['batch']],
  ]);
});
