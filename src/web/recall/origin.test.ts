import { describe, expect, it } from 'vitest';
import { originOfAddress, originsOfText, textOfOrigin } from './origin.js';

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
  it('is written as it is read', () => {
    const text = 'F26-00038 1-370\nserial K-00104\nsupplier-lot LW-6355\nrun RUN-0015\nshipment S-0004\nR26-00032';
    expect(originsOfText(text).map(textOfOrigin).join('\n')).toBe(text);
  });
  it('is taken from an address', () => {
    expect(originOfAddress(new URLSearchParams('lot=F26-00038&pieces=1-370&scope=narrow'))).toEqual({ lot: 'F26-00038', pieces: '1-370' });
    expect(originOfAddress(new URLSearchParams('scope=narrow'))).toBeNull();
  });
});
