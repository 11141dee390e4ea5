import { describe, expect, it } from 'vitest';
import { type Aql, AQLS } from './aql.js';
import { CODE_LETTERS } from './code-letter.js';
import { acOneStepTighter } from './switching-score.js';
import { cell, type DoublePlan, letterAtEndOfArrow, type Letter, ROWS, SEVERITIES, type Severity, type SinglePlan } from './tables.js';

/** Every printed place of the single tables. */
const PLACES = SEVERITIES.flatMap((severity) =>
  ROWS.flatMap((letter) =>
    AQLS.filter((aql) => cell('single', severity, letter, aql) !== null).map((aql): [Severity, Letter, Aql] => [severity, letter, aql]),
  ),
);

function single(severity: Severity, letter: Letter, aql: Aql | undefined): SinglePlan | undefined {
  const there = aql === undefined ? null : cell('single', severity, letter, aql);
  return there !== null && typeof there === 'object' && 'n' in there ? there : undefined;
}

function double(severity: Severity, letter: Letter, aql: Aql): DoublePlan | undefined {
  const there = cell('double', severity, letter, aql);
  return there !== null && typeof there === 'object' && 'n1' in there ? there : undefined;
}

const rowOf = (letter: Letter): number => ROWS.indexOf(letter);

describe('the structure of the tables', () => {
  it('every arrow stays in its column and ends at the first plan on its way', () => {
    expect(PLACES).toHaveLength(3 * 16 * 26 + 1);
    for (const [severity, letter, aql] of PLACES) {
      const end = letterAtEndOfArrow(severity, letter, aql);
      expect(single(severity, end, aql)).toBeDefined();
      const said = cell('single', severity, letter, aql);
      if (typeof said === 'object') expect(end).toBe(letter);
      if (said === 'up') expect(rowOf(end)).toBeLessThan(rowOf(letter));
      if (said === 'down') expect(rowOf(end)).toBeGreaterThan(rowOf(letter));
      const [from, to] = [rowOf(letter), rowOf(end)].toSorted((a, b) => a - b);
      const between = ROWS.slice(from! + 1, to).filter((row) => single(severity, row, aql) !== undefined);
      expect(between).toEqual([]);
    }
  });

  it('Re is one more than Ac everywhere', () => {
    const singles = PLACES.map((place) => single(...place)).filter((plan) => plan !== undefined);
    expect(singles.filter((plan) => plan.re !== plan.ac + 1)).toEqual([]);
    const doubles = PLACES.map((place) => double(...place)).filter((plan) => plan !== undefined);
    expect(doubles.filter((plan) => plan.re2 !== plan.ac2 + 1 || plan.n2 !== plan.n1 || plan.re1 <= plan.ac1 + 1)).toEqual([]);
    expect(singles.length).toBeGreaterThan(doubles.length);
    expect(doubles.length).toBeGreaterThan(300);
  });

  it('Ac never falls along a row or down a column', () => {
    for (const severity of SEVERITIES) {
      for (const letter of CODE_LETTERS) {
        const along = AQLS.map((aql) => single(severity, letter, aql)?.ac).filter((ac) => ac !== undefined);
        expect(along).toEqual(along.toSorted((a, b) => a - b));
      }
      for (const aql of AQLS) {
        const down = ROWS.map((letter) => single(severity, letter, aql)?.ac).filter((ac) => ac !== undefined);
        expect(down).toEqual(down.toSorted((a, b) => a - b));
      }
    }
  });

  it('tightened accepts no more than normal from the same sample, and reduced takes no more', () => {
    let compared = 0;
    for (const letter of CODE_LETTERS) {
      for (const aql of AQLS) {
        const [normal, tightened, reduced] = SEVERITIES.map((severity) => single(severity, letter, aql));
        if (normal && tightened)
          expect([letter, aql, tightened.ac <= normal.ac, tightened.n === normal.n]).toEqual([letter, aql, true, true]);
        if (normal && reduced) expect([letter, aql, reduced.n <= normal.n]).toEqual([letter, aql, true]);
        compared += Number(Boolean(normal && tightened)) + Number(Boolean(normal && reduced));
      }
    }
    expect(compared).toBeGreaterThan(200);
  });

  it('a double plan stands where the single table has a plan, with the same arrows; an asterisk sends to it', () => {
    for (const [severity, letter, aql] of PLACES) {
      const there = cell('double', severity, letter, aql);
      const alone = cell('single', severity, letter, aql);
      if (typeof alone === 'string') expect(there).toBe(alone);
      else expect(there === '*' || double(severity, letter, aql) !== undefined).toBe(true);
    }
  });

  it('both samples of a double plan together are larger than the single one, and the first is smaller', () => {
    for (const [severity, letter, aql] of PLACES) {
      const pair = double(severity, letter, aql);
      const alone = single(severity, letter, aql);
      if (!pair || !alone) continue;
      expect(pair.n1).toBeLessThan(alone.n);
      expect(pair.n1 + pair.n2).toBeGreaterThan(alone.n);
    }
  });

  it('row S has the one plan of tightened inspection at AQL 0.025', () => {
    const all = SEVERITIES.flatMap((severity) => AQLS.map((aql) => cell('single', severity, 'S', aql))).filter((there) => there !== null);
    expect(all).toEqual([{ letter: 'S', n: 3150, ac: 1, re: 2 }]);
    expect(cell('double', 'tightened', 'S', '0.025')).toEqual({ letter: 'S', n1: 2000, ac1: 0, re1: 2, n2: 2000, ac2: 1, re2: 2 });
  });

  it('one step tighter is the next lower Ac in the same row of Table 2-A, for every plan that accepts two or more', () => {
    let compared = 0;
    for (const letter of CODE_LETTERS) {
      for (const [at, aql] of AQLS.entries()) {
        const plan = single('normal', letter, aql);
        if (!plan) continue;
        const expected = plan.ac < 2 ? null : single('normal', letter, AQLS[at - 1])!.ac;
        expect([letter, aql, acOneStepTighter(plan.ac)]).toEqual([letter, aql, expected]);
        compared += 1;
      }
    }
    expect(compared).toBe(152);
  });
});
