import { describe, expect, it } from 'vitest';
import type { Refusal } from '../../../../shared/refusal.js';
import { startOfSwitching, type SwitchingState } from '../../../../shared/sampling/switching.js';
import type { Sampling } from '../catalogue/inspection-plan.facts.js';
import { decideSwitching, type DecideSwitching, decisionWords, type SwitchingDecisionState } from './switching.decide.js';

const SIGNATURE = { by: 'quality-1', at: '2026-03-02T08:00:00.000Z', meaning: 'I state it' };
const SAMPLING: Sampling = {
  level: 'II',
  type: 'single',
  basis: 'items',
  classes: [
    { class: 'major', aql: '1.0' },
    { class: 'minor', aql: '4.0' },
  ],
};
const PLAN = { code: 'SEAL', name: 'Seals', revision: 1, characteristics: [], occasions: [], sampling: SAMPLING } as const;
const at = (more: Partial<SwitchingState> = {}): SwitchingState => ({ ...startOfSwitching(), ...more });
const classes = (major: Partial<SwitchingState> = {}, minor: Partial<SwitchingState> = {}) =>
  new Map([
    ['major', at(major)],
    ['minor', at(minor)],
  ] as const);

const decide = (command: Partial<DecideSwitching>, state: Partial<SwitchingDecisionState> = {}) =>
  decideSwitching(
    { item: 'SEAL', supplier: 'S-PACK', decision: 'production-steady', reason: 'audit of May', ...command },
    { itemKnown: true, supplier: 'known', plan: PLAN, switching: classes(), ...state },
    SIGNATURE,
  );
const refusal = (act: () => unknown): Refusal => {
  try {
    act();
  } catch (error) {
    return error as Refusal;
  }
  throw new Error('it was not refused');
};
const codes = (act: () => unknown): string[] => refusal(act).reasons.map((reason) => reason.code);

describe('IN-38: a decision on switching', () => {
  it('is kept with what it does to each class and with its signature', () => {
    const fact = decide({});
    expect(fact).toMatchObject({
      kind: 'SwitchingDecided',
      item: 'SEAL',
      supplier: 'S-PACK',
      decision: { about: 'production', steady: true },
      reason: 'audit of May',
      signature: SIGNATURE,
    });
    expect(fact.switched.map((one) => [one.class, one.plan, one.before.steady, one.after.steady])).toEqual([
      ['major', 'single II 1.0 items', false, true],
      ['minor', 'single II 4.0 items', false, true],
    ]);
    expect(decide({ supplier: undefined, class: 'minor' })).toMatchObject({ supplier: null, switched: [{ class: 'minor' }] });
  });

  it('that completes the conditions brings reduced inspection at once (9.3.3)', () => {
    const switching = classes({ score: 30, steady: true, lotsCounted: 15 }, { score: 4, steady: true, lotsCounted: 2 });
    const { switched } = decide({ decision: 'reduced-desired' }, { switching });
    expect(switched.map((one) => [one.class, one.after.severity, one.because.map(({ rule }) => rule)])).toEqual([
      ['major', 'reduced', ['9.3.3']],
      ['minor', 'normal', ['9.3.3 c']],
    ]);
  });

  it.each<[DecideSwitching['decision'], Partial<SwitchingState>, Partial<SwitchingState>]>([
    ['production-irregular', { severity: 'reduced', steady: true }, { severity: 'normal', steady: false }],
    ['reduced-not-desired', { severity: 'reduced', reducedDesirable: true }, { severity: 'normal', reducedDesirable: false }],
    ['resume', { severity: 'discontinued', notAccepted: 5, lotsCounted: 9 }, { severity: 'tightened', notAccepted: 0 }],
  ])('%s', (decision, before, after) => {
    expect(decide({ decision, class: 'major' }, { switching: classes(before) }).switched[0]!.after).toMatchObject(after);
  });

  it('concerns the classes it can be taken for', () => {
    const switching = classes({ severity: 'discontinued', notAccepted: 5, lotsCounted: 9 }, { lotsCounted: 9 });
    expect(decide({ decision: 'resume' }, { switching }).switched.map((one) => one.class)).toEqual(['major']);
    const begun = classes({ lotsCounted: 1 });
    expect(decide({ decision: 'start', severity: 'tightened' }, { switching: begun }).switched.map((one) => one.class)).toEqual(['minor']);
  });

  it('is refused with why for each class where it can be taken for none', () => {
    const { reasons } = refusal(() => decide({ decision: 'resume' }));
    expect(reasons.map(({ code, detail }) => [code, detail])).toEqual([
      ['switching-decision-impossible', 'major: inspection is normal; only discontinued inspection is resumed'],
      ['switching-decision-impossible', 'minor: inspection is normal; only discontinued inspection is resumed'],
    ]);
    const begun = classes({ lotsCounted: 1 }, { lotsCounted: 1 });
    expect(codes(() => decide({ decision: 'start', severity: 'reduced', class: 'major' }, { switching: begun }))).toEqual([
      'switching-decision-impossible',
    ]);
  });

  it.each<[string, Partial<DecideSwitching>, Partial<SwitchingDecisionState>, string[]]>([
    ['an item nobody knows', {}, { itemKnown: false, plan: undefined }, ['item-unknown']],
    ['a supplier nobody knows', {}, { supplier: 'unknown' }, ['supplier-unknown']],
    ['a customer', {}, { supplier: 'no-supplier' }, ['not-a-supplier']],
    ['an item without a plan', {}, { plan: undefined }, ['no-inspection-plan']],
    ['a plan without a sample', {}, { plan: { ...PLAN, sampling: undefined } }, ['no-sampling-in-plan']],
    [
      'a class without an AQL',
      { class: 'minor' },
      { plan: { ...PLAN, sampling: { ...SAMPLING, classes: [{ class: 'major', aql: '1.0' }] } } },
      ['class-not-in-plan'],
    ],
    ['a start of no severity', { decision: 'start' }, {}, ['severity-missing']],
    ['a severity that the rules give', { severity: 'reduced' }, {}, ['severity-not-asked']],
    [
      'everything at once',
      { decision: 'start' },
      { supplier: 'unknown', plan: undefined },
      ['supplier-unknown', 'severity-missing', 'no-inspection-plan'],
    ],
  ])('is refused for %s', (_what, command, state, expected) => expect(codes(() => decide(command, state))).toEqual(expected));

  it('has words', () => {
    expect(decisionWords({ about: 'production', steady: false })).toBe('production is stated as irregular');
    expect(decisionWords({ about: 'reduced', desirable: true })).toBe('reduced inspection is considered desirable');
    expect(decisionWords({ about: 'resumption' })).toBe('inspection is resumed');
    expect(decisionWords({ about: 'start', severity: 'tightened' })).toBe('inspection starts under tightened inspection');
  });
});
