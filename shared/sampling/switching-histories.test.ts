import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  afterDecision,
  afterLot,
  decisionFault,
  type LotOutcome,
  startOfSwitching,
  type Switched,
  type SwitchingDecision,
  type SwitchingState,
} from './switching.js';
import type { Severity } from './tables.js';

/** What happens next: a verdict by the plan in force (or, now and then, by another), a resubmitted lot, or a decision. */
type Happening =
  | { readonly what: 'lot'; readonly lot: LotOutcome; readonly byPlanInForce: boolean }
  | { readonly what: 'decision'; readonly decision: SwitchingDecision };

const severity = fc.constantFrom<Severity>('normal', 'tightened', 'reduced');
/** Runs of good and of bad supply, so that histories reach reduced and discontinued and do not only hover around normal. */
const verdict = (goodOf100: number): fc.Arbitrary<boolean> => fc.nat(99).map((n) => n < goodOf100);
const lot = (goodOf100: number): fc.Arbitrary<LotOutcome> =>
  fc.oneof(
    fc.record({
      type: fc.constant('single' as const),
      severity,
      accepted: verdict(goodOf100),
      ac: fc.constantFrom(0, 1, 2, 3, 5),
      wouldAcceptOneStepTighter: verdict(goodOf100),
      resubmitted: fc.nat(9).map((n) => n === 0),
    }),
    fc.record({
      type: fc.constant('double' as const),
      severity,
      accepted: verdict(goodOf100),
      acceptedOnFirstSample: verdict(goodOf100),
      resubmitted: fc.nat(9).map((n) => n === 0),
    }),
  );
const decision = fc.oneof(
  { weight: 4, arbitrary: fc.record({ about: fc.constant('production' as const), steady: verdict(80) }) },
  { weight: 4, arbitrary: fc.record({ about: fc.constant('reduced' as const), desirable: verdict(80) }) },
  { weight: 2, arbitrary: fc.constant({ about: 'resumption' as const }) },
  { weight: 1, arbitrary: fc.record({ about: fc.constant('start' as const), severity }) },
);
const happening = (goodOf100: number): fc.Arbitrary<Happening> =>
  fc.oneof(
    {
      weight: 9,
      arbitrary: fc.record({ what: fc.constant('lot' as const), lot: lot(goodOf100), byPlanInForce: fc.nat(19).map((n) => n > 0) }),
    },
    { weight: 1, arbitrary: fc.record({ what: fc.constant('decision' as const), decision }) },
  );
const stretch = fc
  .constantFrom(99, 95, 70, 30)
  .chain((goodOf100) => fc.array(happening(goodOf100), { minLength: 20, maxLength: 60, size: 'max' }));
const history = fc.array(stretch, { minLength: 3, maxLength: 8, size: 'max' }).map((stretches) => stretches.flat());

interface Turn {
  readonly before: SwitchingState;
  readonly after: SwitchingState;
  readonly switched: Switched;
  readonly lot: LotOutcome | null;
  readonly decision: SwitchingDecision | null;
}

function live(happenings: readonly Happening[], keep: (state: SwitchingState) => SwitchingState = (state) => state): readonly Turn[] {
  let before = startOfSwitching();
  const turns: Turn[] = [];
  for (const next of happenings) {
    // A decision that cannot be taken as things stand is left out, as a plant would find it refused.
    if (next.what === 'decision' && decisionFault(before, next.decision) !== null) continue;
    const inForce = before.severity === 'discontinued' ? 'tightened' : before.severity;
    const judged = next.what === 'lot' ? { ...next.lot, severity: next.byPlanInForce ? inForce : next.lot.severity } : null;
    const decided = next.what === 'decision' ? next.decision : null;
    const switched = judged === null ? afterDecision(before, decided!) : afterLot(before, judged);
    const after = keep(switched.state);
    turns.push({ before, after, switched, lot: judged, decision: decided });
    before = after;
  }
  return turns;
}

const expectForEveryTurn = (check: (turn: Turn, i: number, turns: readonly Turn[]) => void): void => {
  fc.assert(
    fc.property(history, (happenings) => live(happenings).forEach(check)),
    { numRuns: 100 },
  );
};

/** The lots that count for a period, newest last: of the severity in force, original, since the last switch. */
function countedInPeriod(turns: readonly Turn[], upTo: number): readonly LotOutcome[] {
  const period: LotOutcome[] = [];
  for (let i = upTo; i >= 0; i--) {
    const { before, lot: judged, switched } = turns[i]!;
    if (i < upTo && switched.from !== switched.to) break;
    if (judged !== null && judged.resubmitted !== true && judged.severity === before.severity) period.unshift(judged);
  }
  return period;
}

describe('switching over long random histories', () => {
  it('reaches every severity, so that the properties below speak of all of them', () => {
    const seen = new Set<string>();
    expectForEveryTurn(({ switched }) => seen.add(`${switched.from} to ${switched.to}`));
    const changes = ['normal to tightened', 'normal to reduced', 'tightened to normal', 'tightened to discontinued', 'reduced to normal'];
    for (const change of [...changes, 'discontinued to tightened']) expect(seen).toContain(change);
  });

  it('only the standard takes the steps: never between reduced and tightened, out of discontinued only to tightened and by decision', () => {
    expectForEveryTurn(({ before, after, decision: decided }) => {
      if (before.severity === after.severity || decided?.about === 'start') return;
      const step = `${before.severity} to ${after.severity}`;
      expect(step).not.toBe('reduced to tightened');
      expect(step).not.toBe('tightened to reduced');
      if (before.severity === 'discontinued') expect([after.severity, decided?.about]).toEqual(['tightened', 'resumption']);
      if (after.severity === 'discontinued') expect(before.severity).toBe('tightened');
    });
  });

  it('the score is never negative, 0 outside normal inspection, and goes only up by 2 or 3 or back to 0', () => {
    expectForEveryTurn(({ before, after }) => {
      expect(after.score).toBeGreaterThanOrEqual(0);
      if (after.severity !== 'normal') expect(after.score).toBe(0);
      if (after.score !== 0) expect([0, 2, 3]).toContain(after.score - before.score);
    });
  });

  it('what belongs to one severity is empty under the others', () => {
    expectForEveryTurn(({ after }) => {
      expect(after.recent.length).toBeLessThanOrEqual(after.severity === 'normal' ? 5 : 0);
      if (after.severity !== 'tightened') expect(after.acceptedInARow).toBe(0);
      if (after.severity === 'normal' || after.severity === 'reduced') expect(after.notAccepted).toBe(0);
    });
  });

  it('tightened exactly when 2 of the last 5 lots of the normal period were not accepted', () => {
    expectForEveryTurn(({ before, after, lot: judged }, i, turns) => {
      if (judged === null || before.severity !== 'normal') return;
      const refusals = countedInPeriod(turns, i)
        .slice(-5)
        .filter(({ accepted }) => !accepted).length;
      expect(after.severity === 'tightened').toBe(refusals >= 2);
    });
  });

  it('under tightened inspection: normal exactly after 5 accepted in a row, discontinued exactly at the fifth not accepted', () => {
    expectForEveryTurn(({ before, after, lot: judged }, i, turns) => {
      if (judged === null || before.severity !== 'tightened') return;
      const period = countedInPeriod(turns, i);
      const refusals = period.filter(({ accepted }) => !accepted).length;
      const five = period.length >= 5 && period.slice(-5).every(({ accepted }) => accepted);
      expect(after.severity).toBe(refusals >= 5 ? 'discontinued' : five ? 'normal' : 'tightened');
    });
  });

  it('reduced only with 30 points, steady production and the wish for it; left as soon as one thing speaks against it', () => {
    expectForEveryTurn(({ before, after, switched, lot: judged, decision: decided }) => {
      if (before.severity === 'normal' && after.severity === 'reduced' && decided?.about !== 'start') {
        expect(switched.scoreReached ?? before.score).toBeGreaterThanOrEqual(30);
        expect([after.steady, after.reducedDesirable]).toEqual([true, true]);
      }
      if (before.severity !== 'reduced' || decided?.about === 'start') return;
      const refused = judged !== null && judged.resubmitted !== true && !judged.accepted;
      const irregular = decided?.about === 'production' && !decided.steady;
      const unwished = decided?.about === 'reduced' && !decided.desirable;
      expect(after.severity).toBe(refused || irregular || unwished ? 'normal' : 'reduced');
    });
  });

  it('resubmitted lots never change anything', () => {
    expectForEveryTurn(({ before, after, lot: judged }) => {
      if (judged?.resubmitted === true) expect(after).toEqual(before);
    });
  });

  it('every change of severity and every lot is explained by a clause or a convention', () => {
    expectForEveryTurn(({ before, after, lot: judged, switched }) => {
      expect([switched.from, switched.to]).toEqual([before.severity, after.severity]);
      if (judged !== null || before.severity !== after.severity) expect(switched.reasons.length).toBeGreaterThan(0);
      for (const { rule, code, words } of switched.reasons) {
        expect(rule).toMatch(/^(9\.[1-4](\.\d)*( [abc])?|C[1-9])$/);
        expect(code).toMatch(/^[a-z-]+$/);
        expect(words).not.toBe('');
      }
    });
  });

  it('a state kept as JSON goes on as the state itself would, and no state is altered in place', () => {
    const throughJson = (state: SwitchingState): SwitchingState => JSON.parse(JSON.stringify(state)) as SwitchingState;
    const frozen = (state: SwitchingState): SwitchingState => Object.freeze({ ...state, recent: Object.freeze([...state.recent]) });
    fc.assert(
      fc.property(history, (happenings) => {
        const plain = live(happenings).map(({ after }) => after);
        expect(live(happenings, throughJson).map(({ after }) => after)).toEqual(plain);
        expect(live(happenings, frozen).map(({ after }) => after)).toEqual(plain);
      }),
      { numRuns: 50 },
    );
  });
});
