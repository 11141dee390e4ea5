import { describe, expect, it, test } from 'vitest';
import type { SuspectGroup } from '../../../../shared/api/suspects.js';
import { assumptions, groupInWords, probability, suspectInWords } from './words.js';

const none = { item: null, supplier: null, from: null, until: null };

test.each([
  [{ kind: 'lot', code: 'P-1', item: 'LBL-250' }, 'lot P-1 (LBL-250)'],
  [{ kind: 'supplier-lot', code: 'LX 007', supplier: 'S-WAX' }, 'lot LX 007 of supplier S-WAX'],
  [{ kind: 'run', code: 'RUN-3' }, 'run RUN-3'],
  [{ kind: 'person', code: 'ada' }, 'person ada'],
  [{ kind: 'vessel', code: 'V-1' }, 'vessel V-1, no cleaning recorded'],
  [{ kind: 'vessel', code: 'V-1', until: 'T2' }, 'vessel V-1 until its cleaning at T2'],
  [{ kind: 'vessel', code: 'V-1', from: 'T1' }, 'vessel V-1 from its cleaning at T1 on'],
  [{ kind: 'instrument', code: 'I-1', from: 'T1', until: 'T2' }, 'instrument I-1 from its calibration at T1 to that at T2'],
] as const)('%j is %s', (suspect, words) => expect(suspectInWords({ ...none, ...suspect })).toBe(words));

test.each([
  [1, 0, '1'],
  [0.0493, Math.log10(0.0493), '0.049'],
  [0.001, -3, '0.001'],
  [0.00096, Math.log10(0.00096), '1e-3'],
  [9.41e-97, Math.log10(9.41e-97), '9e-97'],
  [9.49e-7, Math.log10(9.49e-7), '9e-7'],
  [9.51e-7, Math.log10(9.51e-7), '1e-6'],
  [0, -1214.31, '5e-1215'],
])('p of %d (10^%d) is %s', (p, log10, words) => expect(probability(p, log10)).toBe(words));

describe('a group in words', () => {
  const lots = ['A', 'B', 'C', 'D', 'E'].map((code) => ({ kind: 'run' as const, code, ...none, words: `run ${code}` }));
  const group: Omit<SuspectGroup, 'says'> = {
    rank: 1,
    suspects: lots.slice(0, 1),
    exposed: 1000,
    exposedFailed: 58,
    exposedSound: 942,
    unexposedFailed: 2,
    unexposedSound: 48_998,
    expectedFailed: 1.2,
    p: 9.4e-97,
    log10P: -96.03,
    adjustedP: 2.3e-94,
    beyondChance: true,
    odds: { estimate: 1506.9, lower: 397.7, upper: 12_756.8, confidence: 0.95 },
  };

  it('says who, how many, what chance would do, the odds and the verdict', () => {
    expect(groupInWords(group, 60, 50_000, Math.log10(2.3e-94))).toBe(
      'run A: exposed were 58 of 60 failed and 1,000 of all 50,000 pieces; by chance 1.2 of the failed would be; ' +
        'odds of failing 1,507 times as high (95 % interval 398 to 12,757); adjusted p 2e-94: more than chance',
    );
  });

  it('names three of many, and ends without end', () => {
    const odds = { estimate: null, lower: 2.34, upper: null, confidence: 0.95 };
    const said = groupInWords({ ...group, suspects: lots, odds, adjustedP: 0.3, beyondChance: false }, 60, 50_000, Math.log10(0.3));
    expect(said).toContain('run A, run B, run C and 2 more, which cannot be told apart: ');
    expect(said).toContain('odds of failing higher without end (95 % interval 2.3 to no end); adjusted p 0.3: may be chance');
  });

  it('counts one group as one', () => {
    expect(assumptions(7, 1).join(' ')).toContain('1 group that can be told apart was tested');
    expect(assumptions(7, 249).join(' ')).toContain('249 groups that can be told apart were tested');
  });
});
