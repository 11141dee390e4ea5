import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { type Answer, type Client, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { inspect, inspectionOf, listDefects, planInspection, step } from '../inspecting.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Refused {
  readonly reasons: readonly { readonly code: string; readonly detail: string }[];
}
interface State {
  readonly item: string;
  readonly supplier: string | null;
  readonly class: string;
  readonly plan: string;
  readonly inForce: boolean;
  readonly severity: string;
  readonly score: number;
  readonly lotsCounted: number;
  readonly steady: boolean;
  readonly because: readonly { readonly rule: string; readonly words: string }[];
  readonly since: number | null;
  readonly reduced: { readonly can: boolean; readonly conditions: readonly { readonly rule: string; readonly met: boolean }[] };
}
interface Step {
  readonly class: string;
  readonly seq: number;
  readonly by: string;
  readonly before: string;
  readonly after: string;
  readonly inspection: string | null;
  readonly lot: string | null;
  readonly verdict: string | null;
  readonly decision: string | null;
  readonly reason: string | null;
  readonly because: readonly { readonly rule: string; readonly words: string }[];
}
const codes = (answer: Answer<Refused>): string[] => answer.body.reasons.map((reason) => reason.code);

const MAJOR = (aql: string, type = 'single') => ({
  sampling: { level: 'II', type, basis: 'items', classes: [{ class: 'major', aql }] },
});

describe.each(DATABASES)('switching on %s', (database) => {
  let plant: Plant;
  let quality: Client;
  const bring = async (item: string, supplier = 'S-PACK'): Promise<string> =>
    (await receive(plant, [{ item, quantity: '1000' }], supplier))[0]!;
  const decide = (more: object, by: Client = quality) =>
    by.post<State[] & Refused>('/api/switching/decisions', { password: PASSWORD, reason: 'visit of 2 March', supplier: 'S-PACK', ...more });
  const decided = async (more: object): Promise<State[]> => {
    const answer = await decide(more);
    expect(answer.status, JSON.stringify(answer.body)).toBe(201);
    return answer.body;
  };
  const states = async (query: string): Promise<State[]> => {
    const answer = await plant.as('auditor').get<State[]>(`/api/switching?${query}`);
    expect(answer.status).toBe(200);
    return answer.body;
  };
  const history = async (query: string): Promise<Step[]> => (await plant.as('auditor').get<Step[]>(`/api/switching/history?${query}`)).body;

  beforeAll(async () => {
    plant = await startPlant(database);
    quality = plant.as('quality');
    await catalogueFernhollow(plant);
    await listDefects(plant);
    await planInspection(plant, 'SEAL');
    await planInspection(plant, 'HOSE', MAJOR('1.0'));
    await planInspection(plant, 'FOOT', MAJOR('1.0'));
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
          compute: { kind: 'single' },
          rounding: { decimals: 1 },
        },
      ],
    });
  });
  afterAll(() => plant.stop());

  it('an item that was never inspected is at the start, each class by itself, and says what is missing for reduced', async () => {
    expect(await states('item=SEAL')).toEqual([]);
    const start = await states('item=SEAL&supplier=S-PACK');
    expect(start.map((one) => [one.class, one.plan, one.severity, one.since, one.inForce])).toEqual([
      ['major', 'single II 1.0 items', 'normal', null, true],
      ['minor', 'single II 4.0 items', 'normal', null, true],
    ]);
    expect(start[0]!.because).toEqual([{ rule: '9.1', words: expect.stringContaining('starts as normal') }]);
    expect(start[0]!.reduced).toMatchObject({ can: false });
    expect(start[0]!.reduced.conditions.map(({ rule, met }) => [rule, met])).toEqual([
      ['9.3.3', true],
      ['9.3.3 a', false],
      ['9.3.3 b', false],
      ['9.3.3 c', false],
    ]);
    await bring('SEAL');
    expect((await states('item=SEAL')).map((one) => [one.supplier, one.class])).toEqual([
      ['S-PACK', 'major'],
      ['S-PACK', 'minor'],
    ]);
  });

  it('two of the last five not accepted means tightened, five there discontinued; nothing begins until quality resumes it', async () => {
    for (const major of [3, 0, 3]) await inspect(plant, await bring('HOSE'), major);
    expect(await states('item=HOSE')).toEqual([
      expect.objectContaining({
        severity: 'tightened',
        because: expect.arrayContaining([{ rule: '9.3.1', words: '2 of the last 3 lots not accepted' }]),
      }),
    ]);
    for (let n = 0; n < 5; n += 1) await inspect(plant, await bring('HOSE'), 3);
    expect((await states('item=HOSE'))[0]).toMatchObject({ severity: 'discontinued' });
    const next = await inspectionOf(plant, await bring('HOSE'));
    const begin = await plant.as('inspector').post<Refused>(`/api/inspections/${next}/begin`);
    expect(codes(begin)).toEqual(['inspection-discontinued']);
    expect(codes(await decide({ item: 'HOSE', decision: 'start', severity: 'normal' }))).toEqual(['switching-decision-impossible']);
    expect(await decided({ item: 'HOSE', decision: 'resume' })).toEqual([
      expect.objectContaining({ severity: 'tightened', lotsCounted: 8 }),
    ]);
    expect((await step(plant, next, 'begin')).classes[1]).toMatchObject({ class: 'major', severity: 'tightened' });
    expect((await decide({ item: 'HOSE', decision: 'resume' })).body.reasons[0]!.detail).toContain(
      'only discontinued inspection is resumed',
    );

    const steps = await history('item=HOSE&supplier=S-PACK&class=major');
    expect(steps.map((one) => `${one.verdict ?? one.decision}: ${one.before} -> ${one.after}`)).toEqual([
      'not-accepted: normal -> normal',
      'accepted: normal -> normal',
      'not-accepted: normal -> tightened',
      ...Array.from({ length: 4 }, () => 'not-accepted: tightened -> tightened'),
      'not-accepted: tightened -> discontinued',
      'inspection is resumed: discontinued -> tightened',
    ]);
    const lots = new Set(steps.map((one) => one.lot));
    expect(lots.size).toBe(9); // eight lots, and the decision that has none
    expect(steps.at(-1)).toMatchObject({ inspection: null, lot: null, by: 'quality-1', reason: 'visit of 2 March' });
    expect(steps.every((one) => one.because.length > 0)).toBe(true);
    expect(await history('item=HOSE&class=minor')).toEqual([]);
  });

  it('ten lots accepted, a steady production and a wish bring reduced inspection; an irregular one ends it', async () => {
    await decided({ item: 'SEAL', decision: 'production-steady' });
    for (let n = 0; n < 10; n += 1) await inspect(plant, await bring('SEAL'));
    const scored = await states('item=SEAL&supplier=S-PACK');
    // Acceptance numbers 2 and 7, nothing found: 3 points a lot (9.3.3.2).
    expect(scored.map((one) => [one.severity, one.score, one.reduced.can])).toEqual([
      ['normal', 30, false],
      ['normal', 30, false],
    ]);
    const reduced = await decided({ item: 'SEAL', decision: 'reduced-desired', class: 'minor' });
    expect(reduced.map((one) => [one.class, one.severity])).toEqual([
      ['major', 'normal'],
      ['minor', 'reduced'],
    ]);
    const inspection = await inspectionOf(plant, await bring('SEAL'));
    expect((await step(plant, inspection, 'begin')).classes.map((one) => one.severity)).toEqual([null, 'normal', 'reduced']);
    const back = await decided({ item: 'SEAL', decision: 'production-irregular' });
    expect(back.map((one) => [one.severity, one.steady, one.because.map(({ rule }) => rule)])).toEqual([
      ['normal', false, ['9.3.3']],
      ['normal', false, ['9.3.4 b']],
    ]);
  });

  it('a changed plan begins a history of its own, and the old one stays to be read', async () => {
    await inspect(plant, await bring('FOOT', 'S-METAL'));
    await planInspection(plant, 'FOOT', { ...MAJOR('0.65'), revision: 1, reason: 'complaints' });
    expect((await states('item=FOOT')).map((one) => [one.plan, one.inForce, one.lotsCounted])).toEqual([
      ['single II 0.65 items', true, 0],
      ['single II 1.0 items', false, 1],
    ]);
    const [start] = await decided({ item: 'FOOT', supplier: 'S-METAL', decision: 'start', severity: 'tightened' });
    expect(start).toMatchObject({
      plan: 'single II 0.65 items',
      severity: 'tightened',
      because: [expect.objectContaining({ rule: '9.1' })],
    });
  });

  it('says what it cannot decide or show, and to whom', async () => {
    expect(codes(await decide({ item: 'WAX-BASE', decision: 'production-steady' }))).toEqual(['no-sampling-in-plan']);
    expect(codes(await decide({ item: 'BARREL', decision: 'production-steady' }))).toEqual(['no-inspection-plan']);
    expect(codes(await decide({ item: 'NONE', supplier: 'NOBODY', decision: 'start' }))).toEqual([
      'item-unknown',
      'supplier-unknown',
      'severity-missing',
    ]);
    expect(codes(await decide({ item: 'HOSE', supplier: 'C-001', decision: 'resume', severity: 'normal', class: 'minor' }))).toEqual([
      'not-a-supplier',
      'severity-not-asked',
      'class-not-in-plan',
    ]);
    expect((await decide({ item: 'HOSE', decision: 'relax' })).status).toBe(400);
    expect((await decide({ item: 'HOSE', decision: 'resume', password: 'somebody else’s' })).status).toBe(403);
    expect((await decide({ item: 'HOSE', decision: 'resume' }, plant.as('inspector'))).status).toBe(403);
    const asked = await plant.as('auditor').get<Refused>('/api/switching?item=NONE&supplier=NOBODY');
    expect([asked.status, codes(asked)]).toEqual([404, ['item-unknown', 'supplier-unknown']]);
    expect((await plant.as('auditor').get('/api/switching/history')).status).toBe(400);
  });

  it('ends with a record that a replay gives again', () => expectRebuildEqual(plant));
});
