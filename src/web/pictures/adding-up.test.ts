import { describe, expect, it } from 'vitest';
import { addingUp } from './adding-up.js';

const ACCOUNT = { lot: 'F-1', unit: 'each', affected: '100', disposed: '60', carriedOut: '10', open: '40', tooMany: '0' };
const one = (kind: string, state: 'proposed' | 'signed' | 'carried-out' | 'verified' | 'withdrawn', quantity: string) => ({
  kind,
  state,
  lot: 'F-1',
  quantity,
  conforming: null,
});

describe('the bar on which a report adds up', () => {
  it('sums dispositions by kind and by how far they are, and leaves out what was taken back or is of another lot', () => {
    const { stretches } = addingUp(ACCOUNT, [
      one('scrap', 'proposed', '20'),
      one('rework', 'signed', '30'),
      one('scrap', 'carried-out', '10'),
      one('scrap', 'withdrawn', '7'),
      { ...one('scrap', 'signed', '99'), lot: 'F-2' },
    ]);
    expect(stretches).toEqual([
      { kind: 'scrap', standing: 'done', micro: 10_000_000 },
      { kind: 'scrap', standing: 'proposed', micro: 20_000_000 },
      { kind: 'rework', standing: 'signed', micro: 30_000_000 },
    ]);
  });

  it('counts a sorted part for what conforms', () => {
    const sorted = { ...one('sort', 'carried-out', '60'), conforming: '45' };
    expect(addingUp(ACCOUNT, [sorted]).stretches).toEqual([{ kind: 'sort', standing: 'done', micro: 45_000_000 }]);
    expect(addingUp(ACCOUNT, [{ ...sorted, conforming: '0' }]).stretches).toEqual([]);
  });

  it('keeps the figures of the server', () => {
    expect(addingUp(ACCOUNT, [])).toEqual({
      affectedMicro: 100_000_000,
      disposedMicro: 60_000_000,
      openMicro: 40_000_000,
      tooManyMicro: 0,
      stretches: [],
    });
  });
});
