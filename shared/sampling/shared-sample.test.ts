import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { AQLS } from './aql.js';
import { LEVELS } from './code-letter.js';
import { isDouble, type Plan, samplingPlan } from './plan.js';
import { sharedSample, type SampledClass } from './shared-sample.js';
import { cell, PLAN_TYPES, ROWS, SEVERITIES } from './tables.js';

const normal = (...aqls: SampledClass['aql'][]): SampledClass[] => aqls.map((aql) => ({ aql, severity: 'normal' }));
const firstOf = (plan: Plan): number => (isDouble(plan) ? plan.n1 : plan.n);

describe('one sample for several classes', () => {
  it('is the plan of each at the code letter, where they take the same (RC-6)', () => {
    const sample = sharedSample({ lotSize: 1200, level: 'II', type: 'single', classes: normal('1.0', '2.5') });
    expect(sample).toMatchObject({ edition: 'ISO 2859-1:1999', codeLetter: 'J', sizes: [80, null], inspectAll: false });
    expect(sample.classes.map(({ plan, because }) => [plan, because])).toEqual([
      [{ letter: 'J', n: 80, ac: 2, re: 3 }, []],
      [{ letter: 'J', n: 80, ac: 5, re: 6 }, []],
    ]);
  });

  it('is the largest where they differ, and says so', () => {
    const sample = sharedSample({ lotSize: 1200, level: 'II', type: 'single', classes: normal('0.25', '2.5') });
    expect(sample.sizes).toEqual([80, null]);
    expect(sample.classes[0]).toMatchObject({ plan: { letter: 'H', n: 50, ac: 0, re: 1 } });
    expect(sample.classes[0]!.because).toEqual([
      'Table 2-A has an arrow up at J: the first plan above it is that of letter H',
      'another class needs a sample of 80 where this one needs 50, and AQL 0.25 has no plan for the larger: the numbers of letter H are kept, which is stricter',
    ]);
  });

  it('looks the others up at the letter of the largest sample', () => {
    const sample = sharedSample({ lotSize: 1200, level: 'II', type: 'single', classes: normal('0.40', '2.5') });
    expect(sample.sizes).toEqual([125, null]);
    expect(sample.classes.map(({ plan }) => plan)).toEqual([
      { letter: 'K', n: 125, ac: 1, re: 2 },
      { letter: 'K', n: 125, ac: 7, re: 8 },
    ]);
    expect(sample.classes[1]!.because).toEqual([
      'another class needs a sample of 125 where this one needs 80: the larger serves both, with letter K',
    ]);
  });

  it('serves classes of different severity, each by its own table', () => {
    const classes: SampledClass[] = [
      { aql: '1.0', severity: 'normal' },
      { aql: '2.5', severity: 'reduced' },
    ];
    const sample = sharedSample({ lotSize: 1200, level: 'II', type: 'single', classes });
    expect(sample.classes.map(({ plan }) => plan)).toEqual([
      { letter: 'J', n: 80, ac: 2, re: 3 },
      { letter: 'L', n: 80, ac: 6, re: 7 },
    ]);
  });

  it('takes a first sample that also serves a class with a single plan', () => {
    const sample = sharedSample({ lotSize: 1200, level: 'II', type: 'double', classes: normal('0.15', '1.0') });
    expect(sample.sizes).toEqual([80, 80]);
    expect(sample.classes.map(({ plan }) => plan)).toEqual([
      { letter: 'J', n: 80, ac: 0, re: 1 },
      { letter: 'K', n1: 80, ac1: 1, re1: 3, n2: 80, ac2: 4, re2: 5 },
    ]);
  });

  it('inspects every item of a lot that the sample reaches', () => {
    expect(sharedSample({ lotSize: 20, level: 'II', type: 'single', classes: normal('0.65', '10') })).toMatchObject({
      sizes: [20, null],
      inspectAll: true,
    });
  });

  it('is never smaller than a class needs, and never judges a class more laxly than its plan (property)', () => {
    const question = fc.record({
      lotSize: fc.integer({ min: 1, max: 1_000_000 }),
      level: fc.constantFrom(...LEVELS),
      type: fc.constantFrom(...PLAN_TYPES),
      classes: fc.array(fc.record({ aql: fc.constantFrom(...AQLS), severity: fc.constantFrom(...SEVERITIES) }), {
        minLength: 1,
        maxLength: 3,
      }),
    });
    fc.assert(
      fc.property(question, (of) => {
        const sample = sharedSample(of);
        const own = of.classes.map((one) => samplingPlan({ lotSize: of.lotSize, level: of.level, type: of.type, ...one }).plan);
        expect(sample.sizes[0]).toBe(Math.max(...own.map(firstOf)));
        for (const [at, { plan, aql, severity, because }] of sample.classes.entries()) {
          const isOwn = JSON.stringify(plan) === JSON.stringify(own[at]);
          expect(isOwn ? firstOf(plan) <= sample.sizes[0] : firstOf(plan) === sample.sizes[0]).toBe(true);
          if (firstOf(own[at]!) !== sample.sizes[0]) expect(because.length).toBeGreaterThan(0);
          // The plan stands in the table of the class, whatever row it is taken from.
          const there = ROWS.flatMap((letter) => PLAN_TYPES.map((type) => cell(type, severity, letter, aql)));
          expect(there).toContainEqual(plan);
        }
      }),
    );
  });

  it('is not taken for no class', () => {
    expect(() => sharedSample({ lotSize: 20, level: 'II', type: 'single', classes: [] })).toThrow(RangeError);
  });
});
