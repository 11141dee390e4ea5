import { describe, expect, it } from 'vitest';
import type { NetContentMethod } from '../../../../shared/measuring/method.js';
import { MICRO } from '../../../../shared/quantity.js';
import type { Refusal } from '../../../../shared/refusal.js';
import type { Aql } from '../../../../shared/sampling/aql.js';
import type { PlanType } from '../../../../shared/sampling/tables.js';
import { decideRevise } from './catalogue.decide.js';
import type { CatalogueState } from './catalogue-state.facts.js';
import type { Item } from './catalogue.facts.js';
import type { AttributeCharacteristic, Defect, InspectionPlan, MeasuredCharacteristic, Sampling } from './inspection-plan.facts.js';

const CAN: Item = { code: 'CAN', name: 'Can', class: 'filled', unit: 'each', tracking: 'pieces', contentMicro: 250_000 };
const WAX: Item = { code: 'WAX', name: 'Chain wax', class: 'mixture', unit: 'kg', tracking: 'bulk' };
const LEAK: Defect = { code: 'D-LEAK', name: 'Leaks', severity: 'major' };

const SAMPLING: Sampling = {
  level: 'II',
  type: 'single',
  basis: 'items',
  classes: [
    { class: 'major', aql: '1.0' },
    { class: 'minor', aql: '4.0' },
  ],
};
const VISCOSITY: MeasuredCharacteristic = {
  code: 'VISC',
  name: 'Viscosity',
  kind: 'measured',
  per: 'lot',
  class: 'major',
  unit: 'mPa·s',
  lowerMicro: 80 * MICRO,
  upperMicro: 120 * MICRO,
  targetMicro: 100 * MICRO,
  replicates: 3,
  compute: { kind: 'mean' },
  rounding: { decimals: 1, rule: 'half-even' },
  instrumentKind: 'viscometer',
  instrumentRequired: true,
  required: true,
};
const CONTENT: NetContentMethod = { kind: 'net-content', nominalMicro: 250 * MICRO, unit: 'g', weighed: 'net', rules: { set: 'packer' } };
const SEAM: AttributeCharacteristic = { code: 'SEAM', name: 'Seam tight', kind: 'attribute', class: 'critical', defect: 'D-LEAK' };
const PLAN: InspectionPlan = {
  code: 'CAN',
  name: 'Inspection of cans',
  sampling: SAMPLING,
  characteristics: [SEAM, VISCOSITY],
  occasions: ['delivery', 'run', 'return'],
};

const state: CatalogueState = {
  current: undefined,
  placesOfCode: [],
  items: new Map([CAN, WAX].map((item) => [item.code, { ...item, revision: 1 }])),
  defects: new Map([[LEAK.code, { ...LEAK, revision: 1 }]]),
  recipes: [],
  boms: [],
  hasLots: false,
  gtinOf: null,
};

function refusal(change: Partial<InspectionPlan>): Refusal | null {
  try {
    decideRevise({ what: 'inspection-plan', record: { ...PLAN, ...change } }, state);
    return null;
  } catch (error) {
    return error as Refusal;
  }
}
const plan = (change: Partial<InspectionPlan>): string[] =>
  (refusal(change)?.reasons ?? []).map((reason) => [reason.code, reason['pointer']].filter(Boolean).join(' '));
const sampling = (change: Partial<Sampling>): string[] => plan({ sampling: { ...SAMPLING, ...change } });
const attribute = (change: Partial<AttributeCharacteristic>): string[] => plan({ characteristics: [{ ...SEAM, ...change }] });
const measured = (change: Partial<MeasuredCharacteristic>): string[] => plan({ characteristics: [{ ...VISCOSITY, ...change }] });
const content = (change: Partial<NetContentMethod>, more: Partial<MeasuredCharacteristic> = {}): string[] =>
  measured({
    unit: 'g',
    lowerMicro: undefined,
    upperMicro: undefined,
    targetMicro: undefined,
    compute: { ...CONTENT, ...change },
    ...more,
  });

describe('the plan (IP-1, IP-2)', () => {
  it('is recorded as its first revision', () => {
    expect(decideRevise({ what: 'inspection-plan', record: PLAN }, state)).toEqual({
      kind: 'CatalogueRevised',
      v: 1,
      what: 'inspection-plan',
      revision: 1,
      reason: undefined,
      record: PLAN,
    });
  });

  it.each<[string, Partial<InspectionPlan>, string[]]>([
    ['of an item nobody knows', { code: 'NONE' }, ['item-unknown /code']],
    ['that looks at nothing', { sampling: undefined, characteristics: [] }, ['plan-looks-at-nothing /sampling']],
    [
      'whose only test need not be made',
      { sampling: undefined, characteristics: [{ ...VISCOSITY, required: false }] },
      ['plan-looks-at-nothing /sampling'],
    ],
    ['for one occasion twice', { occasions: ['run', 'run'] }, ['occasion-named-twice /occasions']],
    ['with one characteristic twice', { characteristics: [SEAM, SEAM] }, ['characteristic-named-twice /characteristics/1/code']],
  ])('refused: %s', (_what, change, expected) => expect(plan(change)).toEqual(expected));

  it('may only sample, or only test the lot', () => {
    expect(plan({ characteristics: [] })).toEqual([]);
    expect(plan({ sampling: undefined, characteristics: [VISCOSITY] })).toEqual([]);
  });

  it('gives every fault at once', () => {
    const wrong = {
      sampling: { ...SAMPLING, classes: [{ class: 'major', aql: '1.1' as Aql }] as const },
      occasions: ['run', 'run'] as const,
    };
    expect(
      plan({
        ...wrong,
        code: 'NONE',
        characteristics: [
          { ...SEAM, defect: 'D-NONE' },
          { ...VISCOSITY, unit: '' },
        ],
      }),
    ).toEqual([
      'item-unknown /code',
      'aql-unknown /sampling/classes/0/aql',
      'occasion-named-twice /occasions',
      'defect-unknown /characteristics/0/defect',
      'unit-missing /characteristics/1/unit',
    ]);
  });
});

describe('sampling (IP-3, IP-4)', () => {
  it.each<[string, Partial<Sampling>, string[]]>([
    ['a limit that is no AQL', { classes: [{ class: 'major', aql: '1.1' as Aql }] }, ['aql-unknown /sampling/classes/0/aql']],
    ['an AQL above 10 for items', { classes: [{ class: 'major', aql: '15' }] }, ['aql-not-for-items /sampling/classes/0/aql']],
    [
      'one class twice',
      {
        classes: [
          { class: 'major', aql: '1.0' },
          { class: 'major', aql: '4.0' },
        ],
      },
      ['class-named-twice /sampling/classes/1/class'],
    ],
    ['multiple plans', { type: 'multiple' as PlanType }, ['plan-type-not-offered /sampling/type']],
  ])('refused: %s', (_what, change, expected) => expect(sampling(change)).toEqual(expected));

  it.each<Partial<Sampling>>([
    { type: 'double' },
    { basis: 'nonconformities', classes: [{ class: 'minor', aql: '15' }] },
    { basis: 'items', classes: [{ class: 'minor', aql: '10' }] },
  ])('is allowed: %j', (change) => expect(sampling(change)).toEqual([]));

  it('names the nearest AQLs, and says why multiple plans are not offered', () => {
    expect(refusal({ sampling: { ...SAMPLING, classes: [{ class: 'major', aql: '1.1' as Aql }] } })?.reasons).toMatchObject([
      { nearest: ['1.0', '1.5'], detail: expect.stringContaining('the nearest are 1.0 and 1.5') as string },
    ]);
    expect(refusal({ sampling: { ...SAMPLING, type: 'multiple' as PlanType } })?.message).toMatch(/no source of the tables/);
  });
});

describe('what is looked at on items (IP-4)', () => {
  it.each<[string, Partial<InspectionPlan>, string[]]>([
    [
      'without a sample',
      { sampling: undefined, characteristics: [SEAM, { ...VISCOSITY, per: 'item' }, { ...VISCOSITY, code: 'V-2' }] },
      ['sample-missing /characteristics/0', 'sample-missing /characteristics/1'],
    ],
    [
      'in a class without an AQL',
      {
        sampling: { ...SAMPLING, classes: [{ class: 'major', aql: '1.0' }] },
        characteristics: [{ ...VISCOSITY, per: 'item', class: 'minor' }],
      },
      ['class-without-aql /characteristics/0/class'],
    ],
  ])('refused: %s', (_what, change, expected) => expect(plan(change)).toEqual(expected));

  it('is judged as severely as its defect or worse; critical needs no AQL', () => {
    expect(attribute({ class: 'minor' })).toEqual(['class-laxer /characteristics/0/class']);
    expect(attribute({ class: 'major' })).toEqual([]);
    expect(attribute({ class: 'critical' })).toEqual([]);
    expect(attribute({ class: 'minor', defect: undefined })).toEqual([]);
    expect(attribute({ defect: 'D-NONE' })).toEqual(['defect-unknown /characteristics/0/defect']);
  });
});

describe('measured characteristics (IP-5, IP-6, IP-8)', () => {
  it.each<[string, Partial<MeasuredCharacteristic>, string[]]>([
    ['no unit', { unit: '' }, ['unit-missing /unit']],
    ['no limit', { lowerMicro: undefined, upperMicro: undefined }, ['limit-missing']],
    ['limits upside down', { lowerMicro: 130 * MICRO, targetMicro: undefined }, ['limits-reversed /lower']],
    ['a target below', { targetMicro: 79 * MICRO }, ['target-outside-limits /target']],
    ['a target above', { targetMicro: 121 * MICRO }, ['target-outside-limits /target']],
    ['a limit finer than its results', { upperMicro: 120_050_000 }, ['limit-finer-than-result /upper']],
    ['a negative limit finer than its results', { lowerMicro: -50_000 }, ['limit-finer-than-result /lower']],
    ['several single readings', { compute: { kind: 'single' } }, ['replicates-do-not-fit /replicates']],
    ['the range of one', { compute: { kind: 'range' }, replicates: 1 }, ['replicates-do-not-fit /replicates']],
    ['51 readings', { replicates: 51 }, ['replicates-do-not-fit /replicates']],
    [
      'a density in another unit',
      { compute: { kind: 'density', massUnit: 'g', volumeUnit: 'mL' }, unit: 'g/mL' },
      ['unit-of-method /unit'],
    ],
    [
      'a colour no instrument gives',
      { compute: { kind: 'colour-difference', standard: { lMicro: 200 * MICRO, aMicro: 0, bMicro: 0 } } },
      ['method-wrong /compute/standard/l'],
    ],
    ['items of a test of the lot', { items: 5 }, ['items-not-here /items']],
    ['a kind of instrument that nobody names', { instrumentRequired: false }, ['instrument-kind-for-nothing /instrumentRequired']],
  ])('refused: %s', (_what, change, expected) =>
    expect(measured(change)).toEqual(expected.map((one) => one.replace(/ ?(\/.*)?$/, ' /characteristics/0$1'))),
  );

  it.each<Partial<MeasuredCharacteristic>>([
    { lowerMicro: undefined },
    { upperMicro: undefined },
    { lowerMicro: 120 * MICRO, targetMicro: 120 * MICRO },
    { targetMicro: undefined, upperMicro: 120_100_000 },
    { replicates: 50 },
    { per: 'item', items: 5 },
    { compute: { kind: 'range' }, replicates: 2 },
    { instrumentKind: undefined, instrumentRequired: false },
    { compute: { kind: 'density', massUnit: 'kg', volumeUnit: 'L' }, unit: 'kg/L' },
  ])('is allowed: %j', (change) => expect(measured(change)).toEqual([]));
});

describe('net content (IP-7)', () => {
  it('has rules of its own, so it needs no limit', () => expect(content({})).toEqual([]));

  it.each<[string, Partial<NetContentMethod>, Partial<MeasuredCharacteristic>, string[]]>([
    ['of one item', {}, { per: 'item' }, ['content-of-one /characteristics/0/per']],
    [
      'not on the label, nor in litres in the item',
      { nominalMicro: 0, unit: 'mL' },
      { unit: 'mL' },
      ['nominal-missing /characteristics/0/compute/nominal'],
    ],
    [
      'of nothing, where the item has a content',
      { nominalMicro: 0 },
      {},
      ['method-wrong /characteristics/0/compute/nominal', 'nominal-differs /characteristics/0/compute/nominal'],
    ],
    ['other than the item says', { nominalMicro: 240 * MICRO }, {}, ['nominal-differs /characteristics/0/compute/nominal']],
    [
      'too little for the rules',
      { nominalMicro: 4 * MICRO, unit: 'mL' },
      { unit: 'mL' },
      ['method-wrong /characteristics/0/compute/nominal'],
    ],
    ['in another unit than its label', {}, { unit: 'kg' }, ['unit-of-method /characteristics/0/unit']],
    [
      'by the reference test with a number of packages',
      { rules: { set: 'reference', destructive: false } },
      { replicates: 20 },
      ['replicates-do-not-fit /characteristics/0/replicates'],
    ],
    ['of 501 packages', {}, { replicates: 501 }, ['replicates-do-not-fit /characteristics/0/replicates']],
  ])('refused: %s', (_what, method, change, expected) => expect(content(method, change)).toEqual(expected));

  it('agrees with the item in either unit of mass, and cannot be compared in litres', () => {
    expect(content({ nominalMicro: 250_000, unit: 'kg' }, { unit: 'kg' })).toEqual([]);
    expect(content({ nominalMicro: 300 * MICRO, unit: 'mL' }, { unit: 'mL' })).toEqual([]);
  });

  it('differs from an item whose content is beyond all labels, and says both', () => {
    const items = new Map([[CAN.code, { ...CAN, revision: 1, contentMicro: Number.MAX_SAFE_INTEGER }]]);
    const record = {
      ...PLAN,
      characteristics: [
        { ...VISCOSITY, unit: 'g', lowerMicro: undefined, upperMicro: undefined, targetMicro: undefined, compute: CONTENT },
      ],
    };
    expect(() => decideRevise({ what: 'inspection-plan', record }, { ...state, items })).toThrow(
      'the plan says 250 g, the content of CAN is 9007199254.740991 kg',
    );
  });

  it('is of what is counted', () => {
    const characteristics = [
      { ...VISCOSITY, unit: 'g', lowerMicro: undefined, upperMicro: undefined, targetMicro: undefined, compute: CONTENT },
    ];
    expect(plan({ code: 'WAX', characteristics })).toEqual(['no-packages-here /characteristics/0/compute']);
  });
});
