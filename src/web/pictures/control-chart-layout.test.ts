import { describe, expect, it } from 'vitest';
import { controlChartDrawing, type Panel } from './control-chart-layout.js';

const point = (at: number, value: number, signals: number[] = [], baseline = true): Panel['points'][number] => ({
  at,
  value,
  lower: 7,
  upper: 13,
  zones: [
    { sigmas: 1, lower: 9, upper: 11 },
    { sigmas: 2, lower: 8, upper: 12 },
  ],
  baseline,
  signals,
});
const FRAME = { left: 50, right: 100, top: 10, bottom: 30 };

describe('the picture of a control chart', () => {
  const panel: Panel = { statistic: 'mean', centre: 10, points: [point(1, 10), point(2, 14, [1, 2], true), point(3, 9, [], false)] };
  const drawing = controlChartDrawing(panel, { width: 450, height: 240 }, FRAME);

  it('tells a rule by its shape, the first rule of a point first', () => {
    expect(drawing.points.map(({ shape, signals }) => [shape, signals])).toEqual([
      ['dot', []],
      ['diamond', [1, 2]],
      ['dot', []],
    ]);
  });

  it('draws every point, limit and zone within the frame, and says where the baseline ends', () => {
    for (const { x, y } of drawing.points) {
      expect(x).toBeGreaterThan(50);
      expect(x).toBeLessThan(350);
      expect(y).toBeGreaterThan(10);
      expect(y).toBeLessThan(210);
    }
    expect(drawing.baselineX).toBe(250);
    expect(drawing.zones.map(({ sigmas }) => sigmas)).toEqual([1, 2]);
    expect(drawing.y.at(13)).toBeLessThan(drawing.centreY);
    expect(drawing.centreY).toBeLessThan(drawing.y.at(7));
  });

  it('numbers at most fifteen points below however many there are', () => {
    const many = Array.from({ length: 400 }, (_, i) => point(i + 1, 10));
    expect(controlChartDrawing({ ...panel, points: many }, { width: 450, height: 240 }, FRAME).ticks.length).toBeLessThanOrEqual(15);
  });
});
