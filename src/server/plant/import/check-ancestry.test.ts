import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Breath } from './breath.js';
import { checkAncestry } from './check-ancestry.js';
import { Faults } from './faults.js';
import { Folder } from './folder.js';
import { linkRows } from './read-use-rows.js';

type Edge = readonly [kind: string, from: string, to: string];

const find = async (edges: readonly Edge[], paths: readonly { from: string; to: string }[] = []) => {
  const folder = new Folder();
  const faults = new Faults();
  const take = linkRows(folder, faults);
  edges.forEach(([kind, from, to], i) => take([`RUN-${kind}`, kind, '2026-01-01T00:00:00Z', from, '', '', to, '', '', '', ''], i + 2));
  const number = (code: string): number => folder.lotNames.idOf(code)!;
  await checkAncestry(
    folder,
    paths.map(({ from, to }) => ({ from: number(from), to: number(to) })),
    faults,
    new Breath(),
  );
  return faults.listed;
};

describe('I-13 no lot is its own ancestor', () => {
  it('passes what only runs forward, however it is ordered', async () => {
    expect(
      await find([
        ['filling', 'B', 'F'],
        ['mixing', 'A', 'B'],
        ['mixing', 'A', 'F'],
      ]),
    ).toEqual([]);
  });

  it('names the circle and the row that closes it', async () => {
    const faults = await find([
      ['mixing', 'A', 'B'],
      ['mixing', 'B', 'C'],
      ['mixing', 'C', 'A'],
      ['filling', 'C', 'F'],
    ]);
    expect(faults).toMatchObject([{ line: 4, value: 'C', code: 'own-ancestor' }]);
    expect(faults[0]!.detail).toContain('A → B → C → A (lines 2, 3, 4)');
  });

  it('reports each circle once', async () => {
    const faults = await find([
      ['mixing', 'A', 'B'],
      ['mixing', 'B', 'A'],
      ['mixing', 'X', 'Y'],
      ['mixing', 'Y', 'X'],
      ['mixing', 'Z', 'Z'],
    ]);
    expect(faults.map((fault) => fault.line)).toEqual([3, 5, 6]);
  });

  it('lets rework and repacking lead back', async () => {
    expect(
      await find([
        ['filling', 'B', 'F'],
        ['rework', 'F', 'B'],
      ]),
    ).toEqual([]);
    expect(
      await find([
        ['filling', 'B', 'F'],
        ['repacking', 'F', 'B'],
      ]),
    ).toEqual([]);
    expect(
      await find([
        ['filling', 'B', 'F'],
        ['rework', 'F', 'B'],
        ['mixing', 'F', 'B'],
      ]),
    ).toHaveLength(1);
  });

  it('counts the ways the plant has recorded', async () => {
    expect(await find([['mixing', 'A', 'B']], [{ from: 'B', to: 'A' }])).toMatchObject([{ line: 2 }]);
  });

  it('finds a circle exactly when there is one', async () => {
    const lot = fc.integer({ min: 0, max: 7 }).map((n) => `L${n}`);
    const edges = fc.array(fc.tuple(fc.constantFrom('mixing', 'filling', 'rework'), lot, lot), { maxLength: 14 });
    await fc.assert(
      fc.asyncProperty(edges, async (some) => {
        expect((await find(some)).length > 0).toBe(hasCircle(some.filter(([kind]) => kind !== 'rework')));
      }),
      { numRuns: 300 },
    );
  });
});

/** Naive: a lot that a walk from itself comes back to. */
function hasCircle(edges: readonly Edge[]): boolean {
  const from = (start: string): Set<string> => {
    const seen = new Set<string>();
    const walk = (lot: string): void => {
      for (const [, a, b] of edges) {
        if (a !== lot || seen.has(b)) continue;
        seen.add(b);
        walk(b);
      }
    };
    walk(start);
    return seen;
  };
  return edges.some(([, a]) => from(a).has(a));
}
