import type { TraceAnswer } from '../../shared/api/trace.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogueFernhollow, receive, receiveReleased, release } from '../fernhollow.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';
import { done, operator, post, refuse, type RunBody, traced } from '../making.js';
import { expectRebuildEqual } from '../rebuild.js';

const CLEARED = { confirmed: true, checkedBy: 'operator-2' };
const BUILD = {
  kind: 'building',
  item: 'PUMP',
  bom: 'BOM-PUMP',
  line: 'BENCH-1',
  clearance: CLEARED,
  label: { text: 'Track pump {serial}' },
} as const;

interface BuildRecord {
  readonly asBuilt: readonly {
    readonly item: string;
    readonly lot: string;
    readonly serial: string | null;
    readonly mayStillHold: string | null;
    readonly replacedSeq: number | null;
  }[];
  readonly asIs: readonly {
    readonly item: string;
    readonly lot: string;
    readonly serial: string | null;
    readonly mayStillHold: string | null;
  }[];
  readonly replaced: readonly {
    readonly oldSerial: string | null;
    readonly newSerial: string | null;
    readonly reason: string;
    readonly oldLot: string;
  }[];
  readonly status: string;
  readonly place: string;
}

describe.each(DATABASES)('building on %s', (database) => {
  let plant: Plant;
  let lots: Record<'bar' | 'bar2' | 'foot' | 'foot2' | 'hose' | 'seal' | 'gauge' | 'gauge2', string>;
  let barrels: RunBody;
  let pumps: RunBody;

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    const gauges = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, i) => `G-${from + i}`);
    const codes = await receiveReleased(
      plant,
      [
        { item: 'BAR-6061', quantity: '6' },
        { item: 'BAR-6061', quantity: '6' },
        { item: 'FOOT', quantity: '20' },
        { item: 'FOOT', quantity: '20' },
        { item: 'HOSE', quantity: '50' },
        { item: 'SEAL', quantity: '100' },
        { item: 'GAUGE', quantity: '15', serials: gauges(101, 115) },
        { item: 'GAUGE', quantity: '10', serials: gauges(201, 210) },
      ],
      'S-METAL',
    );
    const [bar, bar2, foot, foot2, hose, seal, gauge, gauge2] = codes as [string, string, string, string, string, string, string, string];
    lots = { bar, bar2, foot, foot2, hose, seal, gauge, gauge2 };
  });
  afterAll(() => plant.stop());

  const record = async (serial: string): Promise<BuildRecord> =>
    done(await operator(plant).get<BuildRecord>(`/api/units/PUMP/${serial}/build-record`));

  it('P-35: bars are machined into barrels, with the yield the bar allows', async () => {
    expect(await refuse(plant, '/api/runs', { kind: 'machining', item: 'BARREL' })).toEqual(['line-missing']);
    const { run } = await post(plant, '/api/runs', { kind: 'machining', item: 'BARREL', bom: 'BOM-BARREL', line: 'LATHE-1' });
    expect(await refuse(plant, '/api/runs', { kind: 'machining', item: 'BARREL', line: 'LATHE-1' })).toEqual(['place-busy']);
    expect(await refuse(plant, `/api/runs/${run}/close`, { quantity: '30', location: 'RACK-1' })).toEqual([
      'component-short',
      'nothing-charged',
    ]);
    await post(plant, `/api/runs/${run}/charges`, {
      charges: [
        { lot: lots.bar, quantity: '6' },
        { lot: lots.bar2, quantity: '3.9' },
      ],
    });
    expect(await refuse(plant, `/api/runs/${run}/close`, { quantity: '30.5', location: 'RACK-1' })).toEqual(['not-whole']);
    barrels = await post(plant, `/api/runs/${run}/close`, { quantity: '31', location: 'RACK-1' });
    expect(barrels.result).toMatchObject({ yieldPercent: '93.94' });
    expect(await traced(plant, `lot=${lots.bar2}&direction=forward`)).toEqual({ [barrels.lot!]: 'all' });
    const treated = await post(plant, '/api/runs', { kind: 'treating', item: 'BARREL' });
    await release(plant, [barrels.lot!]);
    await post(plant, `/api/runs/${treated.run}/charges`, { charges: [{ lot: barrels.lot, quantity: '30' }] });
    barrels = await post(plant, `/api/runs/${treated.run}/close`, { quantity: '30', location: 'RACK-1' });
    await release(plant, [barrels.lot!]);
  });

  it('GE-5: serial-numbered gauges go one by one into units, and every unit has exactly one', async () => {
    const { run } = await post(plant, '/api/runs', BUILD);
    const path = `/api/runs/${run}`;
    await post(plant, `${path}/charges`, {
      charges: [
        { lot: barrels.lot, quantity: '25' },
        { lot: lots.foot, quantity: '20' },
        { lot: lots.foot2, quantity: '5', fromPiece: 21 },
        { lot: lots.hose, quantity: '25' },
        { lot: lots.seal, quantity: '50' },
        { lot: lots.gauge, pieces: '1-15', intoPieces: '1-15', map: 'each' },
      ],
    });
    expect(await refuse(plant, `${path}/charges`, { charges: [{ item: 'GAUGE', serials: ['G-101'], intoPieces: '16' }] })).toEqual([
      'pieces-not-there',
    ]);
    expect(await refuse(plant, `${path}/charges`, { charges: [{ item: 'GAUGE', serials: ['G-999'], intoPieces: '16-17' }] })).toEqual([
      'unequal-pieces',
      'serial-unknown',
    ]);
    expect(
      await refuse(plant, `${path}/charges`, { charges: [{ lot: lots.gauge2, pieces: '1-3', intoPieces: '16-17', map: 'each' }] }),
    ).toEqual(['unequal-pieces']);
    await post(plant, `${path}/charges`, { charges: [{ item: 'GAUGE', serials: ['G-203', 'G-202', 'G-201'], intoPieces: '16-18' }] });
    await post(plant, `${path}/charges`, { charges: [{ lot: lots.gauge2, pieces: '4-10' }] });
    expect(await refuse(plant, `${path}/close`, { pieces: 25, location: 'FG-1' })).toEqual(['not-fitted', 'unit-incomplete']);
    const fitted = [{ item: 'GAUGE', serials: ['G-204', 'G-205', 'G-206', 'G-207', 'G-208', 'G-209', 'G-210'], intoPieces: '19-25' }];
    const twice = [{ ...fitted[0]!, intoPieces: '18-24' }];
    expect(await refuse(plant, `${path}/close`, { pieces: 25, location: 'FG-1', fitted: twice })).toEqual(['unit-incomplete']);
    pumps = await post(plant, `${path}/close`, { pieces: 25, location: 'FG-1', fitted });
    expect(pumps.yields!.serials).toEqual(Array.from({ length: 25 }, (_, i) => `K-${String(i + 1).padStart(5, '0')}`));
    const units = pumps.lot!;
    expect(await traced(plant, `lot=${lots.gauge2}&pieces=2&direction=forward`)).toEqual({ [units]: '17' });
    expect(await traced(plant, `lot=${lots.gauge2}&pieces=3-5&direction=forward`)).toEqual({ [units]: '16,19-20' });
    expect(await traced(plant, `lot=${lots.foot2}&direction=forward`)).toEqual({ [units]: '21-25' });
    expect(await traced(plant, `lot=${units}&pieces=16&direction=backward`)).toMatchObject({ [lots.gauge2]: '3', [lots.bar]: 'all' });
  });

  it('P-36: serials go on from the largest in use, may be typed, and are unique within the item', async () => {
    const build = async (serials?: readonly string[]) => {
      const { run } = await post(plant, '/api/runs', BUILD);
      const [gauge] = await receiveReleased(plant, [{ item: 'GAUGE', quantity: '1', serials: [`X-${run}`] }], 'S-METAL');
      await post(plant, `/api/runs/${run}/charges`, {
        charges: [
          { lot: barrels.lot, quantity: '1' },
          { lot: lots.foot2, quantity: '1' },
          { lot: lots.hose, quantity: '1' },
          { lot: lots.seal, quantity: '2' },
          { lot: gauge, pieces: '1', intoPieces: '1', map: 'each' },
        ],
      });
      return { path: `/api/runs/${run}/close`, body: { pieces: 1, location: 'FG-1', ...(serials ? { serials } : {}) } };
    };
    const first = await build(['K-00025']);
    expect(await refuse(plant, first.path, first.body)).toEqual(['serial-taken']);
    expect(await refuse(plant, first.path, { ...first.body, serials: ['A', 'B'] })).toEqual(['serials-missing']);
    expect((await post(plant, first.path, { ...first.body, serials: ['k-00025'] })).yields!.serials).toEqual(['k-00025']);
    const second = await build();
    expect((await post(plant, second.path, second.body)).yields!.serials).toEqual(['K-00026']);
  });

  it('GE-6: a part replaced keeps both facts: what was built and what is in it now', async () => {
    await release(plant, [pumps.lot!]);
    const { run } = await post(plant, '/api/runs', { kind: 'rework', item: 'PUMP', line: 'BENCH-1' });
    const path = `/api/runs/${run}/replacements`;
    const [fresh, spare] = await receiveReleased(
      plant,
      [
        { item: 'GAUGE', quantity: '2', serials: ['G-301', 'G-302'] },
        { item: 'SEAL', quantity: '5' },
      ],
      'S-METAL',
    );
    const [waiting] = await receive(plant, [{ item: 'GAUGE', quantity: '1', serials: ['G-401'] }], 'S-METAL');
    const gauge = (serial: string) => ({ item: 'GAUGE', serial });
    const unit = { item: 'PUMP', serial: 'K-00017' };
    const swap = { unit, removed: gauge('G-202'), fitted: gauge('G-301'), reason: 'needle sticks' };
    expect(await refuse(plant, path, { ...swap, fitted: gauge('G-401') })).toEqual(['lot-not-released']);
    expect(await refuse(plant, path, { ...swap, removed: gauge('G-203') })).toEqual(['not-in-unit']);
    expect(await refuse(plant, path, { ...swap, unit: { item: 'PUMP', serial: 'K-99999' } })).toEqual(['serial-unknown']);
    expect(await refuse(plant, path, { ...swap, location: 'NOWHERE' })).toEqual(['location-unknown']);
    expect(waiting).toBeTypeOf('string');
    await post(plant, path, { ...swap, location: 'QUAR' });
    expect(await refuse(plant, path, { ...swap, fitted: gauge('G-302') })).toEqual(['not-in-unit']);
    await post(plant, path, { unit, removed: { lot: lots.seal }, fitted: { lot: spare }, reason: 'leaks' });
    expect(
      await refuse(plant, path, { unit, removed: { lot: lots.seal }, fitted: { lot: spare }, reason: 'leaks', location: 'RACK-1' }),
    ).toEqual(['part-not-kept-apart']);
    const closed = await post(plant, `/api/runs/${run}/close`);
    expect([closed.lot, closed.replacements.map((one) => [one.oldSerial, one.newSerial])]).toEqual([
      null,
      [
        ['G-202', 'G-301'],
        [null, null],
      ],
    ]);
    const seen = await record('K-00017');
    expect(seen).toMatchObject({ status: 'quarantine', place: 'on-hand FG-1' });
    const gauges = (parts: BuildRecord['asIs']) => parts.filter((part) => part.item === 'GAUGE').map((part) => part.serial);
    expect(gauges(seen.asBuilt)).toEqual(['G-202']);
    expect(gauges(seen.asIs)).toEqual(['G-301']);
    const seals = ({ asIs }: BuildRecord) => asIs.filter((part) => part.item === 'SEAL').map((part) => [part.lot, part.mayStillHold]);
    expect(seals(seen)).toEqual([
      [lots.seal, '1'],
      [spare, null],
    ]);
    expect(seen.replaced.map((one) => [one.oldLot, one.oldSerial, one.newSerial, one.reason])).toEqual([
      [lots.gauge2, 'G-202', 'G-301', 'needle sticks'],
      [lots.seal, null, null, 'leaks'],
    ]);
    expect(await traced(plant, `lot=${lots.gauge2}&pieces=2&direction=forward`)).toEqual({ [pumps.lot!]: '17' });
    expect(await traced(plant, `lot=${fresh}&pieces=1&direction=forward`)).toEqual({ [pumps.lot!]: '17' });
    expect(seals(await record('K-00016'))).toEqual([[lots.seal, null]]);
    const recalled = done(await operator(plant).get<TraceAnswer>(`/api/trace?lot=${lots.gauge2}&pieces=2`));
    expect(recalled.wasFitted).toMatchObject([
      { lot: pumps.lot, piece: 17, serial: 'K-00017', part: lots.gauge2, partPiece: 2, replacedBy: fresh },
    ]);
    expect(done(await operator(plant).get<TraceAnswer>(`/api/trace?lot=${lots.gauge2}&pieces=1`)).wasFitted).toEqual([]);
  });

  it('P-45: a bulk part is gone from a unit when as many were taken out as it had', async () => {
    const { run } = await post(plant, '/api/runs', { kind: 'rework', item: 'PUMP', line: 'BENCH-1' });
    const [spare] = await receiveReleased(plant, [{ item: 'SEAL', quantity: '5' }], 'S-METAL');
    const swap = { unit: { item: 'PUMP', serial: 'K-00016' }, removed: { lot: lots.seal }, fitted: { lot: spare }, reason: 'hardened' };
    await post(plant, `/api/runs/${run}/replacements`, swap);
    const after = await post(plant, `/api/runs/${run}/replacements`, swap);
    expect(after.replacements).toMatchObject([{ oldLot: lots.seal, oldQuantity: '1' }, { oldQuantity: '1' }]);
    const { asIs } = await record('K-00016');
    expect(asIs.filter((part) => part.item === 'SEAL').map((part) => part.lot)).toEqual([spare, spare]);
    await post(plant, `/api/runs/${run}/close`);
  });

  it('P-46, P-47: what goes in is what comes out, or what now stands in its stead, and no more comes out than there is', async () => {
    const { run } = await post(plant, '/api/runs', { kind: 'rework', item: 'PUMP', line: 'BENCH-1' });
    const path = `/api/runs/${run}/replacements`;
    const unit = { item: 'PUMP', serial: 'K-00015' };
    const one = { unit, fitted: { lot: lots.seal }, reason: 'cracked' };
    const gauge = { item: 'GAUGE', serial: 'G-115' };
    expect(await refuse(plant, path, { ...one, removed: { lot: lots.foot } })).toEqual(['other-item']);
    expect(await refuse(plant, path, { ...one, removed: gauge })).toEqual(['other-item']);
    const seals = { unit, removed: { lot: lots.seal, quantity: '3' }, fitted: { lot: lots.seal, quantity: '3' }, reason: 'hardened' };
    expect(await refuse(plant, path, seals)).toEqual(['more-than-in-unit']);
    const twoSeals = { ...seals, removed: { lot: lots.seal, quantity: '2' }, fitted: { lot: lots.seal, quantity: '1' } };
    await post(plant, path, twoSeals);
    expect(await refuse(plant, path, twoSeals)).toEqual(['more-than-in-unit']);
    const bom = done(
      await plant
        .as('administrator')
        .get<{ revision: number; lines: { item: string; perPiece: string; trackedBy: string }[] }>('/api/boms/BOM-PUMP'),
    );
    const lines = bom.lines.map((line) => (line.item === 'FOOT' ? { ...line, item: 'CAN-250' } : line));
    done(await plant.as('administrator').post('/api/boms', { ...bom, lines, reason: 'another foot' }));
    const [foot] = await receiveReleased(plant, [{ item: 'CAN-250', quantity: '3' }], 'S-METAL');
    await post(plant, path, { unit, removed: { lot: lots.foot }, fitted: { lot: foot }, reason: 'superseded' });
    const { asIs } = await record('K-00015');
    expect(asIs.filter((part) => ['FOOT', 'CAN-250'].includes(part.item)).map((part) => part.lot)).toEqual([foot]);
    await post(plant, `/api/runs/${run}/close`);
  });

  it('P-41: only units on hand are reworked, and only in a rework run', async () => {
    const { run } = await post(plant, '/api/runs', { kind: 'repacking', item: 'PUMP' });
    const swap = {
      unit: { item: 'PUMP', serial: 'K-00001' },
      removed: { item: 'GAUGE', serial: 'G-101' },
      fitted: { item: 'GAUGE', serial: 'G-302' },
      reason: 'x',
    };
    expect(await refuse(plant, `/api/runs/${run}/replacements`, swap)).toEqual(['not-rework']);
    await post(plant, `/api/runs/${run}/close`);
    expect(await refuse(plant, `/api/runs/${run}/replacements`, swap)).toEqual(['run-closed', 'not-rework']);
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
