import { describe, expect, it } from 'vitest';
import { readScan } from '../../../shared/scan/read-scan.js';
import { askedOf, lotsFound, sayAsked } from './found-code.js';

const asked = (text: string) => askedOf(readScan(text, '2026-03-02'), text);

describe('what a scan asks of the record', () => {
  it('asks by the lot of a GS1 label, and by the text of a plain one', () => {
    expect(asked('(01)09506000013435(10)F26-00095')).toEqual({ gtin: '09506000013435', lot: 'F26-00095' });
    expect(asked('R26-00071 ')).toEqual({ text: 'R26-00071' });
    expect(sayAsked({ gtin: '09506000013435', lot: 'F26-00095' })).toBe('F26-00095');
  });

  it('asks nothing for a GTIN alone and for a faulty code', () => {
    expect(asked('(01)09506000013435')).toBeNull();
    expect(asked('(01)09506000013436(10)X')).toBeNull();
  });

  it('takes exact lots, serials and suppliers’ lots, each once', () => {
    const line = (kind: string, code: string, lot: string | null, piece: number | null = null, exact = true) =>
      ({ kind, code, lot, piece, exact, of: null, says: '', supplier: null }) as Parameters<typeof lotsFound>[0][number];
    const lots = lotsFound([
      line('lot', 'R-1', 'R-1'),
      line('supplier-lot', 'R-1', 'R-1'),
      line('serial', 'G-7', 'C-1', 7),
      line('lot', 'R-11', 'R-11', null, false),
      line('item', 'R-1', null),
    ]);
    expect(lots).toEqual([
      { lot: 'R-1', piece: null, serial: null, says: '' },
      { lot: 'C-1', piece: 7, serial: 'G-7', says: '' },
    ]);
  });

  it('guesses nothing where a supplier’s lot became several lots here', () => {
    const found = {
      kind: 'supplier-lot',
      code: 'LW-8',
      of: 'R-4',
      lot: 'R-4',
      lots: ['R-4', 'R-3'],
      piece: null,
      supplier: 'S',
      says: '',
      exact: true,
    };
    expect(lotsFound([found as Parameters<typeof lotsFound>[0][number]]).map(({ lot }) => lot)).toEqual(['R-4', 'R-3']);
  });
});
