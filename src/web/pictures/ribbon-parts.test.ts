import { describe, expect, it } from 'vitest';
import { layoutRibbon, type RibbonInput } from '../../../shared/ribbon-layout.js';
import { atSpot, reaching, segmentAt, stepTo, tellPart } from './ribbon-parts.js';

const PUMPS: RibbonInput = {
  pieces: 40,
  affected: [[11, 20]],
  above: [
    {
      label: 'Customers',
      parts: [
        {
          label: 'C-002',
          kind: 'customer',
          spans: [
            [1, 5],
            [31, 40],
          ],
        },
      ],
    },
    { label: 'Not sent', parts: [] },
  ],
  below: [
    {
      label: 'Hose',
      parts: [
        { label: 'C26-00011', kind: 'input', spans: [[1, 20]] },
        { label: 'C26-00060', kind: 'input', spans: [[21, 40]] },
      ],
    },
  ],
};
const ribbon = layoutRibbon(PUMPS, { width: 800 });
const ROW = { customers: 0, empty: 1, bar: 2, hose: 3 };

describe('keys in the ribbon', () => {
  it('go from part to part and from row to row at the same piece, past rows of nothing', () => {
    expect(stepTo(ribbon, { row: ROW.customers, piece: 1 }, 'ArrowRight', 40)).toEqual({ row: ROW.customers, piece: 31 });
    expect(stepTo(ribbon, { row: ROW.customers, piece: 33 }, 'ArrowDown', 40)).toEqual({ row: ROW.bar, piece: 33 });
    expect(stepTo(ribbon, { row: ROW.bar, piece: 33 }, 'ArrowUp', 40)).toEqual({ row: ROW.customers, piece: 33 });
    expect(stepTo(ribbon, { row: ROW.hose, piece: 33 }, 'Home', 40)).toEqual({ row: ROW.hose, piece: 1 });
    expect(stepTo(ribbon, { row: ROW.hose, piece: 33 }, 'ArrowDown', 40)).toBeNull();
    expect(stepTo(ribbon, { row: ROW.hose, piece: 33 }, 'ArrowRight', 40)).toBeNull();
  });

  it('lead out of the stretch that is drawn where the row goes on', () => {
    expect(stepTo(ribbon, { row: ROW.hose, piece: 33 }, 'ArrowRight', 60)).toEqual({ row: ROW.hose, piece: 41 });
  });
});

describe('what is at a spot', () => {
  it('is the part that holds the piece, or the nearest one, with the whole stretch of it', () => {
    const row = ribbon.rows[ROW.customers];
    expect(row && segmentAt(row, 20)).toBe(1);
    expect(atSpot(PUMPS, ribbon, { row: ROW.customers, piece: 20 })?.run).toEqual([31, 40]);
    expect(atSpot(PUMPS, ribbon, { row: ROW.customers, piece: 20 })?.part.spans).toHaveLength(2);
    expect(atSpot(PUMPS, ribbon, { row: ROW.bar, piece: 12 })?.part).toMatchObject({ label: 'affected', affected: true });
    expect(atSpot(PUMPS, ribbon, { row: ROW.empty, piece: 12 })).toBeNull();
    expect(atSpot(PUMPS, ribbon, null)).toBeNull();
  });

  it('is told with what became of it, its pieces and their count', () => {
    expect(tellPart('Customers', 'C-002', 'customer', false, [31, 40])).toBe(
      'Customers: C-002 · dispatched · pieces 31–40 · 10\u00a0pieces',
    );
    expect(tellPart('Pieces', 'affected', 'piece', true, [11, 11])).toBe('Affected pieces · piece 11 · 1\u00a0piece');
    expect(tellPart('Holds', 'H-1', 'held', true, [1, 2])).toBe('Holds: H-1 · held · pieces 1–2 · 2\u00a0pieces');
  });

  it('reaches from one stretch to another, whichever comes first', () => {
    expect(reaching([31, 40], [1, 5])).toEqual([[1, 40]]);
  });
});
