import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MICRO } from '../../shared/quantity.js';
import { type Desk, codesOf, good, startDesk, type Refused } from '../disposing.js';
import { DATABASES, type Plant } from '../harness.js';
import { inspect, inspectionOf, planInspection, step } from '../inspecting.js';
import { makeLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';
import type { TodayLineView, TodayView } from '../../src/server/plant/today/today.dto.js';

describe.each(DATABASES)('rework and repair on %s', (database) => {
  let plant: Plant;
  let desk: Desk;
  beforeAll(async () => {
    ({ plant, desk } = await startDesk(database));
  });
  afterAll(() => plant.stop());

  describe('rework', () => {
    it('NC-10, NC-11: pieces reworked into another lot are released only on results made after it', async () => {
      const lot = await desk.cans(20, 'quarantine');
      const old = await good(plant.as('quality').post<{ inspection: string }>('/api/inspections', { lot, reason: 'as made' }));
      await inspect(plant, lot);
      const report = await desk.reviewed([{ lot, pieces: '1-10' }]);
      const run = await desk.startRework();
      expect(codesOf(await desk.charge(run, lot, { pieces: '1-10' }))).toEqual(['lot-not-released', 'lot-held']);
      const n = await desk.decided(report, { kind: 'rework', lot, adverseEffect: 'lids are pressed twice' });
      expect(codesOf(await desk.ship(lot, { pieces: '1' }))).toEqual(['lot-not-released', 'lot-held']);
      expect(codesOf(await desk.tryCarryOut(report, n))).toEqual(['run-missing']);
      expect(codesOf(await desk.tryCarryOut(report, n, { run }))).toEqual(['run-open', 'not-worked-on']);
      expect(codesOf(await desk.charge(run, lot, { pieces: '10-11' }))).toEqual(['lot-not-released']);
      await good(desk.charge(run, lot, { pieces: '1-10' }));
      expect(codesOf(await desk.post(`/${report}/dispositions/${n}/withdrawal`, { reason: 'no' }))).toEqual(['work-begun']);
      const again = await desk.closeRun(run, { pieces: 10 });
      expect(codesOf(await desk.release(again))).toEqual(expect.arrayContaining(['rework-unverified', 'made-from-held']));
      const done = await desk.carryOut(report, n, { run });
      const { opens, becomes } = done.dispositions[0]!.carriedOut!;
      expect([done.state, becomes]).toEqual(['carried-out', again]);
      expect(opens).toBe(await inspectionOf(plant, again));
      expect(codesOf(await desk.verify(report, n, old.inspection))).toEqual(['inspected-before', 'inspects-other-pieces']);
      expect(codesOf(await desk.verify(report, n, opens!))).toEqual(['inspection-undecided']);
      expect(codesOf(await desk.close(report))).toEqual(['report-in-other-state', 'not-verified']);
      await inspect(plant, again);
      expect(codesOf(await desk.release(again))).toEqual(expect.arrayContaining(['rework-unverified', 'lot-held', 'made-from-held']));
      const verified = await good(desk.verify(report, n, opens!));
      expect([verified.state, verified.dispositions[0]!.verifiedBy]).toEqual(['verified', opens]);
      expect(codesOf(await desk.verify(report, n, opens!))).toEqual(['verified-already']);
      expect([await desk.holdsOn(lot), await desk.holdsOn(again)]).toEqual([[], []]);
      expect((await desk.release(again)).status).toBe(201);
      await good(desk.ship(again, { pieces: '1-10' }));
      expect((await good(desk.close(report))).state).toBe('closed');
    });

    it('NC-10: a quantity of a bulk lot is reworked up to what was decided, and what is refused does not pass', async () => {
      const lot = await desk.wax(100);
      const report = await desk.reviewed([{ lot, quantity: '40' }]);
      const n = await desk.decided(report, { kind: 'rework', lot, adverseEffect: 'none known' });
      const run = await desk.startRework('MIX-WAX');
      await good(desk.charge(run, lot, { quantity: '90' }));
      expect(codesOf(await desk.charge(run, lot, { quantity: '10.000001' }))).toEqual(['not-enough-left', 'rework-used-up']);
      await good(
        plant
          .as('operator')
          .post(`/api/runs/${run}/returns`, { reason: 'too much', returns: [{ charge: 1, quantity: '50', location: 'FG-1' }] }),
      );
      const again = await desk.closeRun(run, { quantity: '40' });
      const done = await desk.carryOut(report, n, { run });
      expect([await desk.holdsOn(lot), await desk.holdsOn(again)]).toEqual([[], ['all']]);
      const { opens } = done.dispositions[0]!.carriedOut!;
      await step(plant, opens!, 'begin', { lotSize: 40 });
      await step(plant, opens!, 'tallies', { conforming: 0, items: [{ found: [{ defect: 'D-BURST' }] }] });
      await step(plant, opens!, 'verdict');
      expect(codesOf(await desk.verify(report, n, opens!))).toEqual(['inspection-not-accepted']);
      await good(plant.as('operator').post('/api/stock/scrap', { lot: again, quantity: '40', reason: 'not to be saved' }));
      expect((await good(desk.verify(report, n, opens!))).state).toBe('verified');
      await good(desk.close(report));
    });
  });

  describe('rework of units', () => {
    const bench = async (role: 'operator' | 'quality', path: string, body: object) =>
      good(plant.as(role).post<{ run: string; lot: string }>(path, body));

    const couldBeReleased = async (): Promise<TodayLineView[]> =>
      (await good(plant.as('quality').get<TodayView>('/api/today'))).groups.find(({ kind }) => kind === 'releases')?.lines ?? [];
    const buildPumps = async (gauges: string): Promise<string> => {
      const clearance = { confirmed: true, checkedBy: 'operator-2' };
      const build = { kind: 'building', item: 'PUMP', bom: 'BOM-PUMP', line: 'BENCH-1', clearance, label: { text: 'Track pump' } };
      const { run } = await bench('operator', '/api/runs', build);
      const charges = [
        ...['C-BARREL', 'C-FOOT', 'C-HOSE'].map((lot) => ({ lot, quantity: '3' })),
        { lot: 'C-SEAL', quantity: '6' },
        { lot: 'C-GAUGE', pieces: gauges, intoPieces: '1-3', map: 'each' },
      ];
      await bench('operator', `/api/runs/${run}/charges`, { charges });
      const { lot } = await bench('operator', `/api/runs/${run}/close`, { pieces: 3, location: 'FG-1' });
      await inspect(plant, lot);
      return lot;
    };

    it('NC-10, P-41: a unit is reworked where it is once that is decided, and what was found before counts no more', async () => {
      await planInspection(plant, 'PUMP');
      const parts = ['BARREL', 'FOOT', 'HOSE'].map((item) => ({ lot: `C-${item}`, item, quantityMicro: 20 * MICRO, at: 'RACK-1' }));
      await makeLots(plant, [
        ...parts,
        { lot: 'C-SEAL', item: 'SEAL', quantityMicro: 40 * MICRO, at: 'RACK-1' },
        { lot: 'C-GAUGE', item: 'GAUGE', pieces: 8, serials: [1, 2, 3, 4, 5, 6, 7, 8].map((n) => `G-${n}`), at: 'RACK-1' },
      ]);
      const lot = await buildPumps('1-3');
      expect((await couldBeReleased()).map(({ code }) => code)).toContain(lot);
      expect((await desk.release(lot)).status).toBe(201);

      const report = await desk.reviewed([{ lot, pieces: '2' }]);
      const rework = (await bench('operator', '/api/runs', { kind: 'rework', item: 'PUMP' })).run;
      const swap = {
        unit: { lot, piece: 2 },
        removed: { item: 'GAUGE', serial: 'G-2' },
        fitted: { item: 'GAUGE', serial: 'G-4' },
        reason: 'reads low',
      };
      const replace = () => plant.as('operator').post<Refused>(`/api/runs/${rework}/replacements`, swap);
      expect(codesOf(await replace())).toEqual(['rework-not-decided']);
      const n = await desk.decided(report, { kind: 'rework', lot, adverseEffect: 'none: the thread is used twice at most' });
      await good(replace());
      await bench('operator', `/api/runs/${rework}/close`, {});
      expect(codesOf(await desk.release(lot, { pieces: '2' }))).toEqual(['inspected-before-rework', 'rework-unverified', 'lot-held']);
      const done = await desk.carryOut(report, n, { run: rework });
      const { opens, becomes } = done.dispositions[0]!.carriedOut!;
      expect(becomes).toBeNull();
      expect(codesOf(await desk.tryCarryOut(report, n, { run: rework }))).toContain('carried-out-already');
      await inspect(plant, lot);
      expect((await good(desk.verify(report, n, opens!))).state).toBe('verified');
      expect(await desk.holdsOn(lot)).toEqual([]);
      expect((await desk.release(lot, { pieces: '2' })).status).toBe(201);
      await good(desk.ship(lot, { pieces: '1-3' }));
      expect((await good(desk.close(report))).state).toBe('closed');
    });

    it('TD-4, QD-12: what was reworked since its inspection waits for another one, and the list says so', async () => {
      const lot = await buildPumps('5-7');
      expect((await desk.release(lot)).status).toBe(201);
      const rework = (await bench('operator', '/api/runs', { kind: 'rework', item: 'PUMP' })).run;
      const [removed, fitted] = ['G-6', 'G-8'].map((serial) => ({ item: 'GAUGE', serial }));
      await good(
        plant.as('operator').post(`/api/runs/${rework}/replacements`, { unit: { lot, piece: 2 }, removed, fitted, reason: 'reads low' }),
      );
      await bench('operator', `/api/runs/${rework}/close`, {});
      expect(codesOf(await desk.release(lot, { pieces: '2' }))).toEqual(['inspected-before-rework']);
      const line = (await couldBeReleased()).find(({ code }) => code === lot)!;
      expect(line.says).toContain('; pieces 2 were reworked after their inspection and are inspected again first');
      expect(line.step).toEqual({ label: 'Ask for an inspection', place: 'inspection-of', code: lot });
      await good(plant.as('quality').post('/api/inspections', { lot, pieces: '2', reason: 'reworked' }));
      expect((await couldBeReleased()).map(({ code }) => code)).not.toContain(lot);
      await inspect(plant, lot);
      expect((await couldBeReleased()).find(({ code }) => code === lot)!.step.label).toBe('Decide on the release');
      expect((await desk.release(lot, { pieces: '2' })).status).toBe(201);
    });
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
