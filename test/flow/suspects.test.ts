import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { SuspectGroup, SuspectsAnswer } from '../../shared/api/suspects.js';
import { ROLES } from '../../src/server/plant/people/access.js';
import { receive } from '../fernhollow.js';
import { type Answer, DATABASES, type Plant, startPlant } from '../harness.js';
import { inspectionOf, listDefects, planInspection, step } from '../inspecting.js';
import { linkLots, makeLots } from '../made-lots.js';
import { done, refused, wait } from '../making.js';
import { expectRebuildEqual } from '../rebuild.js';
import { tellStory, type TwoBatches } from '../two-batches.js';

describe.each(DATABASES)('suspects on %s', (database) => {
  let plant: Plant;
  let story: TwoBatches;
  const ask = (body: object): Promise<Answer<SuspectsAnswer>> => plant.as('recall-lead').post<SuspectsAnswer>('/api/trace/suspects', body);
  const ranked = async (body: object): Promise<SuspectsAnswer> => {
    const answer = await ask(body);
    expect(answer.status, JSON.stringify(answer.body)).toBe(200);
    return answer.body;
  };
  const names = (group: SuspectGroup | undefined): string[] => group?.suspects.map(({ kind, code }) => `${kind} ${code}`) ?? [];
  /** The last entry of the ledger. */
  const seq = async (): Promise<number> =>
    done(await plant.as('auditor').get<{ asKnownAt: { seq: number } }>(`/api/trace?lot=${story.cans}`)).asKnownAt.seq;

  beforeAll(async () => {
    plant = await startPlant(database);
    story = await tellStory(plant);
  });
  afterAll(async () => {
    await expectRebuildEqual(plant);
    await plant.stop();
  });

  it('ranks first all that only the failed stretch has in common, as one group (T-15)', async () => {
    const { cans, batches, runs, otherWax, cleanedAt } = story;
    const answer = await ranked({ population: [{ lot: cans }], failed: [{ lot: cans, pieces: '395,410,433,470,480,590' }] });
    const [first] = answer.groups;
    expect(names(first)).toEqual([
      ...[`lot ${batches[1]}`, `lot ${otherWax}`].toSorted(),
      'supplier-lot LW-78',
      `run ${runs[1]}`,
      'vessel V-1',
      'person operator-2',
    ]);
    expect(first).toMatchObject({
      rank: 1,
      exposed: 210,
      exposedFailed: 6,
      exposedSound: 204,
      unexposedFailed: 0,
      unexposedSound: 390,
      expectedFailed: 2.1,
      beyondChance: true,
    });
    // 210 over 6 out of 600 over 6, in whole numbers.
    const exact = [0, 1, 2, 3, 4, 5].reduce((product, k) => (product * (210 - k)) / (600 - k), 1);
    expect(first!.p / exact).toBeCloseTo(1, 10);
    expect(first!.adjustedP / (exact * answer.totals.tested)).toBeCloseTo(1, 10);
    expect(first!.odds).toMatchObject({ estimate: null, upper: null, confidence: 0.95 });
    expect(first!.odds.lower).toBeGreaterThan(1);
    const vessel = first!.suspects.find(({ kind }) => kind === 'vessel')!;
    expect(vessel).toMatchObject({ from: cleanedAt, until: null, words: `vessel V-1 from its cleaning at ${cleanedAt} on` });
    expect(first!.says).toMatch(/which cannot be told apart: exposed were 6 of 6 failed and 210 of all 600 pieces; .* more than chance$/);
  });

  it('says what it can say nothing about, what it takes for granted, and that association is not cause (T-16)', async () => {
    const { cans, filling, raw } = story;
    const answer = await ranked({ population: [{ lot: cans }], failed: [{ lot: cans, pieces: '395,410' }] });
    const everywhere = answer.everywhere.map(({ kind, code }) => `${kind} ${code}`);
    for (const one of [`lot ${cans}`, `lot ${raw.oil}`, `run ${filling}`, 'line FILL-1', 'person operator-1'])
      expect(everywhere).toContain(one);
    expect(answer.groups.flatMap(names)).not.toContain('line FILL-1');
    expect(answer.totals).toMatchObject({ pieces: 600, failed: 2, listed: answer.groups.length });
    expect(answer.assumptions.join(' ')).toMatch(/Complaints are not all failures/);
    expect(answer.caution).toMatch(/not cause/);
  });

  it('tests every group, and lists as many as asked for', async () => {
    const body = { population: [{ lot: story.cans }], failed: [{ lot: story.cans, pieces: '500-503' }] };
    const all = await ranked(body);
    expect(names(all.groups[0])).toEqual([`lot ${story.labels[1]}`]);
    const one = await ranked({ ...body, top: 1 });
    expect(one.groups).toEqual(all.groups.slice(0, 1));
    expect(one.totals).toEqual({ ...all.totals, listed: 1 });
  });

  it('takes units by serial, and what is linked one to one', async () => {
    await makeLots(plant, [
      { lot: 'G-1', item: 'GAUGE', pieces: 3, serials: ['g1', 'g2', 'g3'] },
      { lot: 'G-2', item: 'GAUGE', pieces: 3, serials: ['g4', 'g5', 'K-00001'] },
      { lot: 'U-1', item: 'PUMP', pieces: 6, serials: [1, 2, 3, 4, 5, 6].map((n) => `K-0000${n}`) },
    ]);
    await linkLots(plant, 'RUN-U-1', [
      { from: 'G-1', fromSpan: [1, 2], to: 'U-1', toSpan: [5, 6], map: 'each' },
      { from: 'G-1', fromSpan: [3, 3], to: 'U-1', toSpan: [1, 1], map: 'each' },
      { from: 'G-2', fromSpan: [1, 3], to: 'U-1', toSpan: [2, 4], map: 'each' },
    ]);
    const failed = [{ serial: 'K-00001', item: 'PUMP' }, { serial: 'K-00005' }, { serial: 'K-00006' }];
    const { groups, failed: named } = await ranked({ population: [{ lot: 'U-1' }], failed });
    expect(named).toEqual([
      {
        lot: 'U-1',
        spans: [
          [1, 1],
          [5, 6],
        ],
      },
    ]);
    expect(names(groups[0])).toEqual(['lot G-1', 'run RUN-G-1']);
    expect(groups[0]!.p).toBeCloseTo(1 / 20, 12);
    expect(refused(await ask({ population: [{ lot: 'U-1' }], failed: [{ serial: 'K-00001' }, { serial: 'K-9' }] }))).toEqual([
      'serial-ambiguous',
      'serial-unknown',
    ]);
  });

  it('answers as known at an entry: a link recorded later exposes nobody before it', async () => {
    const { cans } = story;
    const before = await seq();
    const [late] = (await receive(plant, [{ item: 'DYE-BLU', quantity: '1', supplierLot: 'LD-9' }])) as [string];
    await linkLots(plant, 'RUN-LATE', [{ from: late, to: cans, toSpan: [1, 5] }]);
    const body = { population: [{ lot: cans }], failed: [{ lot: cans, pieces: '2-4' }] };
    expect(names((await ranked(body)).groups[0])).toEqual([`lot ${late}`, 'supplier-lot LD-9']);
    const then = await ranked({ ...body, asKnownAt: before });
    expect(then.asKnownAt.seq).toBe(before);
    expect(then.groups.flatMap(names)).not.toContain(`lot ${late}`);
    expect(refused(await ask({ ...body, asKnownAt: 3 }))).toEqual(['lot-unknown', 'lot-unknown']);
    expect(refused(await ask({ ...body, asKnownAt: 99_999 }))).toEqual(['entry-unknown']);
  });

  it('suspects an instrument between two calibrations for all that its inspections stood for', async () => {
    const { cans } = story;
    await listDefects(plant);
    await planInspection(plant, 'OIL-40', {
      sampling: undefined,
      characteristics: [
        {
          code: 'VISC',
          name: 'Viscosity',
          kind: 'measured',
          class: 'major',
          unit: 'mPa·s',
          lower: '100',
          upper: '200',
          rounding: { decimals: 0 },
          instrumentKind: 'viscometer',
        },
      ],
    });
    const visco = { code: 'VISCO-1', name: 'Viscometer', kind: 'viscometer', intervalDays: 90, use: 'in-use' };
    done(await plant.as('quality').post('/api/instruments', visco));
    const good = { asFound: 'in-tolerance', result: 'in-tolerance', calibratedBy: 'Invented Metrology' };
    const calibratedAt = plant.clock.now();
    done(await plant.as('inspector').post('/api/instruments/VISCO-1/calibrations', good));
    wait(plant, 5);
    const [oil] = (await receive(plant, [{ item: 'OIL-40', quantity: '100' }])) as [string];
    const inspection = await inspectionOf(plant, oil);
    await step(plant, inspection, 'begin');
    await step(plant, inspection, 'results', { characteristic: 'VISC', readings: [{ value: '150' }], instrument: 'VISCO-1' });
    await linkLots(plant, 'RUN-OIL', [{ from: oil, to: cans, toSpan: [11, 20] }]);
    const { groups } = await ranked({ population: [{ lot: cans }], failed: [{ lot: cans, pieces: '12,15,19' }] });
    expect(names(groups[0])).toEqual([`lot ${oil}`, 'instrument VISCO-1']);
    expect(groups[0]!.suspects[1]).toMatchObject({ from: calibratedAt, until: null });
  });

  it.each<[string, (story: TwoBatches) => object, string[]]>([
    [
      'lots nobody knows, bulk lots, pieces that are not there: all at once',
      ({ cans, raw }) => ({
        population: [{ lot: 'NO-LOT' }, { lot: raw.wax }, { lot: cans, pieces: '599-601' }],
        failed: [
          { lot: cans, pieces: '1' },
          { lot: raw.oil, pieces: '1' },
        ],
      }),
      ['lot-unknown /population/0', 'lot-not-numbered /population/1', 'pieces-outside /population/2', 'lot-not-numbered /failed/1'],
    ],
    [
      'failed outside the population',
      ({ cans }) => ({ population: [{ lot: cans, pieces: '1-100' }], failed: [{ lot: cans, pieces: '99-102' }] }),
      ['failed-outside /failed/0'],
    ],
    [
      'pieces named twice, on either side',
      ({ cans }) => ({
        population: [
          { lot: cans, pieces: '1-100' },
          { lot: cans, pieces: '100-200' },
        ],
        failed: [
          { lot: cans, pieces: '5' },
          { lot: cans, pieces: '4-6' },
        ],
      }),
      ['population-twice /population/1', 'failed-twice /failed/1'],
    ],
    ['nothing failed', ({ cans }) => ({ population: [{ lot: cans }], failed: [] }), ['nothing-failed /failed']],
    ['no population', ({ cans }) => ({ population: [], failed: [{ lot: cans, pieces: '1' }] }), ['population-empty /population']],
    [
      'all failed',
      ({ cans }) => ({ population: [{ lot: cans, pieces: '1-3' }], failed: [{ lot: cans, pieces: '1-3' }] }),
      ['all-failed /failed'],
    ],
    [
      'a failure that names a lot without pieces, or both a lot and a serial',
      ({ cans }) => ({ population: [{ lot: cans }], failed: [{ lot: cans }, { lot: cans, pieces: '1', serial: 'K-1' }, {}] }),
      ['failed-unclear /failed/0', 'failed-unclear /failed/1', 'failed-unclear /failed/2'],
    ],
    [
      'pieces that are none',
      ({ cans }) => ({ population: [{ lot: cans, pieces: '9-3' }], failed: [{ lot: cans, pieces: 'x' }] }),
      ['shape /population/0/pieces', 'shape /failed/0/pieces'],
    ],
  ])('refuses %s', async (_what, body, codes) => {
    const answer = (await ask(body(story))) as Answer as Answer<{ reasons: { code: string; pointer: string }[] }>;
    expect(answer.status).toBeGreaterThanOrEqual(400);
    expect(answer.body.reasons.map(({ code, pointer }) => `${code} ${pointer}`)).toEqual(codes);
  });

  it('is a question: anyone signed in may ask it, and it records nothing', async () => {
    const before = await seq();
    for (const role of ROLES) {
      const answer = await plant
        .as(role)
        .post('/api/trace/suspects', { population: [{ lot: story.cans }], failed: [{ lot: story.cans, pieces: '1' }] });
      expect(answer.status).toBe(200);
    }
    expect(await seq()).toBe(before);
  });
});
