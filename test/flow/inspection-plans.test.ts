import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { type Answer, DATABASES, type Plant, startPlant } from '../harness.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Refused {
  readonly reasons: readonly { readonly code: string; readonly detail: string; readonly pointer?: string; readonly nearest?: string[] }[];
}
const reasons = (answer: Answer): string[] =>
  (answer.body as Refused).reasons.map((reason) => [reason.code, reason.pointer].filter(Boolean).join(' '));

const SAMPLING = {
  level: 'II',
  type: 'single',
  basis: 'items',
  classes: [
    { class: 'major', aql: '1.0' },
    { class: 'minor', aql: '4.0' },
  ],
};
const BORE = { code: 'BORE', name: 'Bore', kind: 'measured', per: 'item', class: 'major', unit: 'mm', lower: '31.9', upper: '32.1' };

describe.each(DATABASES)('inspection plans on %s', (database) => {
  let plant: Plant;
  const post = <Body = never>(path: string, body: object) => plant.as('quality').post<Body>(`/api/${path}`, body);
  const get = <Body>(path: string) => plant.as('auditor').get<Body>(`/api/${path}`);

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
  });
  afterAll(async () => {
    await expectRebuildEqual(plant);
    await plant.stop();
  });

  it("keeps the plant's list of defects by revision (IP-10)", async () => {
    const leak = { code: 'D-LEAK', name: 'Leaks', severity: 'major' };
    const first = await post('defects', leak);
    expect([first.status, first.body]).toEqual([201, { ...leak, revision: 1, note: null }]);
    expect(reasons(await post('defects', leak))).toEqual(['code-taken /code']);
    expect(reasons(await post('defects', { ...leak, code: 'D-X', severity: 'grave' }))).toEqual(['shape /severity']);
    await post('defects', { ...leak, note: 'under 8 bar', revision: 1, reason: 'told which pressure' });
    await post('defects', { code: 'D-BURST', name: 'Bursts', severity: 'critical' });
    expect((await get<{ code: string }[]>('defects')).body.map((one) => one.code)).toEqual(['D-BURST', 'D-LEAK']);
    expect((await get('defects/D-LEAK')).body).toMatchObject({ revision: 2, note: 'under 8 bar' });
    expect((await get('defects/D-LEAK/history')).body).toMatchObject([{ record: { note: null } }, { reason: 'told which pressure' }]);
    expect(reasons(await get('defects/D-NONE'))).toEqual(['defect-unknown']);
  });

  it('has one plan an item, filled up with what is usual, and keeps every revision (IP-1, IP-2)', async () => {
    const characteristics = [
      { code: 'TIGHT', name: 'Holds pressure', kind: 'attribute', class: 'critical', defect: 'D-BURST', procedure: 'WI 12' },
      { ...BORE, instrumentKind: 'calliper', items: 5 },
    ];
    const given = { code: 'BARREL', name: 'Barrels', sampling: SAMPLING, characteristics };
    const first = await post<{ revision: number }>('inspection-plans', given);
    const usual = { replicates: 1, compute: { kind: 'single' }, rounding: { decimals: 3, rule: 'half-even' }, required: true };
    expect([first.status, first.body]).toEqual([
      201,
      {
        ...given,
        revision: 1,
        characteristics: [characteristics[0], { ...characteristics[1], ...usual, instrumentRequired: true }],
        occasions: ['delivery', 'run', 'return'],
        note: null,
      },
    ]);
    expect(reasons(await post('inspection-plans', given))).toEqual(['code-taken /code']);
    // What was read can be sent back changed, nulls and all.
    const next = { ...first.body, occasions: ['run'], revision: 1, reason: 'bought barrels come with a certificate' };
    expect((await post('inspection-plans', next)).body).toMatchObject({ revision: 2, occasions: ['run'] });
    const same = { ...next, revision: 2, reason: 'nothing' };
    expect(reasons(await post('inspection-plans', same))).toEqual(['nothing-changed']);
    const { body } = await get<object[]>('inspection-plans/BARREL/history');
    expect(body).toMatchObject([
      { revision: 1, by: 'quality-1', reason: null, record: { occasions: ['delivery', 'run', 'return'] } },
      { revision: 2, reason: 'bought barrels come with a certificate', untilSeq: null },
    ]);
    expect((await get<{ code: string }[]>('inspection-plans')).body.map((one) => one.code)).toEqual(['BARREL']);
  });

  it('is told with the item and with its defects', async () => {
    const about = async (query: string) =>
      (await get<{ told: { says: string }[] }>(`ledger/about?${query}`)).body.told.map((entry) => entry.says);
    const said = 'Inspection plan BARREL (Barrels) added to the catalogue';
    expect(await about('item=BARREL')).toContain(said);
    expect(await about('defect=D-BURST')).toContain(said);
  });

  it('refuses everything wrong at once, with pointers (IP-3, IP-4)', async () => {
    const answer = await post('inspection-plans', {
      code: 'NONE',
      name: 'Wrong',
      sampling: { level: 'II', type: 'multiple', basis: 'items', classes: [{ class: 'major', aql: '1.1' }] },
      characteristics: [
        { code: 'A', name: 'A', kind: 'attribute', class: 'minor', defect: 'D-LEAK' },
        { ...BORE, code: 'A', lower: '33', rounding: { decimals: 0 } },
      ],
    });
    expect(answer.status).toBe(400);
    expect(reasons(answer)).toEqual([
      'item-unknown /code',
      'plan-type-not-offered /sampling/type',
      'aql-unknown /sampling/classes/0/aql',
      'class-without-aql /characteristics/0/class',
      'class-laxer /characteristics/0/class',
      'characteristic-named-twice /characteristics/1/code',
      'limits-reversed /characteristics/1/lower',
      'limit-finer-than-result /characteristics/1/upper',
    ]);
    expect((answer.body as Refused).reasons[2]!.nearest).toEqual(['1.0', '1.5']);
    expect((await get('inspection-plans/NONE')).status).toBe(404);
  });

  it('RC-6: plans have a statistical reason: no AQL is given for critical, nor one above 10 for nonconforming items', async () => {
    const plan = (sampling: object) => post('inspection-plans', { code: 'HOSE', name: 'Hoses', sampling: { ...SAMPLING, ...sampling } });
    const critical = await plan({ classes: [{ class: 'critical', aql: '0.010' }] });
    expect([reasons(critical), (critical.body as Refused).reasons[0]!.detail]).toEqual([
      ['shape /sampling/classes/0/class'],
      'class: must be major or minor; critical has no AQL, one found is enough',
    ]);
    const many = { classes: [{ class: 'minor', aql: '15' }] };
    expect(reasons(await plan(many))).toEqual(['aql-not-for-items /sampling/classes/0/aql']);
    const written = await plan({ ...many, basis: 'nonconformities', classes: [{ class: 'minor', aql: '15.0' }] });
    expect(written.body).toMatchObject({ sampling: { classes: [{ aql: '15' }] } });
  });

  it.each<[string, object, string]>([
    ['a limit of an attribute', { kind: 'attribute', lower: '1' }, 'kind: attribute has no lower'],
    ['a defect of a measurement', { ...BORE, defect: 'D-LEAK' }, 'kind: measured has no defect'],
    ['a colour without its standard', { ...BORE, compute: { kind: 'colour-difference' } }, 'kind: colour-difference needs standard'],
    ['a mean with a label', { ...BORE, compute: { kind: 'mean', nominal: '5' } }, 'kind: mean has no nominal'],
    [
      'packers who say whether packages are destroyed',
      { ...BORE, compute: { kind: 'net-content', rules: 'packer', destructive: true } },
      'rules: packer has no destructive',
    ],
  ])('does not pass over %s (IP-9)', async (_what, change, detail) => {
    const one = { code: 'X', name: 'X', class: 'major', ...change };
    const answer = await post('inspection-plans', { code: 'SEAL', name: 'Seals', sampling: SAMPLING, characteristics: [one] });
    expect([answer.status, (answer.body as Refused).reasons.map((reason) => reason.detail)]).toEqual([400, [detail]]);
  });

  it.each<[string, object]>([
    ['/sampling', { sampling: [] }],
    ['/sampling', { sampling: [SAMPLING] }],
    ['/characteristics/0', { characteristics: [[BORE]] }],
    ['/characteristics/0/compute', { characteristics: [{ ...BORE, compute: [{ kind: 'mean' }] }] }],
    ['/characteristics/0/rounding', { characteristics: [{ ...BORE, rounding: [] }] }],
  ])('does not take a list for one object at %s: %j (IP-9)', async (pointer, change) => {
    const answer = await post('inspection-plans', { code: 'SEAL', name: 'Seals', sampling: SAMPLING, ...change });
    expect([answer.status, reasons(answer)]).toEqual([400, [`shape ${pointer}`]]);
  });

  it('takes units and the nominal quantity from method and item (IP-6, IP-7)', async () => {
    const measured = (code: string, compute: object, more: object = {}) => ({
      code,
      name: code,
      kind: 'measured',
      class: 'major',
      compute,
      ...more,
    });
    const characteristics = [
      measured('NET', { kind: 'net-content', rules: 'reference', destructive: true }),
      measured('DENS', { kind: 'density' }, { upper: '0.9', replicates: 2 }),
      measured('COL', { kind: 'colour-difference', standard: { l: '40.5', a: '-3', b: '12.25' } }, { upper: '1.5', replicates: 3 }),
    ];
    const answer = await post<{ characteristics: object[] }>('inspection-plans', { code: 'WAX-250', name: 'Cans', characteristics });
    expect(answer.body).toMatchObject({
      sampling: null,
      characteristics: [
        { unit: 'g', per: 'lot', compute: { nominal: '250', unit: 'g', weighed: 'net', rules: 'reference', destructive: true } },
        { unit: 'kg/L', compute: { massUnit: 'g', volumeUnit: 'mL' } },
        { unit: 'ΔE00', compute: { standard: { l: '40.5', a: '-3', b: '12.25' } } },
      ],
    });
    const label = { kind: 'net-content', nominal: '0.24', unit: 'kg' };
    const wrong = { code: 'WAX-250', name: 'Cans', characteristics: [measured('NET', label)], revision: 1, reason: 'label changed' };
    expect(reasons(await post('inspection-plans', wrong))).toEqual(['nominal-differs /characteristics/0/compute/nominal']);
  });

  it('shows beforehand what it takes from a lot, one sample for all classes (IP-11)', async () => {
    await post('inspection-plans', { code: 'SEAL', name: 'Seals', sampling: SAMPLING });
    const { body } = await get('inspection-plans/SEAL/preview?lotSize=1000');
    // J, 80, 2/3 and 7/8: table 2-A at AQL 1.0 and 4.0 for 501 to 1200 items.
    expect(body).toMatchObject({
      item: 'SEAL',
      planRevision: 1,
      severity: 'normal',
      sample: { edition: 'ISO 2859-1:1999', codeLetter: 'J', first: 80, second: null, inspectAllBecause: null },
      classes: [
        { class: 'major', aql: '1.0', plan: { n: 80, ac: 2, re: 3 }, because: [] },
        { class: 'minor', aql: '4.0', plan: { n: 80, ac: 7, re: 8 }, because: [] },
      ],
    });
    // 20 items: letter C, where 1.0 needs 13 (arrow to E) and 4.0 only 3 (arrow to B): the larger serves both.
    const small = (
      await get<{ sample: { first: number }; classes: { plan: { n: number }; because: string[] }[] }>(
        'inspection-plans/SEAL/preview?lotSize=20',
      )
    ).body;
    expect([small.sample.first, small.classes.map((one) => one.plan.n)]).toEqual([13, [13, 13]]);
    expect(small.classes[1]!.because.at(-1)).toMatch(/another class needs a sample of 13/);
    const whole = await get('inspection-plans/SEAL/preview?lotSize=1');
    expect(whole.body).toMatchObject({ sample: { first: 1, inspectAllBecause: expect.any(String) as string } });
    expect((await get('inspection-plans/WAX-250/preview?lotSize=500')).body).toMatchObject({ sample: null, classes: [] });
    expect(reasons(await get('inspection-plans/SEAL/preview?lotSize=0'))).toEqual(['shape /lotSize']);
    expect(reasons(await get('inspection-plans/FOOT/preview?lotSize=5'))).toEqual(['inspection-plan-unknown']);
  });

  it('opens inspections at its occasions only (IP-2)', async () => {
    await receive(plant, [{ item: 'BARREL', quantity: '50' }], 'S-METAL');
    const [seals] = await receive(plant, [{ item: 'SEAL', quantity: '500' }], 'S-PACK');
    const { body } = await get<{ lot: string; item: string }[]>('inspections');
    expect(body.map(({ lot, item }) => [lot, item])).toEqual([[seals, 'SEAL']]);
  });

  it('a defect that is graded worse after the plan was written counts as what it is now (IP-4, IN-8)', async () => {
    const characteristics = [{ code: 'TIGHT', name: 'Tight', kind: 'attribute', class: 'major', defect: 'D-LEAK' }];
    await post('inspection-plans', { code: 'GAUGE', name: 'Gauges', sampling: SAMPLING, characteristics });
    await post('defects', { code: 'D-LEAK', name: 'Leaks', severity: 'critical', revision: 2, reason: 'somebody was hurt' });
    const [lot] = await receive(plant, [{ item: 'GAUGE', quantity: '3', serials: ['G-1', 'G-2', 'G-3'] }], 'S-PACK');
    const [{ inspection }] = (await get<[{ inspection: string }]>(`inspections?lot=${lot}`)).body;
    await post(`inspections/${inspection}/begin`, {});
    const found = { items: [{ piece: 2, found: [{ characteristic: 'TIGHT' }] }] };
    const { body } = await post<{ classes: object[]; holds: string[] }>(`inspections/${inspection}/tallies`, found);
    expect(body.classes[0]).toMatchObject({ class: 'critical', found: [1, 1], standing: 'not-accepted' });
    expect(body.holds).toHaveLength(1);
  });

  it('is for quality and the administrator (P-1)', async () => {
    const plan = { code: 'FOOT', name: 'Feet', sampling: SAMPLING };
    expect((await plant.as('inspector').post('/api/inspection-plans', plan)).status).toBe(403);
    expect((await plant.as('inspector').post('/api/defects', { code: 'D', name: 'D', severity: 'minor' })).status).toBe(403);
    expect((await plant.as('administrator').post('/api/inspection-plans', plan)).status).toBe(201);
  });
});
