import * as fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { Reasons, Refusal } from '../../../../shared/refusal.js';
import { decideCheckEffectiveness } from './effectiveness.decide.js';
import { checkLearned } from './learned.decide.js';
import { decideActionDone, decideCause, decidePlanAction, decidePlanEffectiveness, decideRecordCost } from './learning.decide.js';
import type { ReportFact, ReportRaised, ReportReviewed } from './nonconformance.facts.js';
import { type Report, reportOf } from './report-state.facts.js';

const TODAY = '2026-03-02';
const SIGNATURE = { by: 'quality-2', at: `${TODAY}T08:00:00.000Z`, meaning: 'I have checked it' };
const CAUSE = { whys: ['worn'], categories: ['machine'], conclusion: 'no interval' } as const;

const RAISED: ReportRaised = {
  kind: 'ReportRaised',
  v: 1,
  report: 'NC-1',
  state: 'verified', // nothing is affected, so that only what is learned stands against closing
  source: { kind: 'audit', code: null },
  requirement: 'r',
  found: 'f',
  defects: [],
  measured: [],
  files: [],
  severity: 'major',
  foundBy: 'inspector-1',
  foundAt: `${TODAY}T07:00:00.000Z`,
  parts: [],
};
const reviewed = (needed: boolean): ReportReviewed => ({
  kind: 'ReportReviewed',
  v: 1,
  report: 'NC-1',
  state: 'verified',
  severity: 'major',
  investigate: { needed, reason: 'r' },
  inform: { needed: false, reason: 'r' },
  signature: SIGNATURE,
});

/** A report as facts make it, one entry each. */
const report = (...facts: readonly ReportFact[]): Report =>
  reportOf([RAISED, ...facts].map((fact, i) => ({ seq: i + 1, at: SIGNATURE.at, actor: 'quality-1', fact })))!;

const codes = (run: () => unknown): string[] => {
  try {
    run();
  } catch (error) {
    if (error instanceof Refusal) return error.reasons.map((reason) => reason.code);
    throw error;
  }
  return [];
};

const state = (of: Report) => ({
  report: of,
  signing: new Map(),
  holds: [],
  actor: SIGNATURE.by,
  outcome: { report: of.report, held: [], lots: new Map(), madeFrom: new Map(), numbers: [] },
  stored: new Set<string>(),
  today: TODAY,
});
const check = (of: Report, effective: boolean) =>
  decideCheckEffectiveness({ effective, harm: 'none', evidence: 'e', files: [], reason: 'r' }, state(of), SIGNATURE);

type Step =
  | { readonly do: 'cause' | 'effective' | 'not effective' }
  | { readonly do: 'plan'; readonly kind: 'correction' | 'corrective' | 'preventive' }
  | { readonly do: 'done'; readonly action: number }
  | { readonly do: 'criterion'; readonly on: string };

/** The n-th action that is open, round and round; 1 where none is. */
function openAction(of: Report, n: number): number {
  const open = of.actions.filter(({ done }) => done === null);
  return open.length === 0 ? 1 : open[(n - 1) % open.length]!.planned.fact.action;
}

/** What a step records: nothing when it is refused. */
function recorded(of: Report, step: Step): readonly ReportFact[] {
  try {
    switch (step.do) {
      case 'cause':
        return [decideCause(CAUSE, of)];
      case 'plan':
        return [
          decidePlanAction({ actionKind: step.kind, what: 'w', owner: 'o', dueOn: TODAY }, { report: of, owner: 'there', today: TODAY }),
        ];
      case 'done':
        return [
          decideActionDone(
            { action: openAction(of, step.action), evidence: 'e', files: [] },
            { report: of, stored: new Set(), actor: 'o', roles: [] },
          ),
        ];
      case 'criterion':
        return [decidePlanEffectiveness({ criterion: 'c', checkOn: step.on }, of, TODAY)];
      default:
        return check(of, step.do === 'effective') as readonly ReportFact[];
    }
  } catch (error) {
    if (error instanceof Refusal) return [];
    throw error;
  }
}

/** Whether the facts hold what NR-40 asks for, told from the last of them backwards and by nothing else. */
function learnedBy(facts: readonly ReportFact[]): boolean {
  const last = (is: (fact: ReportFact) => boolean): number => facts.findLastIndex(is);
  const effective = last((fact) => fact.kind === 'EffectivenessChecked' && fact.effective);
  const failed = last((fact) => fact.kind === 'EffectivenessChecked' && !fact.effective);
  const criterion = last((fact) => fact.kind === 'EffectivenessPlanned');
  const planned = facts.flatMap((fact, i) => (fact.kind === 'ActionPlanned' ? [{ fact, i }] : []));
  const done = new Map(facts.flatMap((fact, i) => (fact.kind === 'ActionDone' ? [[fact.action, i] as const] : [])));
  const corrective = planned.filter(({ fact, i }) => fact.actionKind === 'corrective' && i > failed);
  return (
    facts.some((fact) => fact.kind === 'CauseAnalysed') &&
    corrective.length > 0 &&
    planned.every(({ fact }) => done.has(fact.action)) &&
    effective > Math.max(failed, criterion) &&
    corrective.every(({ fact }) => done.get(fact.action)! < effective)
  );
}

const ANY: fc.Arbitrary<Step> = fc.oneof(
  fc.constantFrom<Step>({ do: 'cause' }, { do: 'effective' }, { do: 'not effective' }),
  fc.constantFrom('correction', 'corrective', 'preventive').map((kind): Step => ({ do: 'plan', kind })),
  fc.integer({ min: 1, max: 3 }).map((action): Step => ({ do: 'done', action })),
  fc.constantFrom(TODAY, '2026-03-03').map((on): Step => ({ do: 'criterion', on })),
);
const WAY: readonly Step[] = [
  { do: 'cause' },
  { do: 'plan', kind: 'corrective' },
  { do: 'done', action: 1 },
  { do: 'criterion', on: TODAY },
  { do: 'effective' },
];
/** The way to the end, once or twice, with anything in between: steps by chance alone seldom get there. */
const STEPS = fc
  .tuple(
    fc.array(fc.array(ANY, { maxLength: 2 }), { minLength: 10, maxLength: 10 }),
    fc.array(fc.boolean(), { minLength: 10, maxLength: 10 }),
  )
  .map(([between, taken]) => between.flatMap((steps, i) => [...steps, ...(taken[i] || i % 3 === 0 ? [WAY[i % WAY.length]!] : [])]));

test('NC-16: no sequence of commands closes a report without cause, action and a check that found it effective', () => {
  const reached = { closed: 0, open: 0 };
  fc.assert(
    fc.property(STEPS, (steps) => {
      let facts: readonly ReportFact[] = [reviewed(true)];
      for (const step of steps) facts = [...facts, ...recorded(report(...facts), step)];
      const after = report(...facts);
      const lacking = new Reasons();
      checkLearned(lacking, after);
      expect(lacking.any).toBe(!learnedBy(facts));
      reached[after.state === 'closed' ? 'closed' : 'open'] += 1;
      if (after.state === 'closed') expect(learnedBy(facts)).toBe(true);
    }),
    { numRuns: 1000 },
  );
  expect(Math.min(reached.closed, reached.open)).toBeGreaterThan(20);
});

describe('what is learned', () => {
  const planned = recorded(report(reviewed(true), decideCause(CAUSE, report())), { do: 'plan', kind: 'corrective' })[0]!;
  const done = recorded(report(planned), { do: 'done', action: 1 })[0]!;
  const criterion = recorded(report(), { do: 'criterion', on: TODAY })[0]!;
  const checkCodes = (of: Report, effective = true): string[] => codes(() => check(of, effective));

  it.each<readonly [string, Report, boolean, readonly string[]]>([
    [
      'nothing of it',
      report(reviewed(true)),
      true,
      ['criterion-missing', 'cause-missing', 'corrective-action-missing', 'effectiveness-unchecked'],
    ],
    ['no action, where nobody asked for one', report(reviewed(false), criterion), true, ['corrective-action-missing']],
    ['no action', report(reviewed(true), criterion), true, ['cause-missing', 'corrective-action-missing']],
    ['an action that is not done', report(reviewed(true), decideCause(CAUSE, report()), planned, criterion), true, ['action-open']],
    ['one that is not done, found not effective', report(planned, criterion), false, ['action-open']],
    ['no criterion', report(planned, done), false, ['criterion-missing']],
  ])('a check is refused with %s', (_what, of, effective, expected) => expect(checkCodes(of, effective)).toEqual(expected));

  it('a check on its day closes a report that is verified, and before it finds nothing effective', () => {
    const ready = [reviewed(true), decideCause(CAUSE, report()), planned, done] as const;
    expect(check(report(...ready, criterion), true)).toMatchObject([{ kind: 'EffectivenessChecked', state: 'closed' }]);
    const tomorrow = recorded(report(), { do: 'criterion', on: '2026-03-03' })[0]!;
    expect(checkCodes(report(...ready, tomorrow))).toEqual(['check-not-due']);
    expect(check(report(...ready, tomorrow), false)).toMatchObject([{ state: 'verified', effective: false }]);
  });

  it('a report that nobody asked to learn from is held open by a check that failed', () => {
    const failed = recorded(report(planned, done, criterion), { do: 'not effective' })[0]!;
    const lacking = new Reasons();
    checkLearned(lacking, report(reviewed(false), planned, done, criterion, failed));
    expect(lacking.list.map((reason) => reason.code)).toEqual(['corrective-action-missing', 'effectiveness-unchecked']);
  });

  it('NR-43: what comes back of a cost says why, and a cost names a disposition that is there', () => {
    const cost = { disposition: 2, costKind: 'material', minor: -5, note: null } as const;
    expect(codes(() => decideRecordCost(cost, report()))).toEqual(['disposition-unknown', 'credit-unexplained']);
    expect(decideRecordCost({ ...cost, disposition: null, note: 'credit note 7' }, report())).toMatchObject({ minor: -5, report: 'NC-1' });
  });
});
