import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { type Answer, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { planInspection, step } from '../inspecting.js';
import { done } from '../making.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Refused {
  readonly reasons: readonly { readonly code: string; readonly instrument?: string; readonly calibration?: string }[];
}
interface Line {
  readonly inspection: string;
  readonly state: string;
}

/** Viscometers VISC-1 and VISC-2; VISC-1 is found out of tolerance after it has measured oils that wait for their release. */
describe.each(DATABASES)('release on what an instrument in question measured, on %s', (database) => {
  let plant: Plant;
  let out: string;
  const oils = { answered: '', again: '', retested: '', bySecond: '' };

  const calibrate = async (instrument: string, asFound: string, result: string): Promise<string> =>
    done(
      await plant
        .as('inspector')
        .post<{ calibration: string }>(`/api/instruments/${instrument}/calibrations`, { asFound, result, calibratedBy: 'own gauge room' }),
    ).calibration;
  const open = async (lot: string): Promise<string> => {
    const lines = done(await plant.as('auditor').get<Line[]>(`/api/inspections?lot=${lot}`));
    return lines.find((one) => one.state === 'waiting' || one.state === 'begun')!.inspection;
  };
  const measure = async (lot: string, instrument: string, more: object = {}): Promise<string> => {
    const inspection = await open(lot);
    if (!('retestOf' in more)) await step(plant, inspection, 'begin');
    await step(plant, inspection, 'results', { characteristic: 'VISC', readings: [{ value: '150' }], instrument, ...more });
    return inspection;
  };
  const accept = async (inspection: string): Promise<void> => {
    expect((await step(plant, inspection, 'verdict')).verdict).toBe('accepted');
  };
  const release = (lot: string): Promise<Answer<Refused>> =>
    plant.as('quality').post(`/api/lots/${lot}/release`, { password: PASSWORD, reason: 'record reviewed' });
  const refusedFor = async (lot: string): Promise<(string | undefined)[][]> => {
    const { status, body } = await release(lot);
    expect(status, JSON.stringify(body)).toBe(409);
    return body.reasons.map(({ code, instrument, calibration }) => [code, instrument, calibration]);
  };
  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
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
          procedure: 'WI-12 viscosity at 40 °C',
        },
      ],
    });
    for (const code of ['VISC-1', 'VISC-2']) {
      const instrument = { code, name: 'Viscometer', kind: 'viscometer', intervalDays: 90, use: 'in-use' };
      done(await plant.as('quality').post('/api/instruments', instrument));
      await calibrate(code, 'in-tolerance', 'in-tolerance');
    }
    plant.clock.set('2026-03-03T08:00:00.000Z');
    for (const name of Object.keys(oils) as (keyof typeof oils)[]) {
      oils[name] = (await receive(plant, [{ item: 'OIL-40', quantity: '100' }]))[0]!;
      const inspection = await measure(oils[name], name === 'bySecond' ? 'VISC-2' : 'VISC-1');
      if (name === 'retested') {
        await measure(oils[name], 'VISC-2', { retestOf: 1, reason: 'VISC-1 was slow to settle' });
      }
      await accept(inspection);
    }
    plant.clock.set('2026-03-10T08:00:00.000Z');
    out = await calibrate('VISC-1', 'out-of-tolerance', 'adjusted-in-tolerance');
    plant.clock.set('2026-03-11T08:00:00.000Z');
  });
  afterAll(async () => {
    await expectRebuildEqual(plant);
    await plant.stop();
  });

  it('RC-5: of one lot it can be had what was tested, when, with what result, by whom, by which procedure and with what equipment', async () => {
    const [line] = done(await plant.as('auditor').get<Line[]>(`/api/inspections?lot=${oils.answered}`));
    const view = done(await plant.as('auditor').get<{ results: object[] }>(`/api/inspections/${line!.inspection}`));
    expect(view.results).toEqual([
      expect.objectContaining({
        characteristic: 'VISC',
        value: '150',
        within: true,
        instrument: 'VISC-1',
        procedure: 'WI-12 viscosity at 40 °C',
        by: 'inspector-1',
        measuredAt: '2026-03-03T08:00:00.000Z',
      }),
    ]);
  });

  it('QD-11: nothing it measured in the time in doubt is released while the question is open; what another measured is', async () => {
    expect(await refusedFor(oils.answered)).toEqual([['test-instrument-questioned', 'VISC-1', out]]);
    expect((await release(oils.bySecond)).status).toBe(201);
  });

  it('I-14: a result that a retest with another instrument followed is not in the way', async () => {
    expect((await release(oils.retested)).status).toBe(201);
  });

  it('QD-11: an inspection since, with an instrument that is good, sets it right', async () => {
    expect(await refusedFor(oils.again)).toHaveLength(1);
    done(await plant.as('quality').post('/api/inspections', { lot: oils.again, reason: 'VISC-1 was out of tolerance' }));
    await accept(await measure(oils.again, 'VISC-1')); // adjusted since, so good again
    expect((await release(oils.again)).status).toBe(201);
  });

  it('QD-11: so does the answer, and that the calibration was recorded in error', async () => {
    const answer = { conclusion: 'no-effect', password: PASSWORD, reason: 'drift below a tenth of the limits' };
    done(await plant.as('quality').post(`/api/instruments/questions/${out}/answer`, answer));
    expect((await release(oils.answered)).status).toBe(201);
    const lot = (await receive(plant, [{ item: 'OIL-40', quantity: '50' }]))[0]!;
    await accept(await measure(lot, 'VISC-1'));
    plant.clock.set('2026-03-12T08:00:00.000Z');
    const wrong = await calibrate('VISC-1', 'out-of-tolerance', 'failed');
    expect(await refusedFor(lot)).toEqual([['test-instrument-questioned', 'VISC-1', wrong]]);
    done(await plant.as('quality').post(`/api/calibrations/${wrong}/reversal`, { reason: 'it was another viscometer' }));
    expect((await release(lot)).status).toBe(201);
  });

  it('I-9: nor is one in the way that was answered before its calibration turned out to be an error', async () => {
    const lot = (await receive(plant, [{ item: 'OIL-40', quantity: '50' }]))[0]!;
    await accept(await measure(lot, 'VISC-1'));
    done(await plant.as('quality').post(`/api/calibrations/${out}/reversal`, { reason: 'the reference was wrong' }));
    expect((await release(lot)).status).toBe(201);
  });
});
