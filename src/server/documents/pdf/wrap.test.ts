import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Faces } from './faces.js';
import { cutToFit, wrapText } from './wrap.js';

const faces = new Faces();
const text = fc.string({ unit: fc.constantFrom(...Array.from('aiWM0189-/._,@ ()ÅłőéλЖ\u00a0漢\n')), maxLength: 120 });

const wrap = (words: string): string[] => wrapText(faces, words, 'regular', 10, 60);
const asAWhole = (words: string): number => (faces.face('regular').forPdf().layout(words).advanceWidth * 10) / 1000;

describe('lines', () => {
  test('put together are the text again, and none is wider than the column', () => {
    fc.assert(
      fc.property(text, fc.integer({ min: 60, max: 200 }), (whole, width) => {
        const lines = wrapText(faces, whole, 'regular', 8.5, width);
        expect(lines.join('')).toBe(whole.replaceAll('\n', ' '));
        for (const line of lines) expect(faces.width(line.trimEnd(), 'regular', 8.5)).toBeLessThanOrEqual(width + 1e-9);
      }),
      { numRuns: 300 },
    );
  });

  test('break at spaces, else after a hyphen, else anywhere', () => {
    expect(wrap('bottom bracket shell')).toEqual(['bottom ', 'bracket shell']);
    expect(wrap('LONG-LOT-CODE-2026-00031')).toEqual(['LONG-LOT-', 'CODE-2026-', '00031']);
    expect(wrap('0123456789012345678901234')).toHaveLength(3);
  });

  test('a text cut to fit ends in an ellipsis, or is left out whole', () => {
    expect(cutToFit(faces, 'C-021', 'regular', 7, 100)).toBe('C-021');
    expect(cutToFit(faces, 'Brook & Daughters', 'regular', 7, 40)).toMatch(/^Brook.*…$/u);
    expect(cutToFit(faces, 'Brook & Daughters', 'regular', 7, 5)).toBe('');
  });
});

describe('faces', () => {
  test('figures are of one width, so that columns of them can be compared', () => {
    expect(new Set(Array.from('0123456789', (figure) => faces.width(figure, 'regular', 10))).size).toBe(1);
  });

  test('every letter that a European name or a measure needs is in the main face', () => {
    const runs = faces.runs('≤ ≥ – — … ± × ° · ½ ² ³ € ÀÉÎÕÜßĄĆČĎĘĞĪŁŃŐŘŚŞȘŤŢȚŮŰŹŻŽĦĐÞÆŒ', 'regular');
    expect(runs.map(({ face }) => face)).toEqual(['regular']);
  });

  test('widths by letters and pairs equal those of the font as a whole', () => {
    for (const words of ['AVATAR', 'To', 'R-0311', 'Track pumps', 'Łódź']) {
      expect(faces.width(words, 'regular', 10)).toBeCloseTo(asAWhole(words), 6);
    }
  });
});
