import { describe, expect, it } from 'vitest';
import { type Happening, partInWords, told } from './timeline.js';

const shipped = (n: number, on = '2026-03-02'): Happening => ({ seq: n, kind: 'shipped', on, what: `S-${n}` });

describe('timeline', () => {
  it('is in ledger order', () => {
    expect(told([shipped(3), { seq: 1, kind: 'made', on: '2026-03-01', what: 'made' }, shipped(2)]).map(({ seq }) => seq)).toEqual([
      1, 2, 3,
    ]);
  });

  it('tells sixty of a kind one by one, and more day by day', () => {
    const sixty = Array.from({ length: 60 }, (_, i) => shipped(i + 1));
    expect(told(sixty)).toHaveLength(60);
    const more = [...sixty, shipped(61, '2026-03-03')];
    expect(told(more).map(({ seq, what }) => [seq, what])).toEqual([
      [1, '60 lines shipped to customers on 2026-03-02'],
      [61, 'S-61'],
    ]);
  });

  it('tells month by month what fell on too many days', () => {
    const days = Array.from({ length: 62 }, (_, i) =>
      shipped(i + 1, `2026-0${3 + Math.floor(i / 31)}-${String((i % 31) + 1).padStart(2, '0')}`),
    );
    expect(told(days).map(({ seq, what }) => [seq, what])).toEqual([
      [1, '31 lines shipped to customers in 2026-03'],
      [32, '31 lines shipped to customers in 2026-04'],
    ]);
  });

  it('names a part by its pieces or by its quantity', () => {
    expect(
      partInWords(
        'F-1',
        'each',
        [
          [1, 4],
          [9, 9],
        ],
        5_000_000,
      ),
    ).toBe('pieces 1-4,9 of F-1');
    expect(partInWords('R-1', 'kg', null, 25_500_000)).toBe('25.5 kg of R-1');
  });
});
