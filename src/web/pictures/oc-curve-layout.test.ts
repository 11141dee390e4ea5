import { describe, expect, it } from 'vitest';
import { operatingCharacteristic } from '../../../shared/sampling/oc.js';
import { namedPoints, ocDrawing } from './oc-curve-layout.js';

const FRAME = { left: 60, right: 10, top: 10, bottom: 40 };

describe('the picture of an operating characteristic', () => {
  const curve = operatingCharacteristic({ n: 80, ac: 2 }, { distribution: 'binomial', aql: 1 });

  it('names the risks with the numbers of the curve', () => {
    // B(2; 80, 0.01) = 0.9534, so the producer's risk is 4.66 %; 10 % are accepted at 6.52 % (binomial, worked out by the shared law).
    expect(namedPoints(curve).map(({ label }) => label)).toEqual([
      "Producer's risk 4.66 % at AQL 1",
      '95 % accepted at 1.03 %',
      '50 % accepted at 3.33 %',
      "Consumer's risk 10 % at 6.52 %",
    ]);
  });

  it('falls from left to right within the frame, with words apart from each other and beside the curve', () => {
    const { named, path, y } = ocDrawing(curve, { width: 700, height: 380 }, FRAME);
    expect(path.startsWith('M60 10')).toBe(true);
    expect(y.at(0)).toBe(340);
    for (const [i, point] of named.entries()) {
      expect(point.labelX).toBeGreaterThan(point.x);
      expect(point.labelY).toBeLessThan(point.y);
      const before = named[i - 1];
      if (before) expect(before.labelY - point.labelY).toBeGreaterThanOrEqual(20);
    }
  });
});
