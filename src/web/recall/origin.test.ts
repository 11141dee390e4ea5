import { describe, expect, it } from 'vitest';
import { originOfAddress, originsOfText, questionOf, textOfOrigin, tracesOf } from './origin.js';

describe('the origin of a recall', () => {
  it('is read from lines of text', () => {
    expect(originsOfText('R26-00032\n\n F26-00038 1-370 \nserial K-00104\nsupplier-lot LW-6355\nrun RUN-0015\nshipment S-0004')).toEqual([
      { lot: 'R26-00032' },
      { lot: 'F26-00038', pieces: '1-370' },
      { serial: 'K-00104' },
      { supplierLot: 'LW-6355' },
      { run: 'RUN-0015' },
      { shipment: 'S-0004' },
    ]);
  });
  it('loses no piece and no code to a blank, a dash or a colon', () => {
    expect(
      originsOfText('F26-00038 1-370, 400 500-510\nF26-00038:1–370\nLOT WITH BLANKS\nsupplier-lot LW 63:55 of S-WAX\nserial K-1 of PUMP'),
    ).toEqual([
      { lot: 'F26-00038', pieces: '1-370,400,500-510' },
      { lot: 'F26-00038', pieces: '1-370' },
      { lot: 'LOT WITH BLANKS' },
      { supplierLot: 'LW 63:55', supplier: 'S-WAX' },
      { serial: 'K-1', item: 'PUMP' },
    ]);
  });
  it('is written as it is read', () => {
    const text =
      'F26-00038 1-370\nserial K-00104\nserial K-1 of PUMP\nsupplier-lot LW-6355\nsupplier-lot LW 1 of S-WAX\nrun RUN-0015\nshipment S-0004\nR26-00032';
    expect(originsOfText(text).map(textOfOrigin).join('\n')).toBe(text);
  });
  it('is taken from an address', () => {
    expect(originOfAddress(new URLSearchParams('lot=F26-00038&pieces=1-370&scope=narrow'))).toEqual({ lot: 'F26-00038', pieces: '1-370' });
    expect(originOfAddress(new URLSearchParams('scope=narrow'))).toBeNull();
  });
  it('leads back to the trace of all of it', () => {
    const frozen = { chosen: 'narrow' as const, knownSeq: 9 };
    const part = (lot: string, spans: number[][] | null) => ({ lot, spans });
    expect(tracesOf({ ...frozen, origin: [part('R-1', null)] }, [])).toEqual([{ of: null, href: '/trace?lot=R-1&asKnownAt=9' }]);
    const several = [
      part('R-1', null),
      part('F-1', [
        [1, 4],
        [9, 9],
      ]),
    ];
    expect(tracesOf({ ...frozen, chosen: 'conservative', origin: several }, ['F-1'])).toEqual([
      { of: null, href: '/trace?lots=R-1&lots=F-1&asKnownAt=9&shown=conservative' },
    ]);
    expect(tracesOf({ ...frozen, origin: several }, ['F-2'])).toEqual([{ of: null, href: '/trace?lots=R-1&lots=F-1&asKnownAt=9' }]);
    expect(tracesOf({ ...frozen, origin: several }, ['F-1'])).toEqual([
      { of: 'R-1', href: '/trace?lot=R-1&asKnownAt=9' },
      { of: 'F-1', href: '/trace?lot=F-1&pieces=1-4%2C9&asKnownAt=9' },
    ]);
  });
  it('is asked of the trace as one question, where it takes one', () => {
    expect(questionOf(originsOfText('R-1\nR-2\nF-1 1-9\nserial K-1 of PUMP\nrun RUN-1'))).toEqual({
      lots: ['R-1', 'R-2'],
      lot: 'F-1',
      pieces: '1-9',
      serial: 'K-1',
      item: 'PUMP',
      run: 'RUN-1',
    });
    expect(questionOf(originsOfText('F-1 1-9\nF-2 3'))).toBeNull();
    expect(questionOf(originsOfText('serial K-1\nserial K-2'))).toBeNull();
    expect(questionOf([])).toBeNull();
  });
});
