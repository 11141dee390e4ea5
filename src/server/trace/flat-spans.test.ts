import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { countPieces, intersectSpans, spanSet, subtractSpans, unionSpans } from '../../../shared/spans.js';
import { countFlat, coversFlat, meetsFlat, normalise, subtractFlat, toFlat, toSpanSet, uniteFlat } from './flat-spans.js';

const span = fc
  .tuple(fc.integer({ min: 1, max: 300 }), fc.integer({ min: 0, max: 12 }))
  .map(([first, more]): [number, number] => [first, first + more]);
const spans = fc.array(span, { maxLength: 90, size: 'max' });

test('flat span sets are the span sets of shared/spans in another form', () => {
  fc.assert(
    fc.property(spans, spans, span, (some, others, [first, last]) => {
      const [a, b] = [spanSet(some), spanSet(others)];
      const flat = some.flat();
      normalise(flat);
      expect(toSpanSet(flat)).toEqual(a);
      expect(toSpanSet(uniteFlat(flat, toFlat(b)))).toEqual(unionSpans(a, b));
      expect(toSpanSet(subtractFlat(flat, toFlat(b)))).toEqual(subtractSpans(a, b));
      expect(countFlat(flat)).toBe(countPieces(a));
      const met = countPieces(intersectSpans(a, [[first, last]]));
      expect(meetsFlat(flat, first, last)).toBe(met > 0);
      expect(coversFlat(flat, first, last)).toBe(met === last - first + 1);
    }),
  );
});

test('the greatest piece number there can be survives a union', () => {
  const flat = [2_147_483_647, 2_147_483_647, 1, 1];
  normalise(flat);
  expect(flat).toEqual([1, 1, 2_147_483_647, 2_147_483_647]);
});
