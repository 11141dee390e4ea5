import { describe, expect, it } from 'vitest';
import { subjectsOf } from './subjects.js';

const named = (fact: object): string[] => subjectsOf({ kind: 'X', v: 1, ...fact }).map(({ kind, code }) => `${kind} ${code}`);

describe('the records a fact names', () => {
  it.each<[string, object, string[]]>([
    [
      'lots that come into being, their item and supplier',
      { born: [{ lot: 'R-1', item: 'WAX', supplier: 'S-1', source: 'D-1' }] },
      ['item WAX', 'lot R-1', 'party S-1'],
    ],
    [
      'both ends of a link and its run',
      { linked: [{ run: 'RUN-1', links: [{ from: 'R-1', fromSpan: null, to: 'F-1', toSpan: [1, 2] }] }] },
      ['lot F-1', 'lot R-1', 'run RUN-1'],
    ],
    [
      'places by their fate',
      { moved: [{ lot: 'R-1', from: { fate: 'on-hand', at: 'DOCK' }, to: { fate: 'dispatched', at: 'S-1' } }] },
      ['location DOCK', 'lot R-1', 'shipment S-1'],
    ],
    [
      'a run that used something',
      { moved: [{ lot: 'R-1', from: { fate: 'on-hand', at: 'V-1' }, to: { fate: 'consumed', at: 'RUN-1' } }] },
      ['location V-1', 'lot R-1', 'run RUN-1'],
    ],
    ['the paper something was scrapped by', { to: { fate: 'scrapped', at: 'SC-1' } }, ['document SC-1']],
    [
      'a catalogue record by its kind',
      { what: 'recipe', record: { code: 'RCP', item: 'MIX', steps: [{ item: 'WAX' }] } },
      ['item MIX', 'item WAX', 'recipe RCP'],
    ],
    ['the entry it corrects', { corrects: 12 }, ['entry 12']],
    [
      'each once, however often',
      { parts: [{ lot: 'R-1' }, { lot: 'R-1' }], lines: [{ lot: 'R-1', earlier: ['R-0'] }] },
      ['lot R-0', 'lot R-1'],
    ],
    ['who signed', { signature: { by: 'wren', at: '2026-03-02T08:00:00.000Z' } }, ['person wren']],
    ['no times, counts or free text', { from: '2026-03-02', to: '2026-03-03', line: 7, reason: 'lot R-1', note: null }, []],
    ['nothing longer than a code', { lot: 'x'.repeat(65) }, []],
  ])('%s', (_name, fact, subjects) => expect(named(fact)).toEqual(subjects));
});
