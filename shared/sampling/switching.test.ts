import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { wouldAcceptOneStepTighter } from './switching-score.js';
import {
  afterDecision,
  afterLot,
  canGoReduced,
  decisionFault,
  type LotOutcome,
  startOfSwitching,
  type Switched,
  type SwitchingDecision,
  SwitchingFault,
  type SwitchingSeverity,
  type SwitchingState,
} from './switching.js';
import type { Severity } from './tables.js';

interface Single {
  readonly n: number;
  readonly ac: number;
  readonly re: number;
}

interface Double {
  readonly n1: number;
  readonly ac1: number;
  readonly re1: number;
  readonly n2: number;
  readonly ac2: number;
  readonly re2: number;
}

interface Step {
  readonly found?: number;
  readonly first?: number;
  readonly second?: number;
  readonly plan?: Single;
  readonly resubmitted?: boolean;
  readonly stated?: SwitchingDecision;
  readonly decision?: SwitchingDecision;
  readonly accepted?: boolean;
  readonly score?: number | null;
  readonly next: SwitchingSeverity;
  readonly notAccepted?: number;
}

interface Sequence {
  readonly id: string;
  readonly title: string;
  readonly start: Severity;
  readonly statements: boolean;
  readonly plans: Readonly<Partial<Record<Severity, Single | Double>>>;
  readonly lots: readonly Step[];
}

const fixture = JSON.parse(readFileSync('fixtures/standards/switching.json', 'utf8')) as {
  readonly sequences: readonly Sequence[];
  readonly leftOut: readonly { readonly id: string; readonly why: string }[];
};

function startOf({ start, statements }: Sequence): SwitchingState {
  let state = startOfSwitching();
  if (start !== 'normal') state = afterDecision(state, { about: 'start', severity: start }).state;
  if (!statements) return state;
  state = afterDecision(state, { about: 'production', steady: true }).state;
  return afterDecision(state, { about: 'reduced', desirable: true }).state;
}

/** The verdict that the plan in use comes to; a step may bring its own plan where letters vary. */
function outcomeOf(step: Step, severity: SwitchingSeverity, plans: Sequence['plans']): LotOutcome {
  if (severity === 'discontinued') throw new Error('no lot is judged while inspection is discontinued');
  const plan = step.plan ?? plans[severity];
  if (plan === undefined) throw new Error(`the sequence has no ${severity} plan`);
  const resubmitted = step.resubmitted === true;
  if ('n' in plan) {
    const found = step.found!;
    const tighter = wouldAcceptOneStepTighter(plan.ac, found);
    return { severity, resubmitted, type: 'single', ac: plan.ac, accepted: found <= plan.ac, wouldAcceptOneStepTighter: tighter };
  }
  const acceptedOnFirstSample = step.first! <= plan.ac1;
  const decidedFirst = acceptedOnFirstSample || step.first! >= plan.re1;
  expect(step.second === undefined, 'a second sample is taken when the first does not decide').toBe(decidedFirst);
  const accepted = decidedFirst ? acceptedOnFirstSample : step.first! + step.second! <= plan.ac2;
  return { severity, resubmitted, type: 'double', accepted, acceptedOnFirstSample };
}

function take(state: SwitchingState, step: Step, plans: Sequence['plans']): Switched {
  if (step.decision !== undefined) return afterDecision(state, step.decision);
  const outcome = outcomeOf(step, state.severity, plans);
  expect(outcome.accepted).toBe(step.accepted);
  const judged = afterLot(state, outcome);
  // Rows show the score the lot led to, and 0 where normal inspection begins anew with it.
  expect(judged.scoreReached ?? (judged.to === 'normal' ? judged.state.score : null)).toBe(step.score);
  return step.stated === undefined ? judged : afterDecision(judged.state, step.stated);
}

describe('switching: reference sequences', () => {
  it('covers all sequences but those left out, which say why', () => {
    const ids = Array.from({ length: 16 }, (_, i) => `SW${i + 1}`).filter((id) => id !== 'SW12');
    expect(fixture.sequences.map(({ id }) => id)).toEqual(ids);
    expect(fixture.leftOut.map(({ id }) => id)).toEqual(['SW12', 'annexA']);
    for (const { why } of fixture.leftOut) expect(why).toMatch(/not offered/);
  });

  it.each(fixture.sequences.map((sequence) => [sequence.id, sequence.title, sequence] as const))('%s: %s', (_id, _title, sequence) => {
    let state = startOf(sequence);
    sequence.lots.forEach((step, i) => {
      state = take(state, step, sequence.plans).state;
      expect(state.severity, `after row ${i + 1}`).toBe(step.next);
      if (step.notAccepted !== undefined) expect(state.notAccepted, `after row ${i + 1}`).toBe(step.notAccepted);
    });
  });
});

const good: LotOutcome = { severity: 'normal', type: 'single', ac: 2, accepted: true, wouldAcceptOneStepTighter: true };
const bad: LotOutcome = { severity: 'normal', type: 'single', ac: 2, accepted: false, wouldAcceptOneStepTighter: false };
const under = (severity: Severity, accepted: boolean): LotOutcome => ({ severity, type: 'single', ac: 1, accepted });
const run = (state: SwitchingState, lots: readonly LotOutcome[]): SwitchingState =>
  lots.reduce((at, lot) => afterLot(at, lot).state, state);
const directed = (severity: Severity): SwitchingState => afterDecision(startOfSwitching(), { about: 'start', severity }).state;
const steady = { about: 'production', steady: true } as const;
const desirable = { about: 'reduced', desirable: true } as const;
const codes = ({ reasons }: Switched): readonly string[] => reasons.map(({ rule, code }) => `${rule} ${code}`);
const last = ({ reasons }: Switched): string => reasons.at(-1)!.words;

describe('switching: what is said', () => {
  it('of two refusals: how many of how many', () => {
    const switched = afterLot(run(startOfSwitching(), [good, bad, good, good, good]), bad);
    expect(switched.reasons.at(-1)).toEqual({ rule: '9.3.1', code: 'tightened', words: '2 of the last 5 lots not accepted' });
    expect(last(afterLot(run(startOfSwitching(), [bad]), bad))).toBe('2 of the last 2 lots not accepted');
  });

  it('of one refusal: what a second would do', () => {
    const switched = afterLot(run(startOfSwitching(), [good, good]), bad);
    expect(codes(switched)).toEqual(['9.3.3.2 score-reset', '9.3.1 tightened-not-yet']);
    expect(last(switched)).toBe('1 of the last 3 lots not accepted; a second within 5 means tightened');
  });

  it('of a score that is there while the other conditions are not', () => {
    const at30 = run(
      startOfSwitching(),
      Array.from({ length: 10 }, () => good),
    );
    const switched = afterLot(at30, good);
    expect(switched.reasons.at(-1)).toEqual({
      rule: '9.3.3',
      code: 'reduced-not-yet',
      words: 'score 33, but production is not stated as steady and reduced inspection is not considered desirable',
    });
    const stated = afterDecision(switched.state, steady);
    expect(last(stated)).toBe('score 33, but reduced inspection is not considered desirable');
    const reduced = afterDecision(stated.state, desirable);
    expect([reduced.from, reduced.to]).toEqual(['normal', 'reduced']);
    expect(last(reduced)).toBe('score 33, production is stated as steady, reduced inspection is considered desirable');
  });

  it('of the score: by which rule it rose or fell', () => {
    const single = (ac: number, tighter?: boolean): LotOutcome => ({
      severity: 'normal',
      type: 'single',
      ac,
      accepted: true,
      ...(tighter === undefined ? {} : { wouldAcceptOneStepTighter: tighter }),
    });
    const said = (lot: LotOutcome): string => last(afterLot({ ...startOfSwitching(), score: 4 }, lot));
    expect(said(single(0))).toBe('accepted with acceptance number 0: score 6');
    expect(said(single(3, true))).toBe('would also be accepted with the AQL one step tighter: score 7');
    expect(said(single(3, false))).toBe('accepted, but would not be with the AQL one step tighter: score 0');
    expect(() => said(single(3))).toThrow(TypeError);
    expect(() => said({ severity: 'normal', type: 'double', accepted: true })).toThrow(TypeError);
  });

  it('of the conditions for reduced inspection, met or not', () => {
    const { can, conditions } = canGoReduced(run(directed('tightened'), [under('tightened', true)]));
    expect(can).toBe(false);
    expect(conditions.map(({ rule, met }) => [rule, met])).toEqual([
      ['9.3.3', false],
      ['9.3.3 a', false],
      ['9.3.3 b', false],
      ['9.3.3 c', false],
    ]);
    const ready = { ...startOfSwitching(), score: 31, steady: true, reducedDesirable: true };
    expect(canGoReduced(ready)).toMatchObject({ can: true });
  });

  it('of progress under tightened inspection', () => {
    const one = afterLot(directed('tightened'), under('tightened', true));
    expect(codes(one)).toEqual(['9.3.2 normal-not-yet']);
    expect(last(one)).toBe('1 of 5 lots in a row accepted');
    expect(last(afterLot(one.state, under('tightened', false)))).toBe('1 of 5 lots not accepted that discontinue inspection');
  });
});

describe('switching: lots that do not count', () => {
  it('C7: judged by the plan of another severity than the one in force', () => {
    const tightened = run(startOfSwitching(), [bad, bad]);
    const late = afterLot(tightened, bad);
    expect(codes(late)).toEqual(['C7 lot-of-other-severity']);
    expect(late.state).toEqual(tightened);
  });

  it('C7: but a lot not accepted ends reduced inspection, whichever plan judged it', () => {
    expect(afterLot(directed('reduced'), bad)).toMatchObject({ from: 'reduced', to: 'normal' });
    expect(afterLot(directed('reduced'), good).state).toEqual(directed('reduced'));
  });

  it('9.4: while inspection is discontinued', () => {
    const stopped = run(
      directed('tightened'),
      Array.from({ length: 5 }, () => under('tightened', false)),
    );
    expect(stopped).toMatchObject({ severity: 'discontinued', notAccepted: 5 });
    const late = afterLot(stopped, under('tightened', true));
    expect(late.state).toEqual(stopped);
    expect(codes(late)).toEqual(['9.4 lot-while-discontinued']);
  });
});

describe('switching: decisions', () => {
  it('9.1: a start is directed only before the first lot', () => {
    expect(directed('tightened')).toMatchObject({ severity: 'tightened', lotsCounted: 0 });
    const begun = run(startOfSwitching(), [good]);
    expect(() => afterDecision(begun, { about: 'start', severity: 'reduced' })).toThrow(SwitchingFault);
    expect(decisionFault(begun, { about: 'start', severity: 'reduced' })).toMatch(/^lots judged so far: 1;/);
    expect(decisionFault(begun, steady)).toBeNull();
  });

  it('9.4: only what was discontinued is resumed', () => {
    expect(() => afterDecision(startOfSwitching(), { about: 'resumption' })).toThrow(
      'inspection is normal; only discontinued inspection is resumed',
    );
  });

  it('9.3.4 c: reduced inspection ends when it is no longer considered desirable', () => {
    const over = afterDecision(directed('reduced'), { about: 'reduced', desirable: false });
    expect(over).toMatchObject({ from: 'reduced', to: 'normal' });
    expect(codes(over)).toEqual(['9.3.4 c normal']);
  });

  it('C8: the wish for reduced inspection is asked again after tightened inspection; the statement on production stands', () => {
    const wished = afterDecision(afterDecision(startOfSwitching(), steady).state, desirable).state;
    expect(run(wished, [bad, bad])).toMatchObject({ severity: 'tightened', steady: true, reducedDesirable: false });
  });

  it('C9: a statement that completes the conditions takes effect at once', () => {
    const ready = run(
      afterDecision(startOfSwitching(), desirable).state,
      Array.from({ length: 10 }, () => good),
    );
    expect(ready).toMatchObject({ severity: 'normal', score: 30 });
    expect(afterDecision(ready, steady).state).toMatchObject({ severity: 'reduced', score: 0, recent: [] });
  });
});
