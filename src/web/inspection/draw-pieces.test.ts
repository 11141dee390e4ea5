import { describe, expect, it } from 'vitest';
import { drawPieces } from './draw-pieces.js';

describe('drawing piece numbers by chance', () => {
  it('takes so many different pieces of those there are, in order', () => {
    for (let again = 0; again < 50; again++) {
      const drawn = drawPieces(
        [
          [5, 14],
          [101, 120],
        ],
        8,
      );
      expect(new Set(drawn).size).toBe(8);
      expect(drawn).toEqual(drawn.toSorted((a, b) => a - b));
      expect(drawn.every((piece) => (piece >= 5 && piece <= 14) || (piece >= 101 && piece <= 120))).toBe(true);
    }
  });

  it('takes all where the sample reaches the lot, and each as often as any other', () => {
    expect(drawPieces([[3, 6]], 10)).toEqual([3, 4, 5, 6]);
    const times = new Map<number, number>();
    for (let again = 0; again < 4000; again++) for (const piece of drawPieces([[1, 10]], 3)) times.set(piece, (times.get(piece) ?? 0) + 1);
    // 1 200 expected for each, standard deviation about 29: six of them are never left by chance.
    for (let piece = 1; piece <= 10; piece++) expect(Math.abs((times.get(piece) ?? 0) - 1200)).toBeLessThan(175);
  });
});
