import { describe, expect, it } from 'vitest';
import { AQLS } from './aql.js';
import { ocFault } from './oc.js';
import { acOneStepTighter, wouldAcceptOneStepTighter } from './switching-score.js';
import { cell, PLAN_TYPES, ROWS, SEVERITIES } from './tables.js';

/** The acceptance number of the plan in a row of Table 2-A at the place of an AQL; null where an arrow stands. */
const acceptanceAt = (letter: (typeof ROWS)[number], place: number): number | null => {
  const aql = AQLS[place];
  const found = aql === undefined ? null : cell('single', 'normal', letter, aql);
  return found !== null && typeof found === 'object' && 'n' in found ? found.ac : null;
};

describe('the score and the tables', () => {
  it('C4: one AQL step tighter stands beside every plan with Ac 2 or more, in the same row', () => {
    let compared = 0;
    for (const letter of ROWS) {
      AQLS.forEach((_aql, place) => {
        const ac = acceptanceAt(letter, place);
        if (ac === null || ac < 2) return;
        expect([letter, place, acOneStepTighter(ac)]).toEqual([letter, place, acceptanceAt(letter, place - 1)]);
        compared++;
      });
    }
    expect(compared).toBeGreaterThan(100);
  });

  it('for Ac 0 and 1 no rule asks', () => {
    expect([acOneStepTighter(0), acOneStepTighter(1)]).toEqual([null, null]);
    expect(wouldAcceptOneStepTighter(1, 0)).toBe(false);
    expect([wouldAcceptOneStepTighter(2, 1), wouldAcceptOneStepTighter(2, 2)]).toEqual([true, false]);
  });
});

describe('the operating characteristic and the tables', () => {
  it('every plan of the tables has one', () => {
    let plans = 0;
    for (const type of PLAN_TYPES) {
      for (const severity of SEVERITIES) {
        for (const letter of ROWS) {
          for (const aql of AQLS) {
            const found = cell(type, severity, letter, aql);
            if (found === null || typeof found !== 'object') continue;
            expect([letter, aql, ocFault(found, { distribution: 'poisson', aql: Number(aql) })]).toEqual([letter, aql, null]);
            plans++;
          }
        }
      }
    }
    expect(plans).toBeGreaterThan(700);
  });
});
