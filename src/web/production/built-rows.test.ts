import { describe, expect, it } from 'vitest';
import { builtRows } from './built-rows.js';

const part = (item: string, lot: string, seq: number, piece: number | null = null) =>
  ({ item, name: item.toLowerCase(), lot, piece, seq, mayStillHold: null }) as Parameters<typeof builtRows>[1][number];

describe('a unit as designed, as built and as it is', () => {
  const rows = builtRows(
    [
      { item: 'HOSE', perPiece: '1' },
      { item: 'SEAL', perPiece: '2' },
      { item: 'GAUGE', perPiece: '1' },
    ],
    [part('HOSE', 'C-1', 9), part('GAUGE', 'C-2', 9, 31), part('STICKER', 'P-1', 9)],
    [part('HOSE', 'C-1', 20), part('GAUGE', 'C-2', 9, 31), part('STICKER', 'P-1', 9)],
  );

  it('keeps the order of the bill, and lists what is not in it too', () => {
    expect(rows.map(({ item, designed }) => [item, designed])).toEqual([
      ['HOSE', '1'],
      ['SEAL', '2'],
      ['GAUGE', '1'],
      ['STICKER', null],
    ]);
  });

  it('says which part is another one now, also of the same lot, and which was never recorded', () => {
    expect(rows.map(({ changed }) => changed)).toEqual([true, false, false, false]);
    expect(rows[1]).toMatchObject({ built: [], now: [] });
  });
});
