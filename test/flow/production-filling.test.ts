import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogueFernhollow, receiveReleased, release } from '../fernhollow.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';
import { done, mixBatch, operator, post, type Raw, rawMaterials, refuse, releasedBatch, type RunBody, traced, wait } from '../making.js';
import { expectRebuildEqual } from '../rebuild.js';

const CLEARED = { confirmed: true, checkedBy: 'operator-2' };
const LABEL = { text: 'Chain wax 250 g, lot {lot}, best before {date}', code: 'LBL-WAX-3' };
const FILL = { kind: 'filling', item: 'WAX-250', bom: 'BOM-WAX-250', line: 'FILL-1', clearance: CLEARED, label: LABEL } as const;

describe.each(DATABASES)('filling on %s', (database) => {
  let plant: Plant;
  let raw: Raw;
  let batches: string[];
  let packaging: Record<'cans' | 'moreCans' | 'lids' | 'labels' | 'moreLabels', string>;
  let filled: RunBody;

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    raw = await rawMaterials(plant);
    batches = [await releasedBatch(plant, raw, 'V-1'), await releasedBatch(plant, raw, 'V-2')];
    const [cans, moreCans, lids, labels, moreLabels] = await receiveReleased(
      plant,
      [
        { item: 'CAN-250', quantity: '300' },
        { item: 'CAN-250', quantity: '1000' },
        { item: 'LID-250', quantity: '2000' },
        { item: 'LBL-250', quantity: '500' },
        { item: 'LBL-250', quantity: '500' },
      ],
      'S-PACK',
    );
    packaging = { cans: cans!, moreCans: moreCans!, lids: lids!, labels: labels!, moreLabels: moreLabels! };
  });
  afterAll(() => plant.stop());

  const onHand = async (lot: string, at: string): Promise<string | undefined> => {
    const body = done(
      await operator(plant).get<{ places: { fate: string; at: string; quantity: string; pieces: string | null }[] }>(`/api/lots/${lot}`),
    );
    return body.places.find((place) => place.fate === 'on-hand' && place.at === at)?.quantity;
  };

  it('GE-9: no filling starts without the check that the line is clear', async () => {
    const { clearance: _, ...unchecked } = FILL;
    expect(await refuse(plant, '/api/runs', unchecked)).toEqual(['not-cleared']);
    expect(await refuse(plant, '/api/runs', { ...FILL, clearance: { ...CLEARED, confirmed: false } })).toEqual(['not-cleared']);
    const { label: __, ...unlabelled } = FILL;
    expect(await refuse(plant, '/api/runs', unlabelled)).toEqual(['label-missing']);
  });

  it('ST-3: a batch that waits for its release cannot be filled', async () => {
    const { run } = await post(plant, '/api/runs', FILL);
    await operator(plant).post('/api/vessels/V-2/emptied', { location: 'RACK-1', reason: 'drummed off' });
    const waiting = (await mixBatch(plant, raw, 'V-2')).lot!;
    expect(await refuse(plant, `/api/runs/${run}/charges`, { charges: [{ lot: waiting, quantity: '10' }] })).toEqual(['lot-not-released']);
    await post(plant, `/api/runs/${run}/close`);
  });

  it('GE-10, P-21: the run keeps its label and clearance, and every changeover at its piece', async () => {
    const started = await post(plant, '/api/runs', FILL);
    expect(started).toMatchObject({ label: LABEL, clearance: { checkedBy: 'operator-2' } });
    const path = `/api/runs/${started.run}`;
    await post(plant, `${path}/charges`, {
      charges: [
        { lot: batches[0], quantity: '98' },
        { lot: batches[1], quantity: '53', fromPiece: 391 },
        { lot: packaging.cans, quantity: '300' },
        { lot: packaging.moreCans, quantity: '310', fromPiece: 301 },
        { lot: packaging.lids, quantity: '605' },
        { lot: packaging.labels, quantity: '500', fromPiece: 1 },
        { lot: packaging.moreLabels, quantity: '500' },
      ],
    });
    const changed = await post(plant, `${path}/changeovers`, { changeovers: [{ lot: packaging.moreLabels, fromPiece: 481 }] });
    expect(changed.changeovers.map(({ item, lot, fromPiece }) => [item, lot, fromPiece])).toEqual([
      ['MIX-WAX', batches[1], 391],
      ['CAN-250', packaging.moreCans, 301],
      ['LBL-250', packaging.labels, 1],
      ['LBL-250', packaging.moreLabels, 481],
    ]);
    expect(await refuse(plant, `${path}/changeovers`, { changeovers: [{ lot: packaging.moreLabels, fromPiece: 481 }] })).toEqual([
      'changeover-twice',
    ]);
    expect(await refuse(plant, `${path}/changeovers`, { changeovers: [{ lot: raw.wax, fromPiece: 5 }] })).toEqual(['not-charged']);
    expect(await refuse(plant, `${path}/charges`, { charges: [{ lot: raw.dye, quantity: '1' }] })).toEqual(['deviation-not-in-bom']);
    filled = changed;
  });

  it('P-14: unused labels go back to stock, exactly', async () => {
    const path = `/api/runs/${filled.run}`;
    const labels = filled.charges.find((charge) => charge.lot === packaging.moreLabels)!;
    expect(await refuse(plant, `${path}/returns`, { returns: [{ charge: labels.charge, quantity: '501' }], reason: 'unused' })).toEqual([
      'not-charged',
    ]);
    await post(plant, `${path}/returns`, { returns: [{ charge: labels.charge, quantity: '378', location: 'RACK-1' }], reason: 'unused' });
    expect(await onHand(packaging.moreLabels, 'RACK-1')).toBe('378');
  });

  it('P-27: what cannot be closed like that is refused with every reason', async () => {
    const path = `/api/runs/${filled.run}/close`;
    expect(await refuse(plant, path, { location: 'FG-1' })).toEqual(['yield-missing']);
    expect(await refuse(plant, path, { pieces: 700, rejected: '701', location: 'NOWHERE', lot: raw.wax })).toEqual([
      'location-unknown',
      'lot-taken',
      'component-short',
      'component-short',
      'component-short',
      'pieces-outside-lot',
      'reason-missing',
    ]);
    expect(await refuse(plant, path, { pieces: 380, location: 'FG-1' })).toEqual(['pieces-outside-lot', 'pieces-outside-lot']);
    expect(await refuse(plant, path, { quantity: '600', location: 'FG-1' })).toContain('pieces-not-quantity');
    expect(await refuse(plant, path, { pieces: 600, location: 'FG-1', serials: ['A'] })).toEqual(['no-serials-here']);
    const netWeights = { count: 601, mean: '0.25', sd: '0.5', min: '0.251', max: '0.26' };
    expect(await refuse(plant, path, { pieces: 600, location: 'FG-1', netWeights })).toEqual(['weighed-too-many', 'weights-impossible']);
  });

  it('GE-1, GE-2: closing yields a numbered lot with rejects scrapped, weights, and the mass reconciled against the batch', async () => {
    const netWeights = { count: 60, mean: '0.2505', sd: '0.0008', min: '0.2488', max: '0.2523' };
    filled = await post(plant, `/api/runs/${filled.run}/close`, {
      pieces: 600,
      location: 'FG-1',
      rejected: '17,400-401',
      rejectReason: 'under weight',
      netWeights,
    });
    expect(filled.yields).toMatchObject({ quantity: '600', unit: 'each', place: 'FG-1', expiresOn: '2028-03-01' });
    expect(filled.result!.rejected).toBe('17,400-401');
    expect(filled.result!.mass).toEqual({
      charged: '151',
      filled: '150.3',
      rejected: '0.7515',
      loss: '0.7',
      lossPercent: '0.46',
      basis: 'mean',
    });
    expect(filled.result!.components).toEqual([
      { item: 'MIX-WAX', charged: '151', needed: '150', over: '1' },
      { item: 'CAN-250', charged: '610', needed: '600', over: '10' },
      { item: 'LID-250', charged: '605', needed: '600', over: '5' },
      { item: 'LBL-250', charged: '622', needed: '600', over: '22' },
    ]);
    expect(filled.investigations).toEqual([]);
    expect(await onHand(filled.lot!, 'FG-1')).toBe('597');
  });

  it('GE-3: what went in is in exactly the cans between its changeovers, both ways', async () => {
    const cans = filled.lot!;
    expect(await traced(plant, `lot=${batches[0]}&direction=forward`)).toMatchObject({ [cans]: '1-390' });
    expect(await traced(plant, `lot=${batches[1]}&direction=forward`)).toMatchObject({ [cans]: '391-600' });
    expect(await traced(plant, `lot=${packaging.cans}&direction=forward`)).toEqual({ [cans]: '1-300' });
    expect(await traced(plant, `lot=${packaging.labels}&direction=forward`)).toEqual({ [cans]: '1-480' });
    expect(await traced(plant, `lot=${packaging.moreLabels}&direction=forward`)).toEqual({ [cans]: '481-600' });
    expect(Object.keys(await traced(plant, `lot=${cans}&pieces=350&direction=backward`)).toSorted()).toEqual(
      [batches[0]!, ...Object.values(raw), packaging.moreCans, packaging.lids, packaging.labels].toSorted(),
    );
  });

  it('P-23: two lots with no changeover recorded may each be in any can, and the record says so', async () => {
    const { run } = await post(plant, '/api/runs', FILL);
    const closing = await post(plant, `/api/runs/${run}/charges`, {
      charges: [
        { lot: batches[1], quantity: '10' },
        { lot: packaging.moreCans, quantity: '40' },
        { lot: packaging.lids, quantity: '40' },
        { lot: packaging.moreLabels, quantity: '40' },
      ],
    });
    expect(closing.state).toBe('open');
    const [others] = await receiveReleased(plant, [{ item: 'LBL-250', quantity: '5' }], 'S-PACK');
    await post(plant, `/api/runs/${run}/charges`, { charges: [{ lot: others, quantity: '5' }] });
    const closed = await post(plant, `/api/runs/${run}/close`, { pieces: 40, location: 'FG-1', finishedAt: wait(plant, 1) });
    expect(closed.result!.unsure).toEqual(['LBL-250']);
    expect(await traced(plant, `lot=${others}&direction=forward`)).toEqual({ [closed.lot!]: '1-40' });
    expect(closed.result!.mass).toMatchObject({ basis: 'nominal', loss: '0' });
  });

  it('GE-8: cans that hold more than was charged have to be explained', async () => {
    const { run } = await post(plant, '/api/runs', FILL);
    const charges = [
      { lot: batches[1], quantity: '2.5' },
      { lot: packaging.moreCans, quantity: '10' },
      { lot: packaging.lids, quantity: '10' },
      { lot: packaging.moreLabels, quantity: '10' },
    ];
    await post(plant, `/api/runs/${run}/charges`, { charges });
    const netWeights = { count: 10, mean: '0.26', sd: '0.001', min: '0.259', max: '0.261' };
    const closed = await post(plant, `/api/runs/${run}/close`, { pieces: 10, location: 'FG-1', netWeights });
    expect(closed.investigations).toMatchObject([{ what: 'mass', detail: 'the cans hold 4.00 % more than was charged' }]);
  });

  it('GE-12: cans emptied into a later batch are an input like any other, and the trace goes through them', async () => {
    await release(plant, [filled.lot!]);
    await operator(plant).post('/api/vessels/V-2/emptied', { reason: 'room' });
    await operator(plant).post('/api/vessels/V-2/cleaned', { method: 'hot rinse' });
    const { run } = await post(plant, '/api/runs', { kind: 'mixing', item: 'MIX-WAX', recipe: 'RCP-WAX', vessel: 'V-2' });
    const cans = { lot: filled.lot, pieces: '395-399,500' };
    expect(await refuse(plant, `/api/runs/${run}/charges`, { charges: [{ ...cans, pieces: '395-401' }] })).toEqual([
      'pieces-not-there',
      'deviation-not-in-recipe',
    ]);
    const charged = await post(plant, `/api/runs/${run}/charges`, { charges: [{ ...cans, deviationReason: 'dented cans reworked' }] });
    expect(charged.charges[0]).toMatchObject({ pieces: '395-399,500', quantity: '6', mass: '1.5' });
    const closed = await post(plant, `/api/runs/${run}/close`, { quantity: '1.5', deviationReason: 'rework only' });
    expect(await traced(plant, `lot=${batches[1]}&direction=forward`)).toMatchObject({ [filled.lot!]: '391-600', [closed.lot!]: 'all' });
    expect(await traced(plant, `lot=${batches[0]}&direction=forward`)).not.toHaveProperty(closed.lot!);
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
