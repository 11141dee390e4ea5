import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../refusal.js';
import { AQLS } from './aql.js';
import { LARGEST_LOT, LEVELS } from './code-letter.js';
import { isDouble, largestSample, planAtLetter, samplingPlan } from './plan.js';
import type { PlanQuestion } from './question.js';
import { PLAN_TYPES, SEVERITIES } from './tables.js';

const asked = (over: Partial<PlanQuestion> = {}) => samplingPlan({ lotSize: 1200, level: 'II', aql: '1.0', ...over });

function refused(over: Partial<PlanQuestion>): readonly { code: string; [fact: string]: unknown }[] {
  try {
    asked(over);
  } catch (error) {
    if (error instanceof Refusal && error.kind === 'malformed') return error.reasons;
    throw error;
  }
  throw new Error('it was not refused');
}

describe('a sampling plan', () => {
  it('names the edition, the letter, what to take and when to accept (RC-6)', () => {
    expect(asked()).toEqual({
      edition: 'ISO 2859-1:1999',
      codeLetter: 'J',
      plan: { letter: 'J', n: 80, ac: 2, re: 3 },
      inspectAll: false,
      inspectAllBecause: null,
      arrows: [],
      unverified: null,
    });
  });

  it('says which arrow was followed, and takes the sample of the letter it leads to', () => {
    expect(asked({ lotSize: 150 })).toMatchObject({
      codeLetter: 'F',
      plan: { letter: 'E', n: 13, ac: 0, re: 1 },
      arrows: [{ from: 'F', direction: 'up', to: 'E' }],
    });
    expect(asked({ lotSize: 16, aql: '0.10' })).toMatchObject({
      codeLetter: 'C',
      plan: { letter: 'K', n: 125, ac: 0, re: 1 },
      arrows: [{ from: 'C', direction: 'down', to: 'K' }],
      inspectAll: true,
    });
  });

  it('takes two samples where asked, and says where the single plan is used instead', () => {
    expect(asked({ type: 'double' })).toMatchObject({ plan: { letter: 'J', n1: 50, ac1: 0, re1: 3, n2: 50, ac2: 3, re2: 4 }, arrows: [] });
    expect(asked({ type: 'double', aql: '0.15' })).toMatchObject({
      plan: { letter: 'J', n: 80, ac: 0, re: 1 },
      arrows: [{ from: 'J', direction: 'single', to: 'J' }],
    });
  });

  it('reaches row S, which only tightened inspection has', () => {
    expect(asked({ lotSize: 1_000_000, level: 'III', aql: '0.025', severity: 'tightened' })).toMatchObject({
      codeLetter: 'R',
      plan: { letter: 'S', n: 3150, ac: 1, re: 2 },
      arrows: [{ from: 'R', direction: 'down', to: 'S' }],
    });
  });

  it('looks other classes up at a letter already settled, also in row S', () => {
    const place = { severity: 'tightened', type: 'single', lotSize: 1_000_000 } as const;
    expect(planAtLetter({ ...place, letter: 'S', aql: '0.10' })).toMatchObject({
      plan: { letter: 'R', n: 2000, ac: 3, re: 4 },
      arrows: [{ from: 'S', direction: 'up', to: 'R' }],
    });
  });

  it.each([
    ['the sample is the lot', { lotSize: 13, level: 'III', aql: '1.0' }, true],
    ['the sample is one short of the lot', { lotSize: 14, level: 'III', aql: '1.0' }, false],
    ['both samples are the lot', { lotSize: 4, level: 'III', aql: '15', type: 'double' }, true],
    ['both samples are one short of the lot', { lotSize: 5, level: 'III', aql: '15', type: 'double' }, false],
  ])('inspects every item when the sample reaches the lot: %s', (_case, question, all) => {
    const found = asked(question);
    expect([found.inspectAll, found.inspectAllBecause !== null]).toEqual([all, all]);
  });

  it('inspects a lot of one whole, and says that the table begins at two', () => {
    const found = asked({ lotSize: 1, aql: '6.5' });
    expect(found).toMatchObject({ codeLetter: 'A', plan: { letter: 'A', n: 2, ac: 0, re: 1 }, inspectAll: true });
    expect(found.inspectAllBecause).toMatch(/begins at lots of 2/);
  });

  it('answers for the largest lot, at every AQL, level, severity and type', () => {
    for (const type of PLAN_TYPES) {
      for (const severity of SEVERITIES) {
        for (const level of LEVELS) {
          for (const aql of AQLS) expect(asked({ lotSize: LARGEST_LOT, level, aql, severity, type }).inspectAll).toBe(false);
        }
      }
    }
  });

  it('inspects every item exactly when the sample reaches the lot (property)', () => {
    const question = fc.record({
      lotSize: fc.oneof(
        fc.integer({ min: 2, max: 400 }),
        fc.maxSafeInteger().filter((size) => size > 1),
      ),
      level: fc.constantFrom(...LEVELS),
      aql: fc.constantFrom(...AQLS),
      severity: fc.constantFrom(...SEVERITIES),
      type: fc.constantFrom(...PLAN_TYPES),
    });
    fc.assert(
      fc.property(question, (of) => {
        const found = samplingPlan(of);
        expect(found.inspectAll).toBe(largestSample(found.plan) >= of.lotSize);
        if (of.type === 'single') expect(isDouble(found.plan)).toBe(false);
      }),
    );
  });

  it('is refused for an AQL of 1.1, naming 1.0 and 1.5', () => {
    expect(refused({ aql: '1.1' })).toEqual([
      {
        code: 'aql-unknown',
        detail: "'1.1' is none of the 26 AQLs of the standard: the nearest are 1.0 and 1.5",
        nearest: ['1.0', '1.5'],
        pointer: '/aql',
      },
    ]);
  });

  it.each<[string, Partial<PlanQuestion>, string]>([
    ['below the smallest AQL', { aql: '0.009' }, 'the nearest is 0.010'],
    ['above the largest AQL', { aql: '1001' }, 'the nearest is 1000'],
    ['no number', { aql: 'one' }, 'they run from 0.010 to 1000'],
    ['a share of items above 10 %', { aql: '15', basis: 'items' }, 'only limits up to 10'],
    ['multiple plans', { type: 'multiple' }, 'no source of the tables of multiple plans could be found'],
    ['another type', { type: 'skip-lot' }, 'there are no such plans'],
    ['no lot', { lotSize: 0 }, 'not 0'],
    ['half an item', { lotSize: 2.5 }, 'not 2.5'],
  ])('is refused with the reason: %s', (_case, over, detail) => {
    const reasons = refused(over);
    expect(reasons).toHaveLength(1);
    expect(reasons[0]!['detail']).toContain(detail);
  });

  it('is refused with every reason at once, each with a pointer', () => {
    const wrong = { lotSize: -3, level: 'IV', aql: '1.1', severity: 'strict', type: 'multiple', basis: 'cans' };
    expect(refused(wrong).map(({ code, pointer }) => [code, pointer])).toEqual([
      ['lot-size-wrong', '/lotSize'],
      ['level-unknown', '/level'],
      ['aql-unknown', '/aql'],
      ['severity-unknown', '/severity'],
      ['plan-type-not-offered', '/type'],
      ['basis-unknown', '/basis'],
    ]);
  });

  it('counts items up to AQL 10 and nonconformities beyond without being asked', () => {
    expect(asked({ aql: '10', basis: 'items' }).plan).toMatchObject({ letter: 'J', ac: 14 });
    expect(asked({ aql: '15', basis: 'nonconformities' }).plan).toEqual(asked({ aql: '15' }).plan);
  });
});
