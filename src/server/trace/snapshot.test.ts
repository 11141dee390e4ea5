import { describe, expect, test } from 'vitest';
import { Genealogy } from './genealogy.js';
import { packSnapshot, snapshotCover, SnapshotFault, unpackSnapshot } from './snapshot.js';
import { traceForward } from './walk.js';

const HASH = 'c0ffee'.padEnd(64, '0');

function plant(): Genealogy {
  const genealogy = new Genealogy();
  genealogy.addLot(1, 0);
  genealogy.addLot(2, 0);
  genealogy.addLot(4, 9); // 3 is an id that a rolled back transaction used up
  const link = { fromFirst: 0, fromLast: 0, quantityMicro: 1_500_000, massMicro: 1_400_000, map: 'all', blends: true } as const;
  genealogy.append({ ...link, seq: 3, ord: 0, fromLot: 1, toLot: 2, toFirst: 0, toLast: 0 });
  genealogy.append({ ...link, seq: 3, ord: 1, fromLot: 2, toLot: 4, toFirst: 1, toLast: 5 });
  genealogy.append({ ...link, seq: 6, ord: 0, fromLot: 1, toLot: 4, toFirst: 9, toLast: 9 });
  genealogy.voidLink(3, 1, 7);
  genealogy.commitUpTo(8);
  return genealogy;
}

const answers = (genealogy: Genealogy) =>
  [2, 5, 6, 8].map((asKnownAt) =>
    traceForward(genealogy, [{ lot: 1, spans: null }], { asKnownAt })
      .lots.map(({ lot, spans, depth }) => ({ lot, spans, depth }))
      .toSorted((a, b) => a.lot - b.lot),
  );

test('an index restored from a snapshot answers the same, and goes on from where it was', () => {
  const packed = packSnapshot(plant(), HASH);
  expect(snapshotCover(packed)).toEqual({ seq: 8, hash: HASH });
  const restored = unpackSnapshot(packed, { seq: 8, hash: HASH });
  expect(answers(restored)).toEqual(answers(plant()));
  expect(restored.linksOf(4, 'into')).toEqual(plant().linksOf(4, 'into'));
  expect(restored.linksOf(4, 'into', 6)).toEqual(plant().linksOf(4, 'into', 6));
  expect(restored.piecesOf(3)).toBe(-1);
  restored.addLot(3, 2);
  const link = { seq: 9, ord: 0, fromLot: 2, fromFirst: 0, fromLast: 0, toLot: 3, toFirst: 1, toLast: 2 };
  restored.append({ ...link, quantityMicro: 2, massMicro: 3, map: 'all', blends: true });
  restored.commitUpTo(9);
  expect(restored.linksOf(3, 'into')).toEqual([{ ...link, quantityMicro: 2, massMicro: 3, map: 'all', blends: true, voidedAt: null }]);
});

test('an empty plant has a snapshot too', () => {
  const genealogy = new Genealogy();
  genealogy.commitUpTo(2);
  expect(unpackSnapshot(packSnapshot(genealogy, HASH), { seq: 2, hash: HASH }).linkCount).toBe(0);
});

test.each(['link', 'void'])('nothing uncommitted is packed: a %s', (what) => {
  const genealogy = plant();
  if (what === 'void') genealogy.voidLink(6, 0, 9);
  const link = { seq: 9, ord: 0, fromLot: 1, fromFirst: 0, fromLast: 0, toLot: 2, toFirst: 0, toLast: 0 };
  if (what === 'link') genealogy.append({ ...link, quantityMicro: 1, massMicro: 0, map: 'all', blends: false });
  expect(() => packSnapshot(genealogy, HASH)).toThrow('uncommitted');
});

describe('refused, so that the rows are read instead', () => {
  const cover = { seq: 8, hash: HASH };

  test.each([
    ['another ledger', { seq: 8, hash: HASH.replace('c', 'd') }],
    ['another entry of it', { seq: 7, hash: HASH }],
  ])('%s', (_case, expected) => {
    expect(() => unpackSnapshot(packSnapshot(plant(), HASH), expected)).toThrow(SnapshotFault);
  });

  test('any byte changed', () => {
    const packed = packSnapshot(plant(), HASH);
    for (let at = 0; at < packed.length; at++) {
      const changed = Buffer.from(packed);
      changed[at] = (changed[at] ?? 0) ^ 0x10;
      expect(() => unpackSnapshot(changed, cover), `byte ${at}`).toThrow(SnapshotFault);
    }
  });

  test('cut short anywhere, or with something after it', () => {
    const packed = packSnapshot(plant(), HASH);
    for (let length = 0; length < packed.length; length += 7) {
      expect(() => unpackSnapshot(packed.subarray(0, length), cover), `${length} bytes`).toThrow(SnapshotFault);
    }
    expect(() => unpackSnapshot(Buffer.concat([packed, Buffer.alloc(8)]), cover)).toThrow(SnapshotFault);
  });

  test('a file of something else', () => {
    expect(() => snapshotCover(Buffer.alloc(4096, 'x'))).toThrow('not a genealogy snapshot');
  });
});
