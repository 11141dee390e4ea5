import { describe, expect, it } from 'vitest';
import type { LotPicture } from './api/lot-picture.js';
import { layoutRibbon } from './ribbon-layout.js';
import { ribbonLotOf, ribbonOfLot } from './ribbon-of-lot.js';
import { formatSpans, type SpanSet } from './spans.js';

const link = (lot: string, item: string, fromPieces: string | null, toPieces: string | null, map: 'all' | 'each' = 'all') => ({
  lot,
  item,
  itemName: `Item ${item}`,
  fromPieces,
  toPieces,
  map,
});
const cans: LotPicture = {
  lot: 'F-1',
  pieces: 100,
  places: [
    { fate: 'dispatched', at: 'S-1', pieces: '1-40', customer: 'C-001' },
    { fate: 'dispatched', at: 'S-2', pieces: '41-50', customer: 'C-001' },
    { fate: 'on-hand', at: 'FG-1', pieces: '51-98', customer: null },
    { fate: 'retained', at: 'KEEP', pieces: '99-100', customer: null },
  ],
  stamps: [
    { stamp: 'RELEASED', pieces: '1-90' },
    { stamp: 'QUARANTINE', pieces: '91-100' },
    { stamp: 'HELD', pieces: '60-70' },
  ],
  holds: [{ hold: 'H-0001', pieces: '60-70' }],
  reports: [
    { report: 'NC-0001', open: true, pieces: '65-66' },
    { report: 'NC-0002', open: false, pieces: '1-2' },
  ],
  madeFrom: [
    link('B-1', 'MIX', null, '1-60'),
    link('B-2', 'MIX', null, '61-100'),
    link('P-1', 'LBL', null, '1-30'),
    link('P-2', 'LBL', null, '31-100'),
  ],
  wentInto: [],
};
const shown = (picture: LotPicture, affected?: ReadonlyMap<string, SpanSet | null>) => {
  const input = ribbonOfLot(ribbonLotOf(picture, affected)!);
  const strip = ({ label, parts }: (typeof input.above)[number]) => [
    label,
    ...parts.map((part) => `${part.label} ${formatSpans(part.spans)}${part.affected ? '!' : ''}`),
  ];
  return { input, above: input.above.map(strip), below: input.below.map(strip) };
};

describe('the ribbon of a lot', () => {
  it('shows above where the pieces went and what stands against them, below what they were made of', () => {
    const { above, below, input } = shown(cans);
    expect(above).toEqual([
      ['Customers', 'C-001 1-50'],
      ['Not sent', 'FG-1 51-98', 'retained KEEP 99-100'],
      ['Not released', 'quarantine 91-100!'],
      ['Holds', 'H-0001 60-70!'],
      ['Reports', 'NC-0001 65-66!'],
    ]);
    expect(below).toEqual([
      ['Item LBL', 'P-1 1-30', 'P-2 31-100'],
      ['Item MIX', 'B-1 1-60', 'B-2 61-100'],
    ]);
    expect(layoutRibbon(input, { width: 900 }).rows.find((row) => row.label === 'Item MIX')?.cuts).toEqual([
      expect.objectContaining({ piece: 61 }),
    ]);
  });

  it('inks what a trace reached, and what brought it', () => {
    const affected = new Map<string, SpanSet | null>([
      ['B-2', null],
      ['F-1', [[61, 100]]],
    ]);
    const { above, below } = shown(cans, affected);
    expect(above.slice(0, 2)).toEqual([
      ['Customers', 'C-001 1-50'],
      ['Not sent', 'FG-1 51-60', 'FG-1 61-98!', 'retained KEEP 99-100!'],
    ]);
    expect(below[1]).toEqual(['Item MIX', 'B-1 1-60', 'B-2 61-100!']);
  });

  it('follows pieces one into one, into this lot and out of it', () => {
    const gauges: LotPicture = { ...cans, lot: 'G-1', pieces: 10, places: [], stamps: [], holds: [], reports: [] };
    const into = { ...gauges, madeFrom: [link('N-1', 'NUT', '11-20', '1-10', 'each')] };
    expect(shown(into, new Map([['N-1', [[12, 13]] as SpanSet]])).below).toEqual([['Item NUT', 'N-1 1,4-10', 'N-1 2-3!']]);
    const out = {
      ...gauges,
      madeFrom: [],
      wentInto: [link('U-1', 'PUMP', '1-4', '5-8', 'each'), link('U-2', 'PUMP', '5-10', '1-6', 'each')],
    };
    expect(shown(out, new Map([['G-1', [[4, 5]] as SpanSet]])).above).toEqual([
      ['Into Item PUMP', 'U-1 1-3', 'U-1 4!', 'U-2 5!', 'U-2 6-10'],
    ]);
  });

  it('names the largest of very many parts and sums the rest', () => {
    const many = Array.from({ length: 50 }, (_, i) => ({
      fate: 'dispatched',
      at: `S-${i}`,
      pieces: `${2 * i + 1}-${2 * i + 2}`,
      customer: `C-${i}`,
    }));
    const [customers] = shown({ ...cans, places: many }).above;
    expect(customers).toHaveLength(42);
    expect(customers!.join(' ')).toContain('10 more');
  });

  it('is for numbered lots only', () => expect(ribbonLotOf({ ...cans, pieces: null })).toBeNull());
});
