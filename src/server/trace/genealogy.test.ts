import { describe, expect, test } from 'vitest';
import { Genealogy } from './genealogy.js';
import { GenealogyFault, type Link } from './link.js';
import { packSnapshot, unpackSnapshot } from './snapshot.js';
import { traceForward } from './walk.js';

const plain: Link = {
  seq: 1,
  ord: 0,
  fromLot: 1,
  fromFirst: 0,
  fromLast: 0,
  toLot: 2,
  toFirst: 1,
  toLast: 10,
  quantityMicro: 5_000_000,
  massMicro: 0,
  map: 'all',
  blends: false,
};

/** Lot 1 is bulk, lots 2 and 3 have 10 pieces. */
function plant(...links: Partial<Link>[]): Genealogy {
  const genealogy = new Genealogy();
  genealogy.addLot(1, 0);
  genealogy.addLot(2, 10);
  genealogy.addLot(3, 10);
  for (const link of links) genealogy.append({ ...plain, ...link });
  return genealogy;
}

const reached = (genealogy: Genealogy, asKnownAt?: number): number[] =>
  traceForward(genealogy, [{ lot: 1, spans: null }], asKnownAt === undefined ? {} : { asKnownAt }).lots.map(({ lot }) => lot);

describe('what cannot be is refused', () => {
  test.each<[string, Partial<Link>]>([
    ['a lot that is not known', { fromLot: 9 }],
    ['no lot', { toLot: 0 }],
    ['pieces of a bulk lot', { fromFirst: 1, fromLast: 1 }],
    ['a numbered lot without pieces', { toFirst: 0, toLast: 0 }],
    ['pieces in reverse', { toFirst: 5, toLast: 4 }],
    ['pieces beyond the last', { toFirst: 5, toLast: 11 }],
    ['first piece 0', { toFirst: 0, toLast: 4 }],
    ['half a piece', { toFirst: 1.5 }],
    ['each from a bulk lot', { map: 'each' }],
    ['each with unequal lengths', { map: 'each', fromLot: 3, fromFirst: 1, fromLast: 9 }],
    ['a negative quantity', { quantityMicro: -1 }],
    ['a quantity with a fraction of a millionth', { quantityMicro: 0.5 }],
    ['blending mass on a link that does not blend', { massMicro: 5 }],
    ['entry 0', { seq: 0 }],
  ])('%s', (_case, wrong) => {
    const genealogy = plant();
    expect(() => genealogy.append({ ...plain, ...wrong })).toThrow(GenealogyFault);
    expect(genealogy.linkCount).toBe(0);
  });

  test('a link that is not later than the last', () => {
    const genealogy = plant({ seq: 4, ord: 2 });
    expect(() => genealogy.append({ ...plain, seq: 4, ord: 2 })).toThrow('not later');
    expect(() => genealogy.append({ ...plain, seq: 3 })).toThrow('not later');
  });

  test('a link into an entry that is committed', () => {
    const genealogy = plant({ seq: 4 });
    genealogy.commitUpTo(7);
    expect(() => genealogy.append({ ...plain, seq: 7 })).toThrow('already committed');
  });

  test('voiding a link that is not there, twice, or in the past', () => {
    const genealogy = plant({ seq: 4, ord: 3 }, { seq: 4, ord: 5 });
    expect(() => genealogy.voidLink(4, 4, 9)).toThrow('no link (4, 4)');
    expect(() => genealogy.voidLink(4, 6, 9)).toThrow('no link (4, 6)');
    expect(() => genealogy.voidLink(5, 3, 9)).toThrow('no link (5, 3)');
    genealogy.voidLink(4, 5, 9);
    expect(() => genealogy.voidLink(4, 5, 9)).toThrow('void already');
    genealogy.commitUpTo(9);
    expect(() => genealogy.voidLink(4, 3, 9)).toThrow('cannot void');
  });

  test('a lot whose pieces change, and a mark behind what is committed', () => {
    const genealogy = plant();
    const mark = genealogy.mark();
    expect(() => genealogy.addLot(2, 11)).toThrow('has 10 pieces, not 11');
    genealogy.append(plain);
    genealogy.commitUpTo(1);
    expect(() => genealogy.rollbackTo(mark)).toThrow('not within what is uncommitted');
  });
});

describe('what is known when', () => {
  test('readers do not see what is not committed, the writer does', () => {
    const genealogy = plant({ seq: 3 });
    expect(reached(genealogy)).toEqual([1]);
    expect(reached(genealogy, Infinity)).toEqual([1, 2]);
    genealogy.commitUpTo(3);
    expect(reached(genealogy)).toEqual([1, 2]);
  });

  test('a link counts from the entry that recorded it up to before the one that voided it', () => {
    const genealogy = plant({ seq: 3 });
    genealogy.voidLink(3, 0, 5);
    genealogy.commitUpTo(6);
    expect([2, 3, 4, 5, 6].map((seq) => reached(genealogy, seq).length)).toEqual([1, 2, 2, 1, 1]);
  });

  test('links are read back as they were given, in ledger order', () => {
    const first = { seq: 3, ord: 1, massMicro: 5_000_000, blends: true };
    const second = { seq: 3, ord: 4, massMicro: 4_600_000, blends: true, toFirst: 3, toLast: 3 };
    const third = { seq: 8, ord: 0, fromLot: 3, fromFirst: 4, fromLast: 6, toFirst: 1, toLast: 3, map: 'each' as const };
    const genealogy = plant(first, second, third);
    genealogy.commitUpTo(8);
    genealogy.compact();
    const expected = [first, second, third].map((link) => ({ ...plain, ...link, voidedAt: null }));
    expect(genealogy.linksOf(2, 'into')).toEqual(expected);
    expect(genealogy.linksOf(2, 'into', 3)).toEqual(expected.slice(0, 2));
    expect(genealogy.linksOf(3, 'out')).toEqual(expected.slice(2));
  });
});

test('a rolled back lot is forgotten, and its id may come back with other pieces', () => {
  const genealogy = plant();
  const mark = genealogy.mark();
  genealogy.addLot(7, 4);
  genealogy.rollbackTo(mark);
  expect(genealogy.lotCount).toBe(3);
  genealogy.addLot(7, 5);
  expect(genealogy.piecesOf(7)).toBe(5);
  expect(genealogy.piecesOf(6)).toBe(-1);
});

test('appends, rollbacks and questions between the slices of a compaction are all kept', async () => {
  const genealogy = plant();
  let seq = 0;
  const more = (count: number): void => {
    for (let n = 0; n < count; n++) genealogy.append({ ...plain, seq: ++seq, toFirst: (seq % 10) + 1, toLast: (seq % 10) + 1 });
  };
  more(50_000);
  genealogy.commitUpTo(seq);
  expect(genealogy.wantsCompaction).toBe(true);
  let slices = 0;
  await genealogy.compactInSlices(async () => {
    slices++;
    expect(genealogy.wantsCompaction).toBe(false);
    const mark = genealogy.mark();
    more(3);
    genealogy.rollbackTo(mark);
    seq -= 3;
    more(1);
    expect(genealogy.linksOf(2, 'into', Infinity)).toHaveLength(50_000 + slices);
  });
  expect(slices).toBeGreaterThan(5);
  expect(genealogy.out.links).toBe(50_000);
  expect(genealogy.linksOf(2, 'into', Infinity)).toHaveLength(50_000 + slices);
  expect(genealogy.linksOf(2, 'into')).toHaveLength(50_000);
});

test.each([
  ['the worst: one entry a link, every one with a mass that is not its quantity', 1, 4_000_000, 64.1],
  ['an import: a thousand links an entry, in kilograms', 1000, 5_000_000, 44],
])('bytes a link, all arrays included: %s', (_case, linksAnEntry, massMicro, most) => {
  const genealogy = plant();
  for (let n = 0; n < 300_000; n++) {
    genealogy.append({ ...plain, seq: 1 + Math.floor(n / linksAnEntry), ord: n % linksAnEntry, massMicro, blends: true });
  }
  genealogy.commitUpTo(300_000);
  genealogy.compact();
  const restored = unpackSnapshot(packSnapshot(genealogy, 'ab'), { seq: 300_000, hash: 'ab' });
  expect(restored.byteLength / restored.linkCount).toBeLessThanOrEqual(most);
  // Room to append to is at most a quarter more.
  expect(genealogy.byteLength / genealogy.linkCount).toBeLessThanOrEqual(most * 1.25);
});
