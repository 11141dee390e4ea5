import { describe, expect, it } from 'vitest';
import type { RibbonInput } from './ribbon-layout.js';
import { pieceAtX, xOfEdge } from './ribbon-scale.js';
import { layoutRibbonWindow, movedWindow, windowAround, windowWith, zoomedWindow } from './ribbon-window.js';

const CANS: RibbonInput = {
  pieces: 4800,
  affected: [[1921, 4800]],
  above: [{ label: 'Holds', parts: [{ label: 'H26-0007', kind: 'held', spans: [[1921, 4800]], affected: true }] }],
  below: [
    {
      label: 'Wax',
      parts: [
        { label: 'B-1', kind: 'input', spans: [[1, 1920]] },
        { label: 'B-2', kind: 'input', spans: [[1921, 4800]], affected: true },
      ],
    },
  ],
};

describe('layoutRibbonWindow', () => {
  it('cuts every strip to the stretch and numbers the pieces as the lot does', () => {
    const near = layoutRibbonWindow(CANS, [1901, 1950], { width: 800 });
    const wax = near.rows.find(({ label }) => label === 'Wax');
    expect(wax?.segments.map(({ label, first, last }) => [label, first, last])).toEqual([
      ['B-1', 1901, 1920],
      ['B-2', 1921, 1950],
    ]);
    expect(wax?.cuts.map(({ piece }) => piece)).toEqual([1921]);
    expect(near.ticks.map(({ piece }) => piece)).toEqual([1901, 1910, 1920, 1930, 1940, 1950]);
  });

  it('makes a single piece wide enough to be hit', () => {
    const near = layoutRibbonWindow(CANS, [1917, 1924], { width: 800 });
    const x = xOfEdge(near.scale, 1920);
    expect(xOfEdge(near.scale, 1921) - x).toBeGreaterThan(44);
    expect(pieceAtX(near.scale, x + 1)).toBe(1921);
    expect(pieceAtX(near.scale, x - 1)).toBe(1920);
    expect(pieceAtX(near.scale, 0)).toBe(1917);
    expect(pieceAtX(near.scale, 9999)).toBe(1924);
  });

  it('is the whole ribbon for the whole lot, and keeps strips that are empty in the stretch', () => {
    expect(layoutRibbonWindow(CANS, [1, 4800], { width: 800 }).rows[2]?.segments).toHaveLength(2);
    expect(layoutRibbonWindow(CANS, [1, 100], { width: 800 }).rows.map(({ label }) => label)).toEqual(['Holds', 'Pieces', 'Wax']);
  });
});

describe('windows', () => {
  it('keep the piece they come nearer to in its place', () => {
    const near = zoomedWindow([1, 4800], 4800, 2, 1200);
    expect(near).toEqual([601, 3000]);
    expect((1200 - near[0]) / 2400).toBeCloseTo((1200 - 1) / 4800, 2);
  });

  it('never leave the lot and never show less than a few pieces', () => {
    expect(zoomedWindow([1, 20], 20, 1000, 20)).toEqual([13, 20]);
    expect(zoomedWindow([13, 20], 20, 0.001, 20)).toEqual([1, 20]);
    expect(zoomedWindow([1, 3], 3, 2, 2)).toEqual([1, 3]);
    expect(movedWindow([1, 100], 150, 0.5)).toEqual([51, 150]);
    expect(movedWindow([1, 100], 150, -0.5)).toEqual([1, 100]);
    expect(windowAround([1, 1], 4800)).toEqual([1, 8]);
  });

  it('go where a piece is only when it is not in them', () => {
    expect(windowWith([101, 200], 4800, 150)).toEqual([101, 200]);
    expect(windowWith([101, 200], 4800, 201)).toEqual([151, 250]);
  });
});
