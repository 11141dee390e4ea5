import { describe, expect, it } from 'vitest';
import { inUse, piecesOf, ribbonOfRun } from './ribbon-of-run.js';
import type { Run } from './run.js';

const charge = (item: string, lot: string, into: { intoPieces: string }[] = [], quantity = '1') => ({
  item,
  lot,
  name: item,
  quantity,
  into,
});
const run = (more: object): Run =>
  ({ planned: '10', yields: null, result: null, components: [], charges: [], changeovers: [], ...more }) as unknown as Run;

describe('the ribbon of a run', () => {
  it('cuts each component where a lot changed over', () => {
    const filling = run({
      charges: [charge('CAN', 'P-1'), charge('CAN', 'P-2'), charge('LID', 'P-3'), charge('LID', 'P-4', [], '0')],
      changeovers: [
        { item: 'CAN', lot: 'P-1', fromPiece: 1 },
        { item: 'CAN', lot: 'P-2', fromPiece: 7 },
      ],
    });
    expect(ribbonOfRun(filling).below).toEqual([
      {
        label: 'CAN',
        parts: [
          { label: 'P-1', kind: 'input', spans: [[1, 6]] },
          { label: 'P-2', kind: 'input', spans: [[7, 10]] },
        ],
      },
      { label: 'LID', parts: [{ label: 'P-3', kind: 'input', spans: [[1, 10]] }] },
    ]);
  });

  it('shows a changeover before it is recorded, and what would be rejected', () => {
    const filling = run({
      charges: [charge('CAN', 'P-1'), charge('CAN', 'P-2')],
      changeovers: [{ item: 'CAN', lot: 'P-1', fromPiece: 1 }],
    });
    const drawn = ribbonOfRun(
      filling,
      [{ item: 'CAN', lot: 'P-2', fromPiece: 4 }],
      [
        [2, 2],
        [40, 50],
      ],
    );
    expect(drawn.below[0]?.parts.map(({ spans }) => spans)).toEqual([[[1, 3]], [[4, 10]]]);
    expect(drawn.above).toEqual([{ label: 'Rejected', parts: [{ label: 'rejected', kind: 'scrap', spans: [[2, 2]] }] }]);
  });

  it('draws pieces that were told one by one where they are, and a lot of none before the first changeover', () => {
    const building = run({ charges: [charge('GAUGE', 'C-1', [{ intoPieces: '1-4' }]), charge('GAUGE', 'C-2', [{ intoPieces: '5-12' }])] });
    expect(piecesOf(building)).toBe(12);
    expect(ribbonOfRun(building).below[0]?.parts.map(({ spans }) => spans)).toEqual([[[1, 4]], [[5, 12]]]);
    expect([...inUse(['A'], [{ item: 'X', lot: 'B', fromPiece: 5 }], 9)]).toEqual([
      ['B', [[5, 9]]],
      ['A', [[1, 4]]],
    ]);
  });

  it('is empty while nobody knows how many pieces there are', () => {
    const filling = run({ planned: null, charges: [charge('CAN', 'P-1')] });
    expect(ribbonOfRun(filling)).toEqual({ pieces: 0, above: [], below: [] });
  });

  it('has as many pieces as came out once it is closed', () => {
    expect(piecesOf(run({ yields: { pieces: 8 } }))).toBe(8);
    expect(ribbonOfRun(run({ yields: { pieces: 8 }, result: { rejected: '3' } })).above[0]?.parts[0]?.spans).toEqual([[3, 3]]);
  });
});
