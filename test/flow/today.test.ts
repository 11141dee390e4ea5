import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { TodayGroupView, TodayView } from '../../src/server/plant/today/today.dto.js';
import { Desk, good } from '../disposing.js';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { inspect, inspectionOf, listDefects, planInspection, step } from '../inspecting.js';
import { linkLots, makeLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';
import type { Role } from '../../src/server/plant/people/access.js';

describe.each(DATABASES)('what waits on %s', (database) => {
  let plant: Plant;
  let desk: Desk;
  const today = async (role: Role, which: 1 | 2 = 1): Promise<TodayView> => good(plant.as(role, which).get<TodayView>('/api/today'));
  const group = async (kind: string, role: Role = 'quality', which: 1 | 2 = 1): Promise<TodayGroupView | undefined> =>
    (await today(role, which)).groups.find((one) => one.kind === kind);
  const codes = async (kind: string, role: Role = 'quality', which: 1 | 2 = 1): Promise<string[]> =>
    (await group(kind, role, which))?.lines.map(({ code }) => code) ?? [];
  const plain = (text: string): string => text.replaceAll('\u00a0', ' ');
  const quality = <Body = object>(path: string, body: object): Promise<Body> =>
    good(plant.as('quality').post<Body>(path, { password: PASSWORD, reason: 'seen', ...body }));

  beforeAll(async () => {
    plant = await startPlant(database);
    desk = new Desk(plant);
    await catalogueFernhollow(plant);
    await listDefects(plant);
    await planInspection(plant, 'SEAL');
  });
  afterAll(() => plant.stop());

  it('TD-1: of an empty plant nothing, and everybody may ask', async () => {
    for (const role of ['clerk', 'operator', 'auditor', 'quality'] as const) {
      const { groups, entries, now } = await today(role);
      expect([groups, entries > 0, now]).toEqual([[], true, plant.clock.now()]);
    }
  });

  describe('a delivery', () => {
    let seals: string;
    let wax: string;

    beforeAll(async () => {
      [seals, wax] = (await receive(plant, [
        { item: 'SEAL', quantity: '1000' },
        { item: 'WAX-BASE', quantity: '250', expiresOn: '2026-03-20' },
      ])) as [string, string];
    });

    it('is what the clerk labels today, and tomorrow no more', async () => {
      expect((await group('deliveries', 'clerk'))!.lines).toEqual([
        expect.objectContaining({
          kind: 'delivery',
          code: 'D-0001',
          step: { label: 'Print its labels', place: 'delivery', code: 'D-0001' },
        }),
      ]);
      expect((await group('deliveries', 'clerk'))!.lines[0]!.says).toMatch(/^2 lots from S-WAX, delivery note DN-/);
    });

    it('TD-4: waits for its inspection first; what has none could be released, by somebody else', async () => {
      const inspection = await inspectionOf(plant, seals);
      const waits = (await group('inspections', 'inspector'))!;
      expect(waits).toMatchObject({ title: 'Inspections', total: 1, lines: [{ code: inspection, lot: seals, itemName: 'Piston seal' }] });
      expect(waits.lines[0]!.step).toEqual({ label: 'Begin the inspection', place: 'inspection', code: inspection });
      expect(await codes('releases')).toEqual([wax]);
      expect(plain((await group('releases'))!.lines[0]!.says)).toBe('250 kg Paraffin wax base from S-WAX, in quarantine since today');
      expect(await codes('releases', 'clerk')).toEqual([]);

      await step(plant, inspection, 'begin');
      expect((await group('inspections', 'inspector'))!.lines[0]!.step.label).toBe('Go on with the inspection');
    });

    it('TD-4: accepted it could be released; held, or expired, it could not', async () => {
      const [more] = await receive(plant, [{ item: 'SEAL', quantity: '900' }]);
      await inspect(plant, more!);
      expect(new Set(await codes('releases'))).toEqual(new Set([wax, more]));
      const { hold } = await quality<{ hold: string }>('/api/holds', { parts: [{ lot: more }], reaches: true });
      expect(await codes('releases')).toEqual([wax]);
      expect((await group('holds'))!.lines).toEqual([
        expect.objectContaining({ code: hold, lot: more, mine: true, says: `${more}, and what was made from it, held since today: seen` }),
      ]);
      expect((await group('holds', 'quality', 2))!.lines[0]!.mine).toBe(false);
      await makeLots(plant, [{ lot: 'F-HELD', item: 'WAX-250', pieces: 10, status: 'quarantine' }]);
      expect(await codes('releases')).toContain('F-HELD');
      await linkLots(plant, 'RUN-F-HELD', [{ from: more!, to: 'F-HELD', toSpan: [1, 10] }]);
      expect(await codes('releases')).toEqual([wax]);
      await quality(`/api/holds/${hold}/lift`, {});
      expect(await group('holds')).toBeUndefined();
      await quality(`/api/lots/${more}/release`, {});
      expect(await codes('releases')).toEqual(expect.arrayContaining(['F-HELD', wax]));
    });

    it('TD-5: is used first while it lasts 30 days, and is overdue when it has expired', async () => {
      const line = (await group('expiring', 'clerk'))!.lines.find(({ code }) => code === wax)!;
      expect(line).toMatchObject({ due: '2026-03-20', overdue: false, step: { label: 'Use it first', place: 'lot', code: wax } });
      expect(plain(line.says)).toContain('250 kg Paraffin wax base at DOCK, expires in ');
    });
  });

  it('TD-3: a disposition waits for those whose signature would count, until it needs none', async () => {
    const lot = await desk.cans(20);
    const report = await desk.reviewed([{ lot }]);
    expect((await group('reports', 'inspector'))!.lines).toEqual([
      expect.objectContaining({ code: report, lot, step: { label: 'Look at it', place: 'report', code: report } }),
    ]);
    expect((await group('reports'))!.lines[0]!.step.label).toBe('Dispose of what it affects');
    const n = await desk.propose(report, { kind: 'repair', lot, pieces: '1-20', adverseEffect: 'none' });
    const waits = [`${report}/${n}`];
    const who = async () => [
      await codes('signatures', 'quality'),
      await codes('signatures', 'operator'),
      await codes('signatures', 'inspector'),
      await codes('signatures', 'clerk'),
    ];
    // The inspector raised the report: alone, their signature would not do.
    expect(await who()).toEqual([waits, waits, [], []]);
    await desk.sign(report, n, 'quality');
    expect(await who()).toEqual([[], waits, waits, []]);
    expect(await codes('reports', 'operator')).toEqual([]);
    await desk.sign(report, n, 'operator');
    expect((await who()).flat()).toEqual([]);
    // Whoever may carry it out is told, also where no other report concerns them.
    expect((await group('reports', 'operator'))!.lines.map((one) => one.step.label)).toEqual(['Carry out the dispositions']);
    expect((await group('reports'))!.lines[0]!.step.label).toBe('Carry out the dispositions');
  });

  it('runs, what their closing found, and urgent releases', async () => {
    const { run } = await good(plant.as('operator').post<{ run: string }>('/api/runs', { kind: 'rework', item: 'WAX-250' }));
    expect((await group('runs', 'operator'))!.lines).toEqual([
      expect.objectContaining({ code: run, says: 'rework of Chain wax, can 250 g, open since today, nothing charged yet' }),
    ]);
    const [oil] = await receive(plant, [{ item: 'OIL-40', quantity: '20' }]);
    const { urgentRelease } = await quality<{ urgentRelease: string }>('/api/urgent-releases', { lot: oil, setsAside: ['quarantine'] });
    expect((await group('urgent-releases'))!.lines).toEqual([
      expect.objectContaining({
        code: urgentRelease,
        lot: oil,
        says: 'Carrier oil 40 in use although quarantine since today, signed by quality-1',
        step: { label: 'Settle what was set aside', place: 'lot', code: oil },
      }),
    ]);
  });

  it('goods that came back are judged while they stand in quarantine', async () => {
    await makeLots(plant, [{ lot: 'F-BACK', item: 'WAX-250', pieces: 30 }]);
    const paper = { customer: 'C-001', documentType: 'dispatch note', location: 'FG-1' };
    await good(plant.as('dispatcher').post('/api/shipments', { ...paper, document: 'N-1', lines: [{ lot: 'F-BACK', pieces: '1-20' }] }));
    const back = { ...paper, documentType: 'return note', document: 'R-1', location: 'QUAR', condition: 'dented' };
    await good(plant.as('clerk').post('/api/returns', { ...back, lines: [{ lot: 'F-BACK', pieces: '3-6' }] }));
    const waits = (await group('returns', 'dispatcher'))!;
    expect(waits.lines).toEqual([expect.objectContaining({ kind: 'return', code: 'RT-0001', lot: 'F-BACK' })]);
    expect(plain(waits.lines[0]!.says)).toBe('4 pieces Chain wax, can 250 g back from C-001, in quarantine since today');
    // They wait here, and not among the releases too.
    expect(await codes('releases')).not.toContain('F-BACK');
    await quality('/api/lots/F-BACK/release', { pieces: '3-6' });
    expect(await group('returns', 'dispatcher')).toBeUndefined();
  });

  it('TD-5: an instrument waits from two weeks before it is due, and when nothing lets it be used', async () => {
    const register = { code: 'BAL-1', name: 'Balance', kind: 'balance', intervalDays: 10, use: 'in-use' };
    expect((await plant.as('quality').post('/api/instruments', register)).status).toBe(201);
    expect((await group('instruments', 'inspector'))!.lines[0]).toMatchObject({ code: 'BAL-1', due: null, overdue: false });
    const sound = { asFound: 'in-tolerance', result: 'in-tolerance', calibratedBy: 'Invented Metrology' };
    const calibrated = await plant
      .as('inspector')
      .post('/api/instruments/BAL-1/calibrations', { calibratedAt: plant.clock.now(), ...sound });
    expect(calibrated.status, JSON.stringify(calibrated.body)).toBe(201);
    const [line] = (await group('instruments', 'inspector'))!.lines;
    expect([line!.overdue, line!.says]).toEqual([false, 'Balance: calibration due in 10 days']);
    expect(line!.step).toEqual({ label: 'Record its calibration', place: 'instrument', code: 'BAL-1' });
  });

  it('a recall is first for those who lead it, and says that it is a drill', async () => {
    const body = { title: 'Reel 91', type: 'recall', drill: true, reason: 'to practise', origin: [{ lot: 'F-BACK' }], scope: 'narrow' };
    const answer = await plant.as('recall-lead').post<{ recall: string }>('/api/recalls', body);
    expect(answer.status, JSON.stringify(answer.body)).toBe(201);
    const [first] = (await today('recall-lead')).groups;
    expect(first).toMatchObject({
      kind: 'recalls',
      total: 1,
      lines: [{ code: answer.body.recall, step: { label: 'Go on with the drill' } }],
    });
    expect(first!.lines[0]!.says).toBe('DRILL: Reel 91, open since today, 0 told, 0 answered');
    expect((await today('clerk')).groups.map(({ kind }) => kind)).toEqual(['expiring', 'deliveries']);
  });

  it('TD-2: an action is overdue the day after it was due, its owner first', async () => {
    const lot = await desk.cans(5);
    const report = await desk.reviewed([{ lot }], {}, true);
    const plan = { kind: 'correction', what: 'new gasket', owner: 'operator-1', dueOn: '2026-03-10' };
    await good(desk.post(`/${report}/actions`, plan));
    expect(await group('overdue')).toBeUndefined();
    plant.clock.set('2026-03-21T08:00:00.000Z');
    expect((await group('overdue'))!.lines).toEqual([
      expect.objectContaining({
        code: `${report}/1`,
        due: '2026-03-10',
        overdue: true,
        mine: false,
        says: 'correction of operator-1, due 11 days ago: new gasket',
      }),
    ]);
    const mine = (await group('overdue', 'operator'))!;
    expect([mine.total, mine.lines[0]!.mine]).toEqual([1, true]);
  });

  it('TD-5: what has expired says so', async () => {
    const lines = (await group('expiring', 'clerk'))!.lines;
    expect(lines[0]).toMatchObject({ due: '2026-03-20', overdue: true, step: { label: 'Look at it' } });
    expect((await group('expiring', 'operator'))!.lines[0]!.step.label).toBe('Decide what becomes of it');
    expect(lines[0]!.says).toContain('expired 1 day ago');
    expect(await group('deliveries', 'clerk')).toBeUndefined();
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
