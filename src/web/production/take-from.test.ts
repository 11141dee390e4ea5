import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../shared/quantity.js';
import type { Lot, Run } from './run.js';
import { firstPieces, microIn, onHand, piecesIn, proposed, proposedFromPiece } from './take-from.js';
import type { Want } from './wants.js';

const place = (fate: string, at: string, quantity: string, pieces: string | null = null) => ({
  fate,
  at,
  quantity,
  pieces,
  customer: null,
  customerName: null,
});
const lot = (places: ReturnType<typeof place>[], pieces: number | null = null) =>
  ({ lot: 'L', pieces, places, unit: 'kg' }) as unknown as Lot;
const want = (target: number | null, charged = 0): Want => ({
  step: 1,
  item: 'X',
  name: 'x',
  unit: 'kg',
  targetMicro: target === null ? null : target * MICRO,
  lowMicro: null,
  highMicro: null,
  chargedMicro: charged * MICRO,
  mixMinutes: 0,
  bySerial: false,
});

describe('what is proposed to be charged', () => {
  it('is what is wanted still, and no more than is on hand', () => {
    const drum = lot([place('on-hand', 'RACK', '60'), place('consumed', 'RUN-1', '40')]);
    expect(onHand(drum)).toEqual({ micro: 60 * MICRO, spans: null, places: ['RACK'] });
    expect(proposed(drum, want(100, 70), null).quantity).toBe('30');
    expect(proposed(drum, want(100), null).quantity).toBe('60');
    expect(proposed(drum, null, null).quantity).toBe('60');
  });

  it('is the first pieces that are on hand, or the very piece that was scanned', () => {
    const barrels = lot([place('on-hand', 'RACK', '10', '1-5,21-25'), place('consumed', 'RUN-1', '15', '6-20')], 25);
    expect(proposed(barrels, want(7), null).pieces).toBe('1-5,21-22');
    expect(proposed(barrels, want(7), 23).pieces).toBe('23');
    expect(firstPieces([[3, 4]], 9)).toEqual([[3, 4]]);
    expect(firstPieces([[3, 4]], 0)).toEqual([]);
  });

  it('begins with piece 1 for the first lot of an item, and leaves later ones to the person', () => {
    const run = {
      charges: [
        { item: 'CAN', quantity: '5' },
        { item: 'LID', quantity: '0' },
      ],
    } as unknown as Run;
    expect(proposedFromPiece(run, 'CAN')).toBe('');
    expect(proposedFromPiece(run, 'LID')).toBe('1');
  });

  it('reads what is typed, and says null of what is none yet', () => {
    expect([piecesIn('1-5,9'), piecesIn('1-'), microIn('2.5'), microIn('2.')]).toEqual([6, null, 2.5 * MICRO, null]);
  });
});
