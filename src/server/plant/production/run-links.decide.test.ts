import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import { formatSpans, type SpanSet } from '../../../../shared/spans.js';
import type { Changeover, Charge, Into } from './run.facts.js';
import { runLinks, spansInUse } from './run-links.decide.js';
import { asCharged, type ChargeState } from './run-state.facts.js';

const AT = '2026-03-02T08:00:00.000Z';
const END = '2026-03-02T10:00:00.000Z';

const charge = (n: number, lot: string, over: Partial<ChargeState> = {}): ChargeState => ({
  ...asCharged({
    charge: n,
    step: null,
    lot,
    item: lot[0]!,
    spans: null,
    quantityMicro: 10 * MICRO,
    massMicro: 0,
    chargedAt: AT,
    by: 'operator-1',
    heel: false,
    into: [],
    deviations: [],
    deviationReason: null,
    urgentReleases: [],
    conversion: null,
    takenFrom: 'RACK-1',
  } satisfies Charge),
  ...over,
});
const pieces = (n: number, lot: string, spans: SpanSet, into: readonly Into[] = []): ChargeState =>
  charge(n, lot, { spans, returnedSpans: [], quantityMicro: spans.reduce((sum, [a, b]) => sum + b - a + 1, 0) * MICRO, into });
const from = (lot: string, fromPiece: number): Changeover => ({ item: lot[0]!, lot, fromPiece, changedAt: AT });

/** Links in words a foreman reads: `A1>1-5 each 5`. */
function told(
  charges: readonly ChargeState[],
  changeovers: readonly Changeover[],
  n: number | null,
  residues: readonly string[] = [],
): string[] {
  const run = {
    run: 'RUN-0001',
    kind: 'building' as const,
    charges,
    changeovers,
    residues: residues.map((lot) => ({ lot, vessel: 'V-1' })),
  };
  return runLinks(run, { lot: 'OUT', pieces: n }, END)
    .flatMap((group) => group.links)
    .map((link) => {
      const of = link.fromSpan === null ? '' : `:${formatSpans([link.fromSpan])}`;
      const to = link.toSpan === null ? '' : formatSpans([link.toSpan]);
      return `${link.from}${of}>${to}${link.map === 'each' ? ' each' : ''} ${link.quantityMicro / MICRO}`;
    });
}

describe('links of a run (P-20 to P-26)', () => {
  it.each<[string, string[], string[]]>([
    ['one lot is in every piece', told([charge(1, 'A1')], [], 20), ['A1>1-20 10']],
    ['a changeover parts two lots', told([charge(1, 'A1'), charge(2, 'A2')], [from('A2', 13)], 20), ['A1>1-12 10', 'A2>13-20 10']],
    [
      'three lots, the middle one for a while',
      told([charge(1, 'A1'), charge(2, 'A2')], [from('A1', 1), from('A2', 6), from('A1', 16)], 20),
      ['A1>1-5 5', 'A1>16-20 5', 'A2>6-15 10'],
    ],
    [
      'two side by side from one piece on',
      told([charge(1, 'A1'), charge(2, 'A2'), charge(3, 'A3')], [from('A2', 11), from('A3', 11)], 20),
      ['A1>1-10 10', 'A2>11-20 10', 'A3>11-20 10'],
    ],
    ['no changeover told: each may be in any (P-23)', told([charge(1, 'A1'), charge(2, 'A2')], [], 20), ['A1>1-20 10', 'A2>1-20 10']],
    [
      'components change over on their own',
      told([charge(1, 'A1'), charge(2, 'B1'), charge(3, 'B2')], [from('B2', 2)], 3),
      ['A1>1-3 10', 'B1>1 10', 'B2>2-3 10'],
    ],
    ['the same lot charged twice is one link', told([charge(1, 'A1'), charge(2, 'A1')], [], 5), ['A1>1-5 20']],
    ['what came back is not linked', told([charge(1, 'A1', { returnedMicro: 4 * MICRO })], [], 5), ['A1>1-5 6']],
    ['all of it back: no link', told([charge(1, 'A1', { returnedMicro: 10 * MICRO })], [], 5), []],
    ['bulk into bulk', told([charge(1, 'A1'), charge(2, 'B1')], [], null), ['A1> 10', 'B1> 10']],
    [
      'pieces into bulk, a link for each span (P-44)',
      told(
        [
          pieces(1, 'A1', [
            [3, 4],
            [9, 9],
          ]),
        ],
        [],
        null,
      ),
      ['A1:3-4> 2', 'A1:9> 1'],
    ],
    [
      'one by one (P-24)',
      told([pieces(1, 'A1', [[1, 3]], [{ fromSpan: [1, 3], toSpan: [7, 9], map: 'each' }])], [], 9),
      ['A1:1-3>7-9 each 3'],
    ],
    [
      'one by one, less a piece that came back',
      told([{ ...pieces(1, 'A1', [[1, 3]], [{ fromSpan: [1, 3], toSpan: [7, 9], map: 'each' }]), returnedSpans: [[2, 2]] }], [], 9),
      ['A1:1>7 each 1', 'A1:3>9 each 1'],
    ],
    [
      'any into any over several spans adds up (P-26)',
      told(
        [
          pieces(
            1,
            'A1',
            [[1, 3]],
            [
              { fromSpan: [1, 3], toSpan: [1, 1], map: 'all' },
              { fromSpan: [1, 3], toSpan: [5, 5], map: 'all' },
            ],
          ),
        ],
        [],
        9,
      ),
      ['A1:1-3>1 1.5', 'A1:1-3>5 1.5'],
    ],
    [
      'told for some pieces, the rest by changeover',
      told([pieces(1, 'A1', [[1, 3]], [{ fromSpan: [1, 1], toSpan: [4, 4], map: 'each' }])], [], 9),
      ['A1:1>4 each 1', 'A1:2-3>1-9 2'],
    ],
    ['what clung to the vessel is linked with nothing (P-18)', told([charge(1, 'A1')], [], null, ['B9']), ['A1> 10', 'B9> 0']],
    ['a heel says more than what clung', told([charge(1, 'B9', { heel: true })], [], null, ['B9']), ['B9> 10']],
  ])('%s', (_case, links, wanted) => expect(links).toEqual(wanted));

  it('shares an odd quantity out without losing a millionth', () => {
    const run = {
      run: 'R',
      kind: 'filling' as const,
      charges: [charge(1, 'A1', { quantityMicro: 10, massMicro: 7 }), charge(2, 'A2')],
      changeovers: [from('A1', 1), from('A2', 4), from('A1', 8), from('A2', 9), from('A1', 12)],
      residues: [],
    };
    const links = runLinks(run, { lot: 'OUT', pieces: 14 }, END)
      .flatMap((group) => group.links)
      .filter((link) => link.from === 'A1');
    expect(links).toHaveLength(3);
    expect(links.reduce((sum, link) => sum + link.quantityMicro, 0)).toBe(10);
    expect(links.reduce((sum, link) => sum + link.massMicro, 0)).toBe(7);
  });

  it('groups links by the time the material went in', () => {
    const run = {
      run: 'R',
      kind: 'mixing' as const,
      charges: [charge(1, 'A1', { chargedAt: END }), charge(2, 'B1')],
      changeovers: [],
      residues: [],
    };
    expect(runLinks(run, { lot: 'OUT', pieces: null }, END).map((group) => group.at)).toEqual([AT, END]);
  });
});

describe('lots in use (P-21 to P-23)', () => {
  it.each<[string, readonly string[], readonly Changeover[], string[], string]>([
    ['a first changeover after piece 1 needs a lot before it', ['A2'], [from('A2', 5)], [], '1-4'],
    ['one without a changeover beside one from piece 1 is unsure', ['A1', 'A2'], [from('A2', 1)], ['A1'], ''],
    ['two without are unsure', ['A1', 'A2', 'A3'], [from('A3', 5)], ['A1', 'A2'], ''],
    ['a lot that comes back needs its first stretch told too', ['A1', 'A2'], [from('A2', 6), from('A1', 9)], [], '1-5'],
    ['changeovers beyond the last piece do not count', ['A1', 'A2'], [from('A2', 99)], ['A1', 'A2'], ''],
  ])('%s', (_case, lots, changeovers, unsure, uncovered) => {
    const use = spansInUse(lots, changeovers, 10);
    expect(use.unsure).toEqual(unsure);
    expect(formatSpans(use.uncovered)).toBe(uncovered);
  });
});
