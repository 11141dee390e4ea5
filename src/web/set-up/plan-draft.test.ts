import { describe, expect, it } from 'vitest';
import { emptyCharacteristic } from './characteristic-draft.js';
import { bodyOfPlan, classesOf, draftOfPlan, USUAL_SAMPLING } from './plan-draft.js';
import { planTold } from './plan-words.js';

const PLAN: Parameters<typeof planTold>[0] = {
  code: 'WAX-250',
  revision: 2,
  name: 'Cans',
  sampling: { level: 'II', type: 'double', basis: 'items', classes: [{ class: 'major', aql: '0.65' }] },
  occasions: ['run'],
  note: null,
  characteristics: [
    { code: 'SEAM', name: 'Seam', kind: 'attribute', class: 'major', defect: 'D-SEAM' },
    {
      code: 'NET',
      name: 'Content',
      kind: 'measured',
      class: 'major',
      per: 'lot',
      replicates: 20,
      compute: { kind: 'net-content', nominal: '250', unit: 'g', weighed: 'gross-and-tare', rules: 'packer', allowedShort: 1 },
      rounding: { decimals: 1, rule: 'half-even' },
      instrumentRequired: true,
      instrumentKind: 'balance',
      required: true,
    },
  ],
};

describe('an inspection plan as it is typed', () => {
  it('goes out as it came in', () => {
    const { revision: _, note: _none, ...said } = PLAN;
    // Compared as it is written: what is left out is not there.
    expect(JSON.parse(JSON.stringify(bodyOfPlan(draftOfPlan(PLAN))))).toEqual(said);
  });

  it('sends only what belongs to the kind and the method', () => {
    const measured = {
      ...emptyCharacteristic(0, 'measured'),
      code: 'VISC',
      name: 'Viscosity',
      unit: 'mPa·s',
      upper: '210',
      defect: 'D-X',
      items: '3',
    };
    const [body] = bodyOfPlan({ ...draftOfPlan(null, 'WAX'), characteristics: [measured] }).characteristics ?? [];
    expect(JSON.parse(JSON.stringify(body))).toEqual({
      code: 'VISC',
      name: 'Viscosity',
      class: 'major',
      kind: 'measured',
      per: 'lot',
      unit: 'mPa·s',
      upper: '210',
      compute: { kind: 'single' },
      rounding: { decimals: 3, rule: 'half-even' },
      instrumentRequired: false,
      required: true,
    });
  });

  it('leaves out an AQL that its basis cannot have', () => {
    const sampling = { ...USUAL_SAMPLING, aql: { major: '25', minor: '' } } as const;
    expect(classesOf(sampling)).toEqual([]);
    expect(classesOf({ ...sampling, basis: 'nonconformities' })).toEqual([{ class: 'major', aql: '25' }]);
  });

  it('is told in words, each characteristic by its code', () => {
    expect(planTold(PLAN).find(({ label }) => label === 'Characteristic NET')?.text).toBe(
      'Content: major, on the lot; net content against 250 g, packer’s rules, 20 packages, gross and tare weighed, 1 decimals half-even; balance',
    );
  });
});
