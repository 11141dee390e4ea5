import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatSpans, parseSpans, unionSpans } from '../../../../shared/spans.js';
import { type LotInspection, standingOver } from './standing.decide.js';

const inspection = (code: string, pieces: string | null, state: LotInspection['state'] = 'decided'): LotInspection => ({
  inspection: code,
  spans: pieces === null ? null : parseSpans(pieces),
  state,
  verdict: state === 'decided' ? 'accepted' : null,
});
const over = (inspections: readonly LotInspection[], pieces: string | null): [string, string | null][] =>
  standingOver(inspections, pieces === null ? null : parseSpans(pieces)).map((one) => [
    one.inspection,
    one.of === null ? null : formatSpans(one.of),
  ]);

describe('IN-32: what speaks for pieces of a lot', () => {
  it('is for each piece the inspection opened last', () => {
    const history = [inspection('IN-1', '1-100'), inspection('IN-2', '1-10'), inspection('IN-3', '8-12,50')];
    expect(over(history, '1-100')).toEqual([
      ['IN-3', '8-12,50'],
      ['IN-2', '1-7'],
      ['IN-1', '13-49,51-100'],
    ]);
    expect(over(history, '9-10')).toEqual([['IN-3', '9-10']]);
  });

  it('is nothing that was called off, and nothing of a lot that was not inspected', () => {
    expect(over([inspection('IN-1', '1-10'), inspection('IN-2', '1-10', 'called-off')], '1-10')).toEqual([['IN-1', '1-10']]);
    expect(over([inspection('IN-1', '1-10')], '11-20')).toEqual([]);
    expect(over([], '1-10')).toEqual([]);
  });

  it('is of a bulk lot the last one, whatever became of it', () => {
    expect(over([inspection('IN-1', null), inspection('IN-2', null, 'skipped')], null)).toEqual([['IN-2', null]]);
    expect(over([inspection('IN-1', null), inspection('IN-2', null, 'called-off')], null)).toEqual([['IN-1', null]]);
  });

  it('never speaks for a piece twice, and for every piece that was ever inspected', () => {
    const spans = fc.tuple(fc.integer({ min: 1, max: 30 }), fc.integer({ min: 0, max: 10 })).map(([first, n]) => `${first}-${first + n}`);
    fc.assert(
      fc.property(fc.array(spans, { maxLength: 6 }), spans, (all, wanted) => {
        const history = all.map((pieces, i) => inspection(`IN-${i}`, pieces));
        const standing = standingOver(history, parseSpans(wanted));
        for (let piece = 1; piece <= 45; piece += 1) {
          const has = (spansOf: typeof history) => spansOf.filter((one) => one.spans!.some(([a, b]) => a <= piece && piece <= b));
          const asked = unionSpans(parseSpans(wanted), []).some(([a, b]) => a <= piece && piece <= b);
          const speaks = standing.filter((one) => one.of!.some(([a, b]) => a <= piece && piece <= b)).map((one) => one.inspection);
          const last = has(history).at(-1)?.inspection;
          expect(speaks).toEqual(asked && last !== undefined ? [last] : []);
        }
      }),
    );
  });
});
