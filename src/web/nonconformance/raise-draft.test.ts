import { describe, expect, it } from 'vitest';
import { emptyDraft, raiseBody, raiseFrom } from './raise-draft.js';

const NOW = '2026-03-05T09:00:00.000Z';

describe('a report as it is begun', () => {
  it('takes lots and pieces from the address, in their order', () => {
    const from = raiseFrom('lot=F-1&pieces=1-5&lot=F-2&pieces=&lot=F-3');
    expect(from.parts).toEqual([
      { lot: 'F-1', pieces: '1-5', quantity: '' },
      { lot: 'F-2', pieces: '', quantity: '' },
      { lot: 'F-3', pieces: '', quantity: '' },
    ]);
    expect(raiseBody(emptyDraft(from), from, NOW).parts).toEqual([{ lot: 'F-1', pieces: '1-5' }, { lot: 'F-2' }, { lot: 'F-3' }]);
  });

  it('leaves to an inspection what is left empty, its source too', () => {
    const from = raiseFrom('inspection=IN-0007');
    const body = raiseBody(emptyDraft(from), from, NOW);
    expect(JSON.parse(JSON.stringify(body))).toEqual({ fromInspection: 'IN-0007', foundAt: NOW });
  });

  it('traces forward from one part where that is asked for, and never from two', () => {
    const one = raiseFrom('lot=R-1');
    expect(raiseBody({ ...emptyDraft(one), forward: true }, one, NOW)).toMatchObject({ fromTrace: { lot: 'R-1' }, parts: undefined });
    const two = raiseFrom('lot=R-1&lot=R-2');
    expect(raiseBody({ ...emptyDraft(two), forward: true }, two, NOW)).toMatchObject({
      fromTrace: undefined,
      parts: [{ lot: 'R-1' }, { lot: 'R-2' }],
    });
  });

  it('reads measured values line by line and counts as numbers', () => {
    const from = raiseFrom('source=return&code=RT-0001');
    const draft = { ...emptyDraft(from), measured: ' 10.2 bar \n\n9.8 bar', defects: [{ id: 0, defect: 'D-LEAK', count: ' 3 ' }] };
    expect(raiseBody(draft, from, NOW)).toMatchObject({
      source: { kind: 'return', code: 'RT-0001' },
      measured: ['10.2 bar', '9.8 bar'],
      defects: [{ defect: 'D-LEAK', count: 3 }],
    });
  });
});
