import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { ClassPlan, InspectedItem, SamplePlan } from './inspection.facts.js';
import type { StandingTally } from './inspection-state.facts.js';
import { judge, worstOf } from './judge.decide.js';

const item = (...classes: SeverityClass[]): InspectedItem => ({
  piece: null,
  found: classes.map((of) => ({ defect: `D-${of}`, characteristic: null, class: of, count: 1 })),
  measured: [],
  files: [],
  note: null,
});
const tally = (sample: 1 | 2, conforming: number, ...items: InspectedItem[]): StandingTally => ({ sample, conforming, items });

const plan = (of: 'major' | 'minor', numbers: ClassPlan['plan']): ClassPlan => ({
  class: of,
  aql: '1.0',
  severity: 'normal',
  plan: numbers,
  because: [],
  unverified: null,
});

// J at AQL 1.0 and 2.5, single and double, normal (ISO 2859-1:1999 tables 2-A and 3-A).
const SINGLE: SamplePlan = {
  edition: 'ISO 2859-1:1999',
  level: 'II',
  type: 'single',
  basis: 'items',
  codeLetter: 'J',
  sizes: [80, null],
  inspectAllBecause: null,
  classes: [plan('major', { letter: 'J', n: 80, ac: 2, re: 3 }), plan('minor', { letter: 'J', n: 80, ac: 5, re: 6 })],
};
const DOUBLE: SamplePlan = {
  ...SINGLE,
  type: 'double',
  sizes: [50, 50],
  classes: [plan('major', { letter: 'J', n1: 50, ac1: 0, re1: 3, n2: 50, ac2: 3, re2: 4 })],
};

const judged = (sample: SamplePlan, ...tallies: StandingTally[]) => judge({ sample, characteristics: [], tallies, results: [] });
const many = (n: number, ...of: SeverityClass[]): InspectedItem[] => Array.from({ length: n }, () => item(...of));

describe('a single plan (IN-12)', () => {
  it.each([
    ['accepts at its acceptance number', 78, 2, 'accepted'],
    ['does not accept one more', 77, 3, 'not-accepted'],
    ['is open while the sample is not complete', 70, 2, null],
    ['does not accept before the sample is complete once that is certain', 4, 3, 'not-accepted'],
  ] as const)('%s', (_what, conforming, major, verdict) => {
    const one = judged(SINGLE, tally(1, conforming, ...many(major, 'major')));
    expect(one.verdict).toBe(verdict);
    expect(one.curtailed).toBe(verdict === 'not-accepted' && conforming + major < 80);
  });

  it('counts an item in its worst class only (IN-10)', () => {
    const one = judged(SINGLE, tally(1, 74, ...many(2, 'minor', 'major'), ...many(4, 'minor', 'minor')));
    expect(one.classes.map(({ class: of, found }) => [of, found[0]])).toEqual([
      ['critical', 0],
      ['major', 2],
      ['minor', 4],
    ]);
    expect([one.verdict, one.nonconforming]).toEqual(['accepted', 6]);
  });

  it('says how many were looked at where the sample was not finished (IN-14)', () => {
    const words = (...tallies: StandingTally[]): string[] => judged(SINGLE, ...tallies).classes.map(({ because }) => because);
    expect(words(tally(1, 4, ...many(3, 'major')))).toEqual([
      'no critical in 7 looked at of 80',
      '3 major in 7 looked at of 80, not accepted at 3',
      '0 minor in 7 looked at of 80, accepted up to 5',
    ]);
    expect(words(tally(1, 77, ...many(3, 'major')))).toEqual([
      'no critical found',
      '3 major in 80, not accepted at 3',
      '0 minor in 80, accepted up to 5',
    ]);
    const double = judged(DOUBLE, tally(1, 48, ...many(2, 'major')), tally(2, 5, ...many(2, 'major')));
    expect(double.classes.map(({ because }) => because)).toEqual([
      'no critical in 57 looked at of 100',
      '4 major in 57 looked at of 100, not accepted at 4',
    ]);
  });

  it('counts nonconformities one by one where the plan counts per 100 items', () => {
    const one = judged({ ...SINGLE, basis: 'nonconformities' }, tally(1, 78, ...many(2, 'major', 'major')));
    expect([one.classes[1]!.found[0], one.verdict]).toEqual([4, 'not-accepted']);
  });

  it('one critical is enough, whatever the numbers (IN-11)', () => {
    const one = judged(SINGLE, tally(1, 0, item('critical', 'minor')));
    expect([one.verdict, one.classes[0]!.because]).toEqual(['not-accepted', '1 critical found: one is enough']);
  });

  it('adds up what several inspectors wrote down', () => {
    const one = judged(SINGLE, tally(1, 39, item('major')), tally(1, 38, item('major'), item('major')));
    expect([one.inspected, one.verdict]).toEqual([[80, 0], 'not-accepted']);
  });
});

describe('a double plan (IN-12)', () => {
  it.each([
    ['accepts on the first sample', [tally(1, 50)], 'accepted', false],
    ['does not accept on the first sample', [tally(1, 47, ...many(3, 'major'))], 'not-accepted', false],
    ['asks for the second between the two', [tally(1, 48, ...many(2, 'major'))], null, true],
    ['accepts on both together', [tally(1, 48, ...many(2, 'major')), tally(2, 49, item('major'))], 'accepted', true],
    ['does not accept on both together', [tally(1, 48, ...many(2, 'major')), tally(2, 48, ...many(2, 'major'))], 'not-accepted', true],
    ['is open while the second is not complete', [tally(1, 48, ...many(2, 'major')), tally(2, 20)], null, true],
  ] as const)('%s', (_what, tallies, verdict, second) => {
    const one = judged(DOUBLE, ...tallies);
    expect([one.verdict, one.secondSample]).toEqual([verdict, second]);
  });

  it('says how many are left in the sample that counts', () => {
    expect(judged(DOUBLE, tally(1, 10)).toInspect).toBe(40);
    expect(judged(DOUBLE, tally(1, 49, item('major'))).toInspect).toBe(50);
  });
});

it('without a sample the lot is accepted when nothing is missing and nothing failed', () => {
  expect(judge({ sample: null, characteristics: [], tallies: [], results: [] }).verdict).toBe('accepted');
});

it('more nonconformities never turn a lot that is not accepted into an accepted one', () => {
  const classes = fc.constantFrom<SeverityClass>('critical', 'major', 'minor');
  const items = fc.array(
    fc.array(classes, { maxLength: 3 }).map((of) => item(...of)),
    { maxLength: 80 },
  );
  fc.assert(
    fc.property(items, classes, fc.nat(79), (sample, extra, at) => {
      const before = judged(SINGLE, tally(1, 80 - sample.length, ...sample));
      const worse = sample.map((one, i) =>
        i === at % Math.max(1, sample.length) ? { ...one, found: [...one.found, ...item(extra).found] } : one,
      );
      const changed = sample.length === 0 ? [item(extra)] : worse;
      const after = judged(SINGLE, tally(1, 80 - changed.length, ...changed));
      // An item counts in its worst class: one that becomes worse may leave a class that was full, never lighten the lot as a whole.
      const severer = (one: InspectedItem): number => ['critical', 'major', 'minor'].indexOf(worstOf(one) ?? 'minor');
      const left = before.classes.filter((one) => one.standing === 'not-accepted').map((one) => one.class);
      if (before.verdict === 'not-accepted' && !left.includes('minor')) expect(after.verdict).toBe('not-accepted');
      expect(Math.min(...changed.map(severer), 2)).toBeLessThanOrEqual(Math.min(...sample.map(severer), 2));
    }),
  );
});
