import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { TraceAnswer } from '../../shared/api/trace.js';
import { catalogueFernhollow, receive, receiveReleased, release, reviseItem } from '../fernhollow.js';
import { DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import {
  chargeRecipe,
  done,
  mixBatch,
  operator,
  post,
  type Raw,
  rawMaterials,
  refuse,
  refused,
  type RunBody,
  traced,
  wait,
} from '../making.js';
import { expectRebuildEqual } from '../rebuild.js';

const MIX = { kind: 'mixing', item: 'MIX-WAX', recipe: 'RCP-WAX', vessel: 'V-1' } as const;

describe.each(DATABASES)('mixing on %s', (database) => {
  let plant: Plant;
  let raw: Raw;
  const batch: string[] = [];

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    raw = await rawMaterials(plant);
  });
  afterAll(() => plant.stop());

  const run = async (code: string): Promise<RunBody> => done(await operator(plant).get<RunBody>(`/api/runs/${code}`));
  const content = async (vessel: string) =>
    done(
      await operator(plant).get<{ content: { lot: string; quantity: string }[]; lastBatch: string | null }>(
        `/api/vessels/${vessel}/content`,
      ),
    );

  it('P-1: a run that lacks what its kind needs, or names what is unknown, is told everything at once', async () => {
    expect(await refuse(plant, '/api/runs', { kind: 'mixing', item: 'MIX-WAX' })).toEqual(['vessel-missing', 'recipe-missing']);
    expect(
      await refuse(plant, '/api/runs', {
        ...MIX,
        item: 'WAX-250',
        recipe: 'NO',
        vessel: 'V-9',
        startedAt: '2026-03-02T08:00:00.001Z',
        planned: '0',
      }),
    ).toEqual(['recipe-unknown', 'vessel-unknown', 'no-pieces-in-vessel', 'wrong-kind-of-item', 'not-yet', 'quantity-not-positive']);
    expect(await refuse(plant, '/api/runs', { ...MIX, item: 'WAX-BASE' })).toEqual(['made-by-other']);
    expect(refused(await plant.as('clerk').post('/api/runs', MIX))).toEqual(['role-needed']);
  });

  it('GE-1: a batch record has every input with code, description, quantity and unit, and the output with place and date', async () => {
    const started = await post(plant, '/api/runs', { ...MIX, planned: '100', people: ['operator-1', 'operator-2'] });
    expect(started.run).toBe('RUN-0001');
    expect(started.heel).toEqual([]);
    await chargeRecipe(plant, started.run, raw);
    expect((await run(started.run)).steps.map((step) => step.left)).toEqual(['0', '0', '0', '0', '0']);
    const closed = await post(plant, `/api/runs/${started.run}/close`, { quantity: '98.5' });
    batch.push(closed.lot!);
    expect(closed.charges.map(({ lot, name, quantity, unit, mass }) => [lot, name, quantity, unit, mass])).toEqual([
      [raw.wax, 'Paraffin wax base', '60', 'kg', '60'],
      [raw.oil, 'Carrier oil 40', '20', 'L', '17'],
      [raw.solvent, 'Solvent', '20', 'kg', '20'],
      [raw.dye, 'Blue dye', '0.5', 'kg', '0.5'],
      [raw.inhibitor, 'Rust inhibitor', '2.5', 'kg', '2.5'],
    ]);
    expect(closed.yields).toMatchObject({
      lot: batch[0],
      name: 'Chain wax, bulk',
      quantity: '98.5',
      unit: 'kg',
      place: 'V-1',
      finishedAt: plant.clock.now(),
      released: '0',
    });
    expect(closed.yields!.expiresOn).toBe('2026-08-29');
    expect(closed.result).toMatchObject({ yieldPercent: '98.50', deviations: [] });
    expect(await traced(plant, `lot=${raw.oil}&direction=forward`)).toEqual({ [batch[0]!]: 'all' });
  });

  it('ST-3: what was made stands in quarantine and cannot be used, and who made it cannot release it', async () => {
    const seen = await run('RUN-0001');
    expect(seen.yields!.acceptance.map(({ status }) => status)).toEqual(['quarantine']);
    const decision = { password: PASSWORD, reason: 'checked' };
    const answer = await plant.as('quality').post(`/api/lots/${batch[0]}/release`, decision);
    expect(answer.status).toBe(201);
    const released = await run('RUN-0001');
    expect(released.yields).toMatchObject({ released: '98.5' });
    expect(released.yields!.acceptance.at(-1)).toMatchObject({ status: 'released', by: 'quality-1' });
  });

  it('GE-4: what the vessel still holds is charged as heel before anything else, and links the batches', async () => {
    const started = await post(plant, '/api/runs', MIX);
    expect(started.heel).toEqual([{ lot: batch[0], item: 'MIX-WAX', quantity: '98.5', unit: 'kg' }]);
    expect(await refuse(plant, `/api/runs/${started.run}/charges`, { charges: [{ lot: raw.wax, quantity: '60' }] })).toEqual(['heel-open']);
    expect(await refuse(plant, `/api/runs/${started.run}/close`, { quantity: '1' })).toContain('heel-open');
    await post(plant, `/api/runs/${started.run}/heel`);
    await chargeRecipe(plant, started.run, raw);
    const closed = await post(plant, `/api/runs/${started.run}/close`, { quantity: '196' });
    batch.push(closed.lot!);
    expect(closed.charges[0]).toMatchObject({ lot: batch[0], quantity: '98.5', heel: true, deviations: [] });
    expect(await traced(plant, `lot=${batch[0]}&direction=forward`)).toEqual({ [batch[1]!]: 'all' });
    expect(closed.result!.yieldPercent).toBe('98.74');
  });

  it('GE-4: a hold on a batch reaches the batch its heel went into, and what an urgent release sets aside is named', async () => {
    await release(plant, [batch[1]!]);
    const signed = { password: PASSWORD, reason: 'smells of solvent' };
    const hold = done(
      await plant
        .as('quality')
        .post<{ hold: string }>('/api/holds', { ...signed, parts: [{ lot: batch[0] }], reaches: true, owner: 'quality-1' }),
    );
    const { run: code } = await post(plant, '/api/runs', { kind: 'treating', item: 'MIX-WAX' });
    const charge = { charges: [{ lot: batch[1], quantity: '1' }] };
    expect(await refuse(plant, `/api/runs/${code}/charges`, charge)).toEqual(['made-from-held']);
    const urgent = done(
      await plant.as('quality').post<{ urgentRelease: string }>('/api/urgent-releases', { ...signed, lot: batch[1], setsAside: ['held'] }),
    );
    const charged = await post(plant, `/api/runs/${code}/charges`, charge);
    expect(charged.charges[0]!.urgentReleases).toEqual([urgent.urgentRelease]);
    await post(plant, `/api/runs/${code}/returns`, { returns: [{ charge: 1 }], reason: 'only tried' });
    await post(plant, `/api/runs/${code}/close`);
    done(await plant.as('quality').post(`/api/urgent-releases/${urgent.urgentRelease}/close`, signed));
    done(await plant.as('quality').post(`/api/holds/${hold.hold}/lift`, signed));
  });

  it('GE-4: emptied but not cleaned, the batch before still clings to the next; cleaned, it no longer does', async () => {
    expect(await refuse(plant, '/api/vessels/V-1/cleaned', { method: 'hot rinse' })).toEqual(['vessel-not-empty']);
    expect(await refuse(plant, '/api/vessels/V-1/emptied', { location: 'V-2', reason: 'pumped' })).toEqual(['location-unknown']);
    await operator(plant).post('/api/vessels/V-1/emptied', { location: 'RACK-1', reason: 'drummed off' });
    expect(await content('V-1')).toMatchObject({ content: [], lastBatch: batch[1] });
    batch.push((await mixBatch(plant, raw)).lot!);
    expect(await traced(plant, `lot=${batch[1]}&direction=forward`)).toEqual({ [batch[2]!]: 'all' });
    await operator(plant).post('/api/vessels/V-1/emptied', { reason: 'spoilt' });
    await operator(plant).post('/api/vessels/V-1/cleaned', { method: 'hot rinse' });
    expect(await content('V-1')).toMatchObject({ content: [], lastBatch: null });
    batch.push((await mixBatch(plant, raw)).lot!);
    expect(await traced(plant, `lot=${batch[2]}&direction=forward`)).toEqual({});
  });

  it('GE-8: a yield outside its limits opens an item, and the item is closed by an explanation', async () => {
    const low = await mixBatch(plant, raw, 'V-2', '88');
    expect(low.investigations).toEqual([
      {
        what: 'yield',
        detail: 'the yield is 88.00 % of theory, allowed are 95.00 % to 102.00 %',
        explanation: null,
        explainedBy: null,
        explainedSeq: null,
      },
    ]);
    const waiting = done(await operator(plant).get<{ run: string }[]>('/api/runs?toExplain=true'));
    expect(waiting.map((one) => one.run)).toEqual([low.run]);
    const explained = await post(plant, `/api/runs/${low.run}/explanations`, { what: 'yield', explanation: 'spilt at the outlet valve' });
    expect(explained.investigations[0]).toMatchObject({ explanation: 'spilt at the outlet valve' });
    expect(await refuse(plant, `/api/runs/${low.run}/explanations`, { what: 'yield', explanation: 'again' })).toEqual([
      'explained-already',
    ]);
    expect(await refuse(plant, `/api/runs/${low.run}/explanations`, { what: 'mass', explanation: 'x' })).toEqual(['nothing-to-explain']);
    await operator(plant).post('/api/vessels/V-2/emptied', { reason: 'done' });
    await operator(plant).post('/api/vessels/V-2/cleaned', { method: 'hot rinse' });
  });

  it('P-9: order, tolerance and mixing time may be departed from only with a reason, which is kept', async () => {
    const { run: code } = await post(plant, '/api/runs', { ...MIX, vessel: 'V-2' });
    const charges = `/api/runs/${code}/charges`;
    expect(await refuse(plant, charges, { charges: [{ lot: raw.oil, quantity: '20' }] })).toEqual(['deviation-step-short']);
    expect(await refuse(plant, charges, { charges: [{ lot: raw.wax, quantity: '61.3' }] })).toEqual(['deviation-above-tolerance']);
    await post(plant, charges, { charges: [{ lot: raw.wax, quantity: '60' }] });
    wait(plant, 29);
    expect(await refuse(plant, charges, { charges: [{ lot: raw.oil, quantity: '20' }] })).toEqual(['deviation-mixing-time']);
    const after = await post(plant, charges, { charges: [{ lot: raw.oil, quantity: '20', deviationReason: 'already melted' }] });
    expect(after.charges[1]).toMatchObject({ deviationReason: 'already melted', deviations: [{ what: 'mixing-time' }] });
    expect(await refuse(plant, charges, { charges: [{ lot: raw.wax, quantity: '0.5' }] })).toEqual([
      'deviation-order',
      'deviation-mixing-time',
    ]);
    expect(await refuse(plant, `/api/runs/${code}/close`, { quantity: '70' })).toEqual([
      'deviation-step-short',
      'deviation-step-short',
      'deviation-step-short',
      'deviation-mixing-time',
    ]);
    const returned = await post(plant, `/api/runs/${code}/returns`, {
      returns: [{ charge: 1 }, { charge: 2, quantity: '20' }],
      reason: 'given up',
    });
    expect(returned.charges.map((charge) => charge.quantity)).toEqual(['0', '0']);
    const closed = await post(plant, `/api/runs/${code}/close`);
    expect([closed.state, closed.lot]).toEqual(['closed', null]);
  });

  it('ST-2, ST-8: what is not released, expired, held or gone is refused with every reason', async () => {
    const [quarantined] = await receive(plant, [{ item: 'WAX-BASE', quantity: '10', expiresOn: '2026-03-01' }]);
    const { run: code } = await post(plant, '/api/runs', { ...MIX, vessel: 'V-2' });
    const charge = (one: object) => refuse(plant, `/api/runs/${code}/charges`, { charges: [one] });
    expect(await charge({ lot: quarantined, quantity: '11' })).toEqual(['lot-not-released', 'lot-expired', 'not-enough-left']);
    expect(await charge({ lot: 'NONE', quantity: '1' })).toEqual(['lot-unknown']);
    expect(await charge({ lot: raw.wax.toLowerCase(), quantity: '1' })).toEqual(['lot-unknown']);
    expect(await charge({ lot: raw.wax })).toEqual(['quantity-missing']);
    expect(await charge({ lot: raw.wax, pieces: '1' })).toEqual(['no-pieces-here']);
    expect(await charge({ lot: raw.wax, quantity: '-1' })).toEqual(['quantity-not-positive']);
    expect(await charge({ lot: raw.wax, quantity: '1', unit: 'L' })).toEqual(['not-convertible']);
    expect((await operator(plant).post(`/api/runs/${code}/charges`, { charges: [{ lot: raw.wax, quantity: '0.0000001' }] })).status).toBe(
      400,
    );
    expect(await charge({ lot: raw.wax, quantity: '60', fromPiece: 3 })).toEqual(['no-pieces-made']);
    expect(await charge({ lot: raw.wax, quantity: '60', chargedAt: '2026-04-01T00:00:00.000Z' })).toEqual(['not-yet']);
    expect(await charge({ lot: raw.wax, quantity: '60', chargedAt: '2026-03-01T00:00:00.000Z' })).toEqual([
      'before-start',
      'used-before-made',
    ]);
    const all = await refuse(plant, `/api/runs/${code}/charges`, {
      charges: [
        { lot: raw.wax, quantity: '60' },
        { lot: 'NONE', quantity: '1' },
      ],
    });
    expect(all).toEqual(['lot-unknown']);
    expect((await run(code)).charges).toEqual([]);
    await post(plant, `/api/runs/${code}/close`);
  });

  it('GE-11: nothing is charged before it was there, nor made before its inputs', async () => {
    const startedAt = plant.clock.now();
    wait(plant, 60);
    const [late] = await receiveReleased(plant, [{ item: 'WAX-BASE', quantity: '60' }]);
    const { run: code } = await post(plant, '/api/runs', { ...MIX, vessel: 'V-2', startedAt });
    const early = { lot: late, quantity: '60', chargedAt: startedAt };
    expect(await refuse(plant, `/api/runs/${code}/charges`, { charges: [early] })).toEqual(['used-before-made']);
    await post(plant, `/api/runs/${code}/charges`, { charges: [{ lot: raw.wax, quantity: '60', chargedAt: wait(plant, -30) }] });
    wait(plant, 30);
    expect(await refuse(plant, `/api/runs/${code}/close`, { quantity: '60', finishedAt: startedAt, deviationReason: 'x' })).toEqual([
      'made-before-inputs',
    ]);
    await post(plant, `/api/runs/${code}/returns`, { returns: [{ charge: 1 }], reason: 'given up' });
    await post(plant, `/api/runs/${code}/close`);
  });

  it('GE-13: a quantity given in kilograms of what is kept in litres keeps its factor, whatever the density becomes later', async () => {
    const { run: code } = await post(plant, '/api/runs', { ...MIX, vessel: 'V-2' });
    await post(plant, `/api/runs/${code}/charges`, { charges: [{ lot: raw.wax, quantity: '60' }] });
    wait(plant, 30);
    const conversion = { given: '17', givenUnit: 'kg', density: '0.85' };
    const charged = await post(plant, `/api/runs/${code}/charges`, { charges: [{ lot: raw.oil, quantity: '17', unit: 'kg' }] });
    expect(charged.charges[1]).toMatchObject({ quantity: '20', unit: 'L', mass: '17', conversion });
    await reviseItem(plant, 'OIL-40', 2, { densityMicro: 900_000 });
    expect((await run(code)).charges[1]).toMatchObject({ quantity: '20', mass: '17', conversion });
    await post(plant, `/api/runs/${code}/returns`, { returns: [{ charge: 1 }, { charge: 2 }], reason: 'given up' });
    await post(plant, `/api/runs/${code}/close`);
  });

  it('P-13: two people charging the last kilogram at once: one of them gets it', async () => {
    const [last] = await receiveReleased(plant, [{ item: 'WAX-BASE', quantity: '60' }]);
    const { run: code } = await post(plant, '/api/runs', { ...MIX, vessel: 'V-2' });
    const charge = (which: 1 | 2) =>
      plant.as('operator', which).post(`/api/runs/${code}/charges`, { charges: [{ lot: last, quantity: '60', deviationReason: 'rush' }] });
    const answers = await Promise.all([charge(1), charge(2)]);
    expect(answers.map((answer) => answer.status).toSorted((a, b) => a - b)).toEqual([201, 409]);
    expect(refused(answers.find((answer) => answer.status === 409)!)).toEqual(['not-enough-left']);
    expect((await run(code)).charges).toHaveLength(1);
    await post(plant, `/api/runs/${code}/returns`, { returns: [{ charge: 1 }], reason: 'given up' });
    await post(plant, `/api/runs/${code}/close`);
  });

  it('P-28: a batch goes on in a second vessel, and both vessels keep it', async () => {
    const started = await post(plant, '/api/runs', { ...MIX, vessel: 'V-2' });
    await chargeRecipe(plant, started.run, raw);
    const trace = async (query: string) => done(await operator(plant).get<TraceAnswer>(`/api/trace?${query}`));
    expect((await trace(`lot=${raw.wax}`)).inProcess).toMatchObject([
      { run: started.run, kind: 'mixing', place: 'V-2', took: [{ lot: raw.wax }] },
    ]);
    expect(await refuse(plant, `/api/runs/${started.run}/transfers`, { to: 'V-1' })).toEqual(['vessel-not-empty']);
    await operator(plant).post('/api/vessels/V-1/emptied', { reason: 'room' });
    await post(plant, `/api/runs/${started.run}/transfers`, { to: 'V-1' });
    expect(await content('V-2')).toMatchObject({ openRun: null, leftBy: started.run });
    expect(await content('V-1')).toMatchObject({ openRun: started.run, leftBy: null });
    expect(await refuse(plant, '/api/runs', { ...MIX, vessel: 'V-2' })).toEqual(['vessel-not-cleaned']);
    expect(await refuse(plant, '/api/runs', { ...MIX, vessel: 'V-1' })).toEqual(['place-busy']);
    const closed = await post(plant, `/api/runs/${started.run}/close`, { quantity: '99' });
    expect(closed.yields!.place).toBe('V-1');
    expect(await traced(plant, `lot=${batch[3]}&direction=forward`)).toEqual({ [closed.lot!]: 'all' });
    expect(await content('V-2')).toMatchObject({ content: [], lastBatch: closed.lot, leftBy: null });
    expect((await trace(`lot=${raw.wax}`)).inProcess).toEqual([]);
    for (const vessel of ['V-1', 'V-2']) expect((await trace(`vessel=${vessel}`)).origin).toContainEqual({ lot: closed.lot, spans: null });
    expect((await trace('vessel=V-1')).origin.map(({ lot }) => lot)).not.toContain(batch[1]); // made before the last cleaning
    await release(plant, [closed.lot!]);
    const pumped = done(
      await operator(plant).post<{ content: object[] }>('/api/vessels/V-1/transfers', { lot: closed.lot, quantity: '40', to: 'V-2' }),
    );
    expect(pumped.content).toEqual([{ lot: closed.lot, item: 'MIX-WAX', name: 'Chain wax, bulk', quantity: '40', unit: 'kg' }]);
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
