import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Desk, LETTER, codesOf, good, startDesk } from '../disposing.js';
import { receiveReleased } from '../fernhollow.js';
import { DATABASES, type Plant } from '../harness.js';
import { inspect } from '../inspecting.js';
import { expectRebuildEqual } from '../rebuild.js';

describe.each(DATABASES)('dispositions carried out on %s', (database) => {
  let plant: Plant;
  let desk: Desk;
  beforeAll(async () => {
    ({ plant, desk } = await startDesk(database));
  });
  afterAll(() => plant.stop());

  describe('carrying out', () => {
    it('NR-30: scrap names its document, and goods at a customer are scrapped there', async () => {
      const lot = await desk.cans(10);
      await good(desk.ship(lot, { pieces: '1-4' }));
      const report = await desk.reviewed([{ lot }]);
      const n = await desk.decided(report, { kind: 'scrap', lot });
      expect(codesOf(await desk.tryCarryOut(report, n, { run: 'RUN-1', sorted: {} }))).toEqual([
        'document-missing',
        'not-of-this-kind',
        'not-of-this-kind',
      ]);
      const done = await desk.carryOut(report, n, { document: 'WS-0012' });
      expect([done.state, done.accounts[0]!.carriedOut]).toEqual(['verified', '10']);
      expect(codesOf(await desk.tryCarryOut(report, n, { document: 'WS-0012' }))).toContain('carried-out-already');
      const closed = await good(desk.close(report));
      expect(closed.state).toBe('closed');
      expect(await desk.holdsOn(lot)).toEqual([]);
      expect(codesOf(await desk.ship(lot, { pieces: '5' }))).toEqual(['pieces-not-there']);
    });

    it('NR-30: goes back to the supplier it came from', async () => {
      const [lot] = await receiveReleased(plant, [{ item: 'HOSE', quantity: '50' }], 'S-METAL');
      const report = await desk.reviewed([{ lot: lot!, quantity: '20' }]);
      const n = await desk.decided(report, { kind: 'return-to-supplier', lot });
      expect(codesOf(await desk.tryCarryOut(report, n))).toEqual(['document-missing']);
      await desk.carryOut(report, n, { document: 'RN-77' });
      expect(await desk.holdsOn(lot!)).toEqual([]);
      expect((await good(desk.close(report))).state).toBe('closed');
      expect(codesOf(await desk.ship(lot!, { quantity: '31' }, 'DOCK'))).toEqual(['not-enough-left']);
      await good(desk.ship(lot!, { quantity: '30' }, 'DOCK'));
    });

    it('NR-30: regrade makes a lot of the other item and keeps the genealogy', async () => {
      const lot = await desk.cans(10);
      const report = await desk.reviewed([{ lot, pieces: '2-3,7-9' }]);
      const n = await desk.decided(report, { kind: 'regrade', lot, regradeTo: 'WAX-2ND' });
      const done = await desk.carryOut(report, n);
      const { becomes } = done.dispositions[0]!.carriedOut!;
      const trace = await good(
        plant.as('auditor').get<{ lots: { lot: string; spans: number[][] }[] }>(`/api/trace?lot=${lot}&pieces=7-8&direction=forward`),
      );
      expect(trace.lots.filter((one) => one.lot === becomes)).toMatchObject([{ spans: [[3, 4]] }]);
      for (const of of [lot, becomes!]) await good(plant.as('auditor').get(`/api/lots/${of}`));
      expect(codesOf(await desk.release(becomes!))).toEqual(['made-from-held']);
      expect((await good(desk.close(report))).state).toBe('closed');
      expect((await desk.release(becomes!)).status).toBe(201);
      await good(desk.ship(becomes!, { pieces: '1-5' }));
      await good(desk.ship(lot, { pieces: '1,4-6,10' }));
    });

    it('NR-32: sorting splits its part; what conforms is let go, the rest waits for another disposition', async () => {
      const lot = await desk.cans(20);
      const report = await desk.reviewed([{ lot }]);
      const n = await desk.decided(report, { kind: 'sort', lot });
      const sorted = (conforming: string, nonconforming: string) => ({
        sorted: { conforming: { pieces: conforming }, nonconforming: { pieces: nonconforming } },
      });
      expect(codesOf(await desk.tryCarryOut(report, n))).toEqual(['sorting-missing']);
      expect(codesOf(await desk.tryCarryOut(report, n, sorted('1-12', '12-19,21')))).toEqual([
        'sorted-not-whole',
        'sorted-not-whole',
        'sorted-not-whole',
      ]);
      const done = await desk.carryOut(report, n, sorted('1-17,20', '18-19'));
      expect([done.state, done.accounts[0]!.openPieces]).toEqual(['reviewed', '18-19']);
      expect(await desk.holdsOn(lot)).toEqual(['18-19']);
      await good(desk.ship(lot, { pieces: '1-17,20' }));
      expect(codesOf(await desk.ship(lot, { pieces: '18' }))).toEqual(['lot-held']);
      const rest = await desk.decided(report, { kind: 'scrap', lot });
      expect((await desk.carryOut(report, rest, { document: 'WS-0013' })).state).toBe('verified');
      expect((await good(desk.close(report))).state).toBe('closed');
    });

    it('NR-34: a quantity of a bulk lot is let go, and what was made from the lot stays stopped', async () => {
      const lot = await desk.wax(100);
      const run = await desk.startRework();
      await good(desk.charge(run, lot, { quantity: '10' }));
      const child = await desk.closeRun(run, { pieces: 40 });
      const report = await desk.reviewed([{ lot }]);
      expect(await desk.holdsOn(lot)).toEqual(['all']);
      const n = await desk.decided(report, { kind: 'sort', lot });
      await desk.carryOut(report, n, { sorted: { conforming: { quantity: '70' }, nonconforming: { quantity: '20' } } });
      expect(await desk.holdsOn(lot)).toEqual(['20']);
      expect(await desk.holdsOn(child)).toEqual(['1-40']);
      expect(codesOf(await desk.ship(lot, { quantity: '70.000001' }))).toEqual(['not-enough-left']);
      await good(desk.ship(lot, { quantity: '70' }));
      const rest = await desk.decided(report, { kind: 'scrap', lot, quantity: '20' });
      await desk.carryOut(report, rest, { document: 'WS-0014' });
      expect(await desk.holdsOn(lot)).toEqual([]);
      await good(desk.close(report));
      expect(await desk.holdsOn(child)).toEqual([]);
    });
  });

  describe('concessions', () => {
    it('NC-9: covers its pieces until its last day, although held and not released, and no others', async () => {
      const lot = await desk.cans(20, 'quarantine');
      const report = await desk.reviewed([{ lot, pieces: '1-15' }]);
      const n = await desk.decided(report, { kind: 'concession', lot, pieces: '1-10', concession: LETTER });
      const scrap = await desk.decided(report, { kind: 'scrap', lot, pieces: '11-15' });
      expect(codesOf(await desk.ship(lot, { pieces: '1-2' }))).toEqual(['lot-not-released', 'lot-held']);
      const inForce = await desk.carryOut(report, n);
      expect(inForce.dispositions[0]!.concession!.left).toBe('10');
      await good(desk.ship(lot, { pieces: '1-2' }));
      expect(codesOf(await desk.ship(lot, { pieces: '10-11' }))).toEqual(['lot-not-released', 'lot-held']);
      expect((await desk.view(report)).dispositions[0]!.concession!.left).toBe('8');
      await desk.carryOut(report, scrap, { document: 'WS-0015' });
      await good(desk.close(report));
      expect(await desk.holdsOn(lot)).toEqual(['1-10']);
      await good(desk.ship(lot, { pieces: '3' }));
      const now = plant.clock.now();
      plant.clock.set('2027-01-01T08:00:00.000Z');
      expect(codesOf(await desk.ship(lot, { pieces: '4' }))).toEqual(['lot-not-released', 'lot-held', 'concession-expired']);
      plant.clock.set(now);
    });

    it('NC-9: of a bulk lot is used up as it is charged and shipped, and stops at its limit', async () => {
      const lot = await desk.wax(100, 'quarantine');
      const report = await desk.reviewed([{ lot }]);
      const n = await desk.decided(report, { kind: 'concession', lot, quantity: '30', concession: LETTER });
      const scrap = await desk.decided(report, { kind: 'scrap', lot, quantity: '70' });
      await desk.carryOut(report, n);
      await desk.carryOut(report, scrap, { document: 'WS-0016' });
      await good(desk.ship(lot, { quantity: '12.5' }));
      const run = await desk.startRework();
      await good(desk.charge(run, lot, { quantity: '10' }));
      expect((await desk.view(report)).dispositions[0]!.concession!.left).toBe('7.5');
      expect(codesOf(await desk.ship(lot, { quantity: '7.500001' }))).toEqual([
        'lot-not-released',
        'not-enough-left',
        'concession-used-up',
      ]);
      await good(desk.ship(lot, { quantity: '7.5' }));
      expect(codesOf(await desk.ship(lot, { quantity: '0.000001' }))).toContain('concession-used-up');
    });

    it('NC-9: of a quantity beside good material counts only what could not have gone without it', async () => {
      const lot = await desk.wax(100);
      const report = await desk.reviewed([{ lot, quantity: '20' }]);
      const n = await desk.decided(report, { kind: 'concession', lot, quantity: '20', concession: LETTER });
      expect(codesOf(await desk.ship(lot, { quantity: '81' }))).toEqual(['not-enough-left']);
      await desk.carryOut(report, n);
      await good(desk.ship(lot, { quantity: '60' }));
      expect((await desk.view(report)).dispositions[0]!.concession!.left).toBe('20');
      await good(desk.ship(lot, { quantity: '25' }));
      expect((await desk.view(report)).dispositions[0]!.concession!.left).toBe('15');
      await good(desk.close(report));
      await good(desk.ship(lot, { quantity: '15' }));
    });

    it('NR-33: what is made from pieces under a concession may go', async () => {
      const lot = await desk.cans(10);
      const report = await desk.reviewed([{ lot }]);
      const n = await desk.decided(report, { kind: 'concession', lot, concession: LETTER });
      await desk.carryOut(report, n);
      const run = await desk.startRework();
      await good(desk.charge(run, lot, { pieces: '1-10' }));
      const repacked = await desk.closeRun(run, { pieces: 10 });
      await inspect(plant, repacked);
      expect((await desk.release(repacked)).status).toBe(201);
      await good(desk.ship(repacked, { pieces: '1-10' }));
    });
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
