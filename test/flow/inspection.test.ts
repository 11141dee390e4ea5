import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { type Answer, DATABASES, type Plant, startPlant } from '../harness.js';
import { inspect, type Inspected, inspectionOf, listDefects, planInspection, step } from '../inspecting.js';
import { expectRebuildEqual } from '../rebuild.js';
import { sendFile } from '../send-file.js';

interface Refused {
  readonly reasons: readonly { readonly code: string; readonly detail: string; readonly pointer?: string }[];
}
const codes = (answer: Answer<Refused>): string[] => answer.body.reasons.map((reason) => reason.code);

describe.each(DATABASES)('inspection on %s', (database) => {
  let plant: Plant;
  const refused = (inspection: string, what: string, body: object = {}) =>
    plant.as('inspector').post<Refused>(`/api/inspections/${inspection}/${what}`, body);
  const seals = async (quantity = '1000'): Promise<string> => (await receive(plant, [{ item: 'SEAL', quantity }], 'S-PACK'))[0]!;
  const holdsOn = async (lot: string): Promise<{ hold: string; reason: string; liftedSeq: number | null }[]> => {
    const { body } = await plant
      .as('auditor')
      .get<{ hold: string; reason: string; parts: { lot: string }[]; liftedSeq: number | null }[]>('/api/holds');
    return body.filter((hold) => hold.parts.some((part) => part.lot === lot));
  };

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    await listDefects(plant);
    await planInspection(plant, 'SEAL');
    await planInspection(plant, 'HOSE', {
      sampling: { level: 'II', type: 'double', basis: 'items', classes: [{ class: 'major', aql: '1.0' }] },
    });
    await planInspection(plant, 'WAX-BASE', {
      sampling: undefined,
      characteristics: [
        {
          code: 'MELT',
          name: 'Melting point',
          kind: 'measured',
          class: 'major',
          unit: '°C',
          lower: '54',
          upper: '58',
          replicates: 3,
          compute: { kind: 'mean' },
          rounding: { decimals: 1 },
        },
        { code: 'OIL', name: 'Oil content', kind: 'measured', class: 'minor', unit: '%', upper: '1.5', required: false },
      ],
    });
  });
  afterAll(() => plant.stop());

  it('a delivery opens what the plan calls for, and nothing for an item without a plan', async () => {
    const [seal, gauge] = await receive(
      plant,
      [
        { item: 'SEAL', quantity: '500' },
        { item: 'FOOT', quantity: '20' },
      ],
      'S-PACK',
    );
    const { body } = await plant
      .as('inspector')
      .get<{ lot: string; lotSize: number; occasion: string; state: string }[]>('/api/inspections');
    expect(body.find((one) => one.lot === seal)).toMatchObject({ lotSize: 500, occasion: 'delivery', state: 'waiting' });
    expect(body.some((one) => one.lot === gauge)).toBe(false);
  });

  it('RC-6: the plan used is fixed when inspection begins and kept with the result, not worked out later', async () => {
    const lot = await seals();
    const inspection = await inspectionOf(plant, lot);
    const begun = await step(plant, inspection, 'begin');
    // J, 80, 2/3 and 7/8: table 2-A at AQL 1.0 and 4.0 for 501 to 1200 items.
    expect(begun.sample).toMatchObject({ edition: 'ISO 2859-1:1999', codeLetter: 'J', first: 80, second: null });
    expect(begun.classes.map(({ class: of, plan }) => [of, plan && [plan['n'], plan['ac'], plan['re']]])).toEqual([
      ['critical', null],
      ['major', [80, 2, 3]],
      ['minor', [80, 7, 8]],
    ]);
    const plan = { code: 'SEAL', name: 'Inspection of SEAL', revision: 1, reason: 'tighter from now on' };
    const sampling = { level: 'II', type: 'single', basis: 'items', classes: [{ class: 'major', aql: '0.65' }] };
    expect((await plant.as('quality').post('/api/inspection-plans', { ...plan, sampling })).status).toBe(201);
    const after = (await plant.as('auditor').get<Inspected>(`/api/inspections/${inspection}`)).body;
    expect([after.sample, after.classes.map((one) => one.plan)]).toEqual([begun.sample, begun.classes.map((one) => one.plan)]);
    const back = { ...plan, revision: 2, reason: 'as it was' };
    const classes = [
      { class: 'major', aql: '1.0' },
      { class: 'minor', aql: '4.0' },
    ];
    expect((await plant.as('quality').post('/api/inspection-plans', { ...back, sampling: { ...sampling, classes } })).status).toBe(201);
    await step(plant, inspection, 'tallies', { conforming: 80 });
    await step(plant, inspection, 'verdict');
  });

  it('nothing is written down before it begins, more than the sample never, and no verdict while anything is left', async () => {
    const inspection = await inspectionOf(plant, await seals());
    expect(codes(await refused(inspection, 'tallies', { conforming: 1 }))).toEqual(['inspection-not-open']);
    await step(plant, inspection, 'begin');
    expect(codes(await refused(inspection, 'begin'))).toEqual(['inspection-not-waiting']);
    expect(codes(await refused(inspection, 'tallies', { conforming: 81 }))).toEqual(['more-than-sample']);
    expect(codes(await refused(inspection, 'tallies', { sample: 2, conforming: 1 }))).toEqual(['no-second-sample']);
    await step(plant, inspection, 'tallies', { conforming: 79 });
    const queue = (await plant.as('auditor').get<{ inspection: string }[]>('/api/inspections')).body;
    expect(queue.find((one) => one.inspection === inspection)).toMatchObject({
      state: 'begun',
      computed: null,
      toInspect: 1,
      missing: [],
      people: [plant.as('inspector').person],
    });
    expect(codes(await refused(inspection, 'verdict'))).toEqual(['inspection-incomplete']);
    const wrong = { items: [{ piece: 3, found: [{ defect: 'D-NONE' }] }, {}] };
    expect(codes(await refused(inspection, 'tallies', wrong)).toSorted()).toEqual([
      'defect-unknown',
      'item-says-nothing',
      'more-than-sample',
      'no-pieces-here',
    ]);
    const done = await step(plant, inspection, 'tallies', { items: [{ found: [{ defect: 'D-DENT' }] }] });
    expect([done.computed, done.toInspect]).toEqual(['accepted', 0]);
    expect((await step(plant, inspection, 'verdict')).verdict).toBe('accepted');
    expect(codes(await refused(inspection, 'verdict'))).toEqual(['inspection-not-open']);
  });

  it('what is not accepted is held at once with all made from it; a person may be stricter, never laxer', async () => {
    const lot = await seals();
    const bad = await inspect(plant, lot, 3);
    expect([bad.verdict, bad.holds.length]).toEqual(['not-accepted', 1]);
    expect(await holdsOn(lot)).toEqual([expect.objectContaining({ hold: bad.holds[0], liftedSeq: null })]);
    const good = await inspectionOf(plant, await seals());
    await step(plant, good, 'begin');
    await step(plant, good, 'tallies', { conforming: 80 });
    const strict = await step(plant, good, 'verdict', { stricter: 'smells of solvent, which no characteristic of the plan covers' });
    expect([strict.verdict, strict.holds.length]).toEqual(['not-accepted', 1]);
  });

  it('one critical holds the lot as soon as it is written down, and it can only be not accepted', async () => {
    const lot = await seals();
    const inspection = await inspectionOf(plant, lot);
    await step(plant, inspection, 'begin');
    const found = await step(plant, inspection, 'tallies', { items: [{ found: [{ defect: 'D-BURST' }] }] });
    expect([found.computed, found.holds.length, (await holdsOn(lot)).length]).toEqual(['not-accepted', 1, 1]);
    const decided = await step(plant, inspection, 'verdict');
    expect([decided.verdict, decided.holds.length]).toEqual(['not-accepted', 1]);
  });

  it('a tally entered in error is taken back and stays readable', async () => {
    const inspection = await inspectionOf(plant, await seals());
    await step(plant, inspection, 'begin');
    await step(plant, inspection, 'tallies', {
      items: [{ found: [{ defect: 'D-LEAK' }] }, { found: [{ defect: 'D-LEAK' }] }, { found: [{ defect: 'D-LEAK' }] }],
    });
    const after = await step(plant, inspection, 'tallies/1/taken-back', { reason: 'another lot was on the bench' });
    expect([after.computed, after.toInspect]).toEqual([null, 80]);
    expect(codes(await refused(inspection, 'tallies/1/taken-back', { reason: 'again' }))).toEqual(['tally-taken-back']);
    expect(codes(await refused(inspection, 'tallies/9/taken-back', { reason: 'which?' }))).toEqual(['tally-unknown']);
    await step(plant, inspection, 'tallies', { conforming: 80 });
    expect((await step(plant, inspection, 'verdict')).verdict).toBe('accepted');
  });

  it('a double plan asks for the second sample only when it needs it', async () => {
    const [lot] = await receive(plant, [{ item: 'HOSE', quantity: '1000' }], 'S-PACK');
    const inspection = await inspectionOf(plant, lot!);
    // J double normal at AQL 1.0: 50, 0/3 and 50, 3/4 (table 3-A).
    expect((await step(plant, inspection, 'begin')).sample).toMatchObject({ first: 50, second: 50 });
    const between = await step(plant, inspection, 'tallies', {
      conforming: 48,
      items: Array.from({ length: 2 }, () => ({ found: [{ defect: 'D-LEAK' }] })),
    });
    expect([between.computed, between.secondSample, between.toInspect]).toEqual([null, true, 50]);
    await step(plant, inspection, 'tallies', { sample: 2, conforming: 49, items: [{ found: [{ defect: 'D-LEAK' }] }] });
    expect((await step(plant, inspection, 'verdict')).verdict).toBe('accepted');
  });

  it('RC-5: a batch test is computed, held against its limits, and a retest keeps the first result with a reason', async () => {
    const [lot] = await receive(plant, [{ item: 'WAX-BASE', quantity: '500' }]);
    const inspection = await inspectionOf(plant, lot!);
    await step(plant, inspection, 'begin');
    const readings = (...values: string[]) => values.map((value) => ({ value }));
    expect(codes(await refused(inspection, 'results', { characteristic: 'MELT', readings: readings('56', '55.x') }))).toEqual([
      'reading-wrong',
    ]);
    expect(codes(await refused(inspection, 'results', { characteristic: 'MELT', readings: readings('56') }))).toEqual(['reading-wrong']);
    expect(codes(await refused(inspection, 'verdict'))).toEqual(['inspection-incomplete']);
    const first = await step(plant, inspection, 'results', { characteristic: 'MELT', readings: readings('53.8', '53.9', '53.9') });
    expect([first.results[0], first.computed]).toMatchObject([{ value: '53.9', within: false }, 'not-accepted']);
    expect(codes(await refused(inspection, 'results', { characteristic: 'MELT', readings: readings('56', '56', '56') }))).toEqual([
      'result-exists',
    ]);
    const printout = await sendFile(plant, 'bath.txt', Buffer.from('bath 56.1 56.2 56.1'));
    const { sha256 } = printout.body as { sha256: string };
    const retest = { retestOf: 1, reason: 'thermometer had not settled', files: [sha256] };
    const again = { characteristic: 'MELT', readings: readings('56.1', '56.2', '56.1'), ...retest };
    expect(codes(await refused(inspection, 'results', { ...again, files: ['0'.repeat(64)] }))).toEqual(['file-unknown']);
    const retested = await step(plant, inspection, 'results', again);
    expect(retested.results.map(({ value, within, followed, files }) => [value, within, followed, files])).toEqual([
      ['53.9', false, true, []],
      ['56.1', true, false, [sha256]],
    ]);
    expect((await step(plant, inspection, 'verdict')).verdict).toBe('accepted');
  });

  it('two of five lots not accepted tighten inspection, and five accepted bring it back', async () => {
    await planInspection(plant, 'LID-250', {
      sampling: { level: 'II', type: 'single', basis: 'items', classes: [{ class: 'major', aql: '1.0' }] },
    });
    const lids = async (): Promise<string> => (await receive(plant, [{ item: 'LID-250', quantity: '1000' }], 'S-PACK'))[0]!;
    const severities: (string | undefined)[] = [];
    for (const major of [3, 0, 3, 0, 0, 0, 0, 0]) {
      const { ended, classes } = await inspect(plant, await lids(), major);
      severities.push(`${classes[1]!.severity} -> ${ended!.switched[0]!.after}`);
    }
    expect(severities).toEqual([
      'normal -> normal',
      'normal -> normal',
      'normal -> tightened',
      ...Array.from({ length: 4 }, () => 'tightened -> tightened'),
      'tightened -> normal',
    ]);
  });

  it('two inspectors tallying one lot at once lose nothing', async () => {
    const inspection = await inspectionOf(plant, await seals());
    await step(plant, inspection, 'begin');
    const by = (n: 1 | 2, item: number) =>
      plant.as('inspector', n).post(`/api/inspections/${inspection}/tallies`, {
        conforming: 3,
        items: [{ found: [{ defect: 'D-DENT' }], note: `${n}-${item}` }],
      });
    const answers = await Promise.all(Array.from({ length: 20 }, (_, i) => by(i % 2 === 0 ? 1 : 2, i)));
    expect(answers.map((answer) => answer.status)).toEqual(answers.map(() => 201));
    const after = (await plant.as('auditor').get<Inspected & { tallies: { by: string }[] }>(`/api/inspections/${inspection}`)).body;
    expect(after.tallies.length).toBe(20);
    expect([after.toInspect, after.classes.find((one) => one.class === 'minor')!.found[0]]).toEqual([0, 20]);
    expect(new Set(after.tallies.map((tally) => tally.by)).size).toBe(2);
    expect(codes(await refused(inspection, 'tallies', { conforming: 1 }))).toEqual(['more-than-sample']);
  });

  it('suppliers and items have their figures', async () => {
    const { body } = await plant.as('auditor').get<
      {
        supplier: string;
        item: string;
        lots: number;
        notAccepted: number;
        nonconformingPerMillion: { estimate: number; lower: number; upper: number };
      }[]
    >('/api/figures/suppliers?item=LID-250');
    expect(body).toEqual([
      expect.objectContaining({ supplier: 'S-PACK', item: 'LID-250', lots: 8, notAccepted: 2, itemsInspected: 640, itemsNonconforming: 6 }),
    ]);
    const csv = await plant.as('auditor').get<string>('/api/figures/suppliers.csv?item=LID-250');
    expect(csv.body).toContain('S-PACK,LID-250,8,6,2');
  });

  it('ends with a record that a replay gives again', () => expectRebuildEqual(plant));
});
