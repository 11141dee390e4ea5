import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { type Answer, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { inspectionOf, listDefects, planInspection, step } from '../inspecting.js';
import { linkLots, makeLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';
import { pdf, sendFile } from '../send-file.js';

interface Refused {
  readonly reasons: readonly { readonly code: string; readonly detail: string; readonly pointer?: string }[];
}
const codes = (answer: Answer<Refused>): string[] =>
  answer.body.reasons.map(({ code, pointer }) => (pointer === undefined ? code : `${code} ${pointer}`));

interface Card {
  readonly code: string;
  readonly usable: boolean;
  readonly why: { readonly code: string } | null;
  readonly dueOn: string | null;
  readonly lastCalibration: string | null;
  readonly openQuestions: readonly string[];
  readonly calibrations: readonly { readonly calibration: string; readonly voided: { readonly by: string } | null }[];
  readonly questions: readonly Question[];
}
interface Question {
  readonly calibration: string;
  readonly instrument: string;
  readonly state: string;
  readonly time: { readonly from: string | null; readonly to: string | null };
  readonly results: number;
  readonly lots: number;
  readonly answeredBy: string | null;
}
interface Judged {
  readonly calibration: { readonly calibration: string };
  readonly question: Question | null;
  readonly time: { readonly since: string | null; readonly until: string | null };
  readonly results: readonly { readonly lot: string; readonly value: string; readonly takenBack: boolean }[];
  readonly lots: readonly { readonly lot: string; readonly inspections: readonly { readonly pieces: string | null }[] }[];
  readonly trace: Trace | null;
}
interface Trace {
  readonly origin: readonly { readonly lot: string }[];
  readonly lots: readonly { readonly lot: string; readonly affectedPieces: number | null }[];
  readonly consignees: readonly { readonly customer: string; readonly affectedPieces: number }[];
  readonly whereabouts: readonly { readonly lot: string; readonly fate: string; readonly at: string; readonly quantity: string }[];
}

const inOrder = (...lots: string[]): string[] => lots.toSorted((a, b) => (a < b ? -1 : 1));

const GOOD = { asFound: 'in-tolerance', result: 'in-tolerance', calibratedBy: 'Invented Metrology' };
const OUT = { ...GOOD, asFound: 'out-of-tolerance', result: 'adjusted-in-tolerance' };

describe.each(DATABASES)('instruments on %s', (database) => {
  let plant: Plant;
  const register = (code: string, more: object = {}) =>
    plant
      .as('quality')
      .post<Refused>('/api/instruments', { code, name: 'Viscometer', kind: 'viscometer', intervalDays: 90, use: 'in-use', ...more });
  const calibrate = (code: string, body: object) => plant.as('inspector').post<Refused>(`/api/instruments/${code}/calibrations`, body);
  const calibrated = async (code: string, body: object): Promise<string> => {
    const answer = await calibrate(code, body);
    expect(answer.status, JSON.stringify(answer.body)).toBe(201);
    return (answer.body as unknown as { calibration: string }).calibration;
  };
  const read = async <Body>(path: string): Promise<Body> => {
    const { status, body } = await plant.as('auditor').get<Body>(path);
    expect(status, JSON.stringify(body)).toBe(200);
    return body;
  };
  const card = (code: string): Promise<Card> => read<Card>(`/api/instruments/${code}`);
  const viscosity = (inspection: string, instrument: string, value = '150', more: object = {}) =>
    plant
      .as('inspector')
      .post<Refused>(`/api/inspections/${inspection}/results`, { characteristic: 'VISC', readings: [{ value }], instrument, ...more });
  /** An oil that waits to be measured, its inspection begun. */
  const oil = async (): Promise<{ lot: string; inspection: string }> => {
    const [lot] = (await receive(plant, [{ item: 'OIL-40', quantity: '100' }])) as [string];
    const inspection = await inspectionOf(plant, lot);
    await step(plant, inspection, 'begin');
    return { lot, inspection };
  };

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
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
  });
  afterAll(async () => {
    await expectRebuildEqual(plant);
    await plant.stop();
  });

  it('is registered, revised and withdrawn by revisions (I-1), and listed by what is due (I-2)', async () => {
    expect(codes(await register('BAD', { intervalDays: 0, use: 'lent', kind: '' }))).toHaveLength(3);
    for (const code of ['V-LATE', 'V-NONE', 'V-OLD', 'V-SOON']) expect((await register(code)).status).toBe(201);
    await calibrated('V-LATE', { ...GOOD, calibratedAt: '2026-02-20T09:00:00Z' });
    await calibrated('V-SOON', { ...GOOD, calibratedAt: '2026-02-20T09:00:00Z', dueOn: '2026-03-10' });
    const withdrawn = await register('V-OLD', { use: 'withdrawn', revision: 1, reason: 'dropped' });
    expect(withdrawn.body).toMatchObject({ revision: 2, use: 'withdrawn' });
    const list = await read<Card[]>('/api/instruments');
    expect(list.map(({ code, usable, why, dueOn }) => [code, usable, why?.code ?? null, dueOn])).toEqual([
      ['V-NONE', false, 'instrument-not-calibrated', null],
      ['V-SOON', true, null, '2026-03-10'],
      ['V-LATE', true, null, '2026-05-21'],
      ['V-OLD', false, 'instrument-withdrawn', null],
    ]);
    expect(await read<object[]>('/api/instruments/V-OLD/history')).toMatchObject([{ revision: 1 }, { revision: 2, reason: 'dropped' }]);
    expect((await plant.as('auditor').get<Refused>('/api/instruments/NONE')).status).toBe(404);
  });

  it('a calibration is refused with every reason at once (I-4 to I-7)', async () => {
    await register('V-BAD');
    const readings = [
      { nominal: '100', found: '100.5', tolerance: '0.5' },
      { nominal: '100', found: '100.500001', tolerance: '0.5' },
    ];
    const wrong = { ...GOOD, calibratedAt: '2026-03-03T08:00:00Z', dueOn: '2026-09-01', certificateFile: 'a'.repeat(64), readings };
    expect(codes(await calibrate('V-BAD', wrong))).toEqual([
      'not-yet /calibratedAt',
      'reading-outside /readings/1',
      'due-too-late /dueOn',
      'file-unknown /certificateFile',
    ]);
    expect(codes(await calibrate('V-BAD', { ...OUT, result: 'in-tolerance' }))).toEqual(['not-adjusted /result']);
    expect((await calibrate('NONE', GOOD)).status).toBe(404);
    expect((await calibrate('V-BAD', { asFound: 'fine', calibratedBy: '', certificateFile: 'x' })).status).toBe(400);
    expect((await plant.as('clerk').post('/api/instruments/V-BAD/calibrations', GOOD)).status).toBe(403);
    const first = await calibrated('V-BAD', GOOD);
    const again = await calibrate('V-BAD', GOOD);
    expect([again.status, codes(again)]).toEqual([409, ['calibration-recorded /calibratedAt']]);
    expect(again.body.reasons[0]!.detail).toContain(first);
  });

  it('keeps its certificate and its readings, each with its pass', async () => {
    await register('V-CERT');
    const { body: file } = await sendFile(plant, 'certificate.pdf', pdf('V-CERT'));
    const readings = [{ nominal: '-5', found: '-5.25', tolerance: '0.25' }];
    const code = await calibrated('V-CERT', { ...GOOD, certificateFile: file.sha256, note: 'at 20 °C', readings });
    expect(await read(`/api/calibrations/${code}`)).toMatchObject({
      instrument: 'V-CERT',
      certificateFile: file.sha256,
      note: 'at 20 °C',
      recordedBy: 'inspector-1',
      readings: [{ nominal: '-5', found: '-5.25', tolerance: '0.25', difference: '-0.25', pass: true }],
      voided: null,
    });
    expect((await plant.as('auditor').get('/api/calibrations/CAL-9999')).status).toBe(404);
  });

  it('blocks results when it is unknown, not calibrated, overdue, failed or withdrawn, as it was when measured (I-3, I-6)', async () => {
    plant.clock.set('2026-03-02T09:00:00.000Z');
    const { inspection } = await oil();
    expect(codes(await viscosity(inspection, 'V-NONE'))).toEqual(['instrument-not-calibrated /instrument']);
    expect(codes(await viscosity(inspection, 'V-OLD'))).toEqual(['instrument-withdrawn /instrument']);
    expect((await viscosity(inspection, 'V-NOBODY')).status).toBe(404);
    plant.clock.set('2026-03-11T00:00:00.000Z');
    expect(codes(await viscosity(inspection, 'V-SOON'))).toEqual(['calibration-overdue /instrument']);
    await calibrated('V-LATE', { ...OUT, result: 'failed' });
    expect(codes(await viscosity(inspection, 'V-LATE'))).toEqual(['calibration-failed /instrument']);
    expect(await card('V-LATE')).toMatchObject({ usable: false, dueOn: null, why: { code: 'calibration-failed' } });
    expect((await viscosity(inspection, 'V-SOON', '150', { measuredAt: '2026-03-10T23:00:00Z' })).status).toBe(201);
  });

  describe('found out of tolerance', () => {
    const lots: Record<string, string> = {};
    let out: string;
    const judged = (query = ''): Promise<Judged> => read<Judged>(`/api/instruments/V-1/judged${query}`);

    beforeAll(async () => {
      plant.clock.set('2026-04-01T08:00:00.000Z');
      await register('V-1');
      await calibrated('V-1', { ...GOOD, calibratedAt: '2026-03-20T08:00:00Z' });
      for (const name of ['late', 'used', 'kept', 'after']) {
        const { lot, inspection } = await oil();
        lots[name] = lot;
        if (name === 'late') continue;
        plant.clock.set(name === 'after' ? '2026-04-20T08:00:00.000Z' : '2026-04-01T10:00:00.000Z');
        if (name === 'after') {
          out = await calibrated('V-1', {
            ...OUT,
            calibratedAt: '2026-04-19T08:00:00Z',
            readings: [{ nominal: '100', found: '103', tolerance: '1' }],
          });
        }
        expect((await viscosity(inspection, 'V-1', name === 'kept' ? '90' : '150')).status).toBe(201);
      }
      await makeLots(plant, [
        { lot: 'B-J', item: 'MIX-WAX', quantityMicro: 40_000_000, unit: 'kg', at: 'V-2' },
        { lot: 'F-J', item: 'WAX-250', pieces: 200 },
      ]);
      await linkLots(plant, 'RUN-J', [{ from: lots['used']!, to: 'B-J' }]);
      await linkLots(plant, 'RUN-K', [{ from: 'B-J', to: 'F-J', toSpan: [101, 200] }]);
      const line = { lot: 'F-J', pieces: '91-130' };
      const shipment = { customer: 'C-001', documentType: 'dispatch note', document: 'N-J', location: 'FG-1', lines: [line] };
      expect((await plant.as('dispatcher').post('/api/shipments', shipment)).status).toBe(201);
    });

    it('opens a question that is listed until it is answered (I-11)', async () => {
      const open = await read<Question[]>('/api/instruments/questions');
      expect(open.map(({ instrument, results, lots: n }) => [instrument, results, n])).toEqual([
        ['V-LATE', 0, 0],
        ['V-1', 2, 2],
      ]);
      expect(await card('V-1')).toMatchObject({ usable: true, lastCalibration: out, openQuestions: [out], dueOn: '2026-07-18' });
    });

    it('one call answers what it judged since it was last known good: results, lots, all made from them and where that is (I-10, I-13)', async () => {
      const answer = await judged();
      expect(answer.calibration.calibration).toBe(out);
      expect(answer.question).toMatchObject({ state: 'open', results: 2, lots: 2 });
      expect(answer.time).toMatchObject({ from: '2026-03-20T08:00:00.000Z', to: '2026-04-19T08:00:00.000Z', until: out });
      expect(answer.results.map(({ lot, value }) => [lot, value])).toEqual([
        [lots['used'], '150'],
        [lots['kept'], '90'],
      ]);
      expect(answer.lots.map(({ lot }) => lot)).toEqual(inOrder(lots['used']!, lots['kept']!));
      const { trace } = answer;
      expect(trace!.origin.map(({ lot }) => lot)).toEqual(inOrder(lots['used']!, lots['kept']!));
      expect(trace!.lots.map(({ lot, affectedPieces }) => [lot, affectedPieces])).toEqual([
        ['B-J', null],
        ['F-J', 100],
      ]);
      expect(trace!.consignees.map(({ customer, affectedPieces }) => [customer, affectedPieces])).toEqual([['C-001', 30]]);
      const where = trace!.whereabouts.map(({ lot, fate, quantity }) => [lot, fate, quantity]);
      expect(where).toContainEqual(['F-J', 'dispatched', '30']);
      expect(where).toContainEqual(['F-J', 'on-hand', '70']);
      expect(where).toContainEqual(['B-J', 'on-hand', '40']);
      expect(where).toContainEqual([lots['kept'], 'on-hand', '100']);
    });

    it('is an origin of a trace, in that time or in one that is named, as known at an entry (T-14)', async () => {
      const traced = (query: string) => plant.as('auditor').get<Trace & Refused>(`/api/trace?instrument=V-1${query}`);
      const origins = async (query: string) => (await traced(query)).body.origin.map(({ lot }) => lot);
      expect(await origins('')).toEqual(inOrder(lots['used']!, lots['kept']!));
      expect(await origins('&from=2026-04-19T09:00:00Z')).toEqual([lots['after']]);
      expect(await origins('&from=2026-01-01T00:00:00Z&to=2026-12-31T00:00:00Z')).toHaveLength(3);
      const nothing = await traced('&to=2026-03-01T00:00:00Z');
      expect([nothing.status, codes(nothing)]).toEqual([404, ['nothing-judged']]);
      const { body: calibration } = await plant.as('auditor').get<{ seq: number }>(`/api/calibrations/${out}`);
      expect(await origins(`&asKnownAt=${calibration.seq - 1}`)).toEqual(inOrder(lots['used']!, lots['kept']!));
      const unknown = await plant.as('auditor').get<Refused>('/api/trace?instrument=NONE');
      expect([unknown.status, codes(unknown)]).toEqual([404, ['nothing-judged']]);
    });

    it('is answered once, by a signed decision of quality with its reason (I-12)', async () => {
      const answer = (body: object) => plant.as('quality').post<Question & Refused>(`/api/instruments/questions/${out}/answer`, body);
      const signed = { conclusion: 'contained', password: PASSWORD, reason: 'both oils measured again' };
      expect((await plant.as('inspector').post(`/api/instruments/questions/${out}/answer`, signed)).status).toBe(403);
      expect(codes(await answer({ ...signed, password: 'not the password at all' }))).toEqual(['signature-refused /password']);
      expect((await answer({ ...signed, conclusion: 'perhaps' })).status).toBe(400);
      expect((await answer(signed)).body).toMatchObject({ state: 'answered', answeredBy: 'quality-1', conclusion: 'contained' });
      expect(codes(await answer(signed))).toEqual(['answered-before']);
      const none = await plant.as('quality').post<Refused>('/api/instruments/questions/CAL-9999/answer', signed);
      expect([none.status, codes(none)]).toEqual([404, ['question-unknown']]);
      expect((await read<Question[]>('/api/instruments/questions')).map((one) => one.instrument)).toEqual(['V-LATE']);
      expect((await card('V-1')).openQuestions).toEqual([]);
    });

    it('waits for another answer when a result is recorded late that was taken in that time (I-11, I-12)', async () => {
      const inspection = await inspectionOf(plant, lots['late']!);
      expect((await viscosity(inspection, 'V-1', '151', { measuredAt: '2026-04-02T08:00:00Z' })).status).toBe(201);
      const grown = (await judged()).question;
      expect(grown).toMatchObject({ state: 'grown', results: 3, lots: 3, answeredResults: 2, unseen: 1 });
      expect((await read<Question[]>('/api/instruments/questions')).map((one) => one.instrument)).toEqual(['V-LATE', 'V-1']);
      expect((await card('V-1')).openQuestions).toEqual([out]);
      await step(plant, inspection, 'verdict');
      const release = (which: 1 | 2) =>
        plant.as('quality', which).post<Refused>(`/api/lots/${lots['late']}/release`, { password: PASSWORD, reason: 'as the test says' });
      expect(codes(await release(1))).toEqual(['test-instrument-questioned']);
      const again = { conclusion: 'no-effect', password: PASSWORD, reason: 'the third too' };
      const { body } = await plant.as('quality', 2).post<Question>(`/api/instruments/questions/${out}/answer`, again);
      expect(body).toMatchObject({ state: 'answered', answeredBy: 'quality-2', answeredResults: 3, unseen: 0 });
      expect((await release(1)).status).toBe(201);
    });

    it('a calibration recorded in error counts no more, and its question falls away (I-9)', async () => {
      const good = await calibrated('V-1', { ...GOOD, calibratedAt: '2026-04-20T07:00:00Z' });
      const wrong = await calibrated('V-1', { ...OUT, result: 'failed' });
      expect((await card('V-1')).usable).toBe(false);
      const reverse = (code: string) =>
        plant.as('quality').post<Refused>(`/api/calibrations/${code}/reversal`, { reason: 'of another viscometer' });
      expect((await plant.as('inspector').post(`/api/calibrations/${wrong}/reversal`, { reason: 'x' })).status).toBe(403);
      expect((await reverse(wrong)).body).toMatchObject({
        calibration: wrong,
        voided: { by: 'quality-1', reason: 'of another viscometer' },
      });
      expect(codes(await reverse(wrong))).toEqual(['corrected-before']);
      const after = await card('V-1');
      expect(after).toMatchObject({ usable: true, lastCalibration: good, openQuestions: [] });
      expect(after.questions.map(({ calibration, state }) => [calibration, state])).toEqual([
        [wrong, 'dropped'],
        [out, 'answered'],
      ]);
      const dropped = { conclusion: 'no-effect', password: PASSWORD, reason: 'x' };
      const late = await plant.as('quality').post<Refused>(`/api/instruments/questions/${wrong}/answer`, dropped);
      expect(codes(late)).toEqual(['question-dropped']);

      const { lot, inspection } = await oil();
      expect((await viscosity(inspection, 'V-1')).status).toBe(201);
      expect((await reverse(good)).status).toBe(200);
      const rested = await judged(`?calibration=${good}`);
      expect(rested.lots.map((one) => one.lot)).toContain(lot);
      expect(rested.time).toMatchObject({ since: good, until: null });
    });

    it('an answered question of a calibration that was put right stays as it was answered (I-9)', async () => {
      await plant.as('quality').post(`/api/calibrations/${out}/reversal`, { reason: 'reference was wrong' });
      const { questions } = await card('V-1');
      expect(questions.at(-1)).toMatchObject({ calibration: out, state: 'answered', results: 3 });
    });

    it('says what it is asked about wrongly', async () => {
      const ask = async (path: string) => codes(await plant.as('auditor').get<Refused>(`/api/instruments/${path}`));
      expect(await ask('V-CERT/judged')).toEqual(['never-in-doubt']);
      expect(await ask(`V-CERT/judged?calibration=${out}`)).toEqual(['calibration-of-other /calibration']);
      expect(await ask('V-CERT/judged?calibration=CAL-9999')).toEqual(['calibration-unknown']);
      expect(await ask('NONE/judged')).toEqual(['instrument-unknown']);
    });
  });

  it('a question grows when the calibration it began with turns out to be an error (I-10, I-12)', async () => {
    plant.clock.set('2026-05-01T08:00:00.000Z');
    await register('V-2');
    await calibrated('V-2', { ...GOOD, calibratedAt: '2026-04-28T08:00:00Z' });
    const [early, late] = [await oil(), await oil()];
    expect((await viscosity(early.inspection, 'V-2')).status).toBe(201);
    plant.clock.set('2026-05-01T12:00:00.000Z');
    const between = await calibrated('V-2', GOOD);
    plant.clock.set('2026-05-01T16:00:00.000Z');
    expect((await viscosity(late.inspection, 'V-2')).status).toBe(201);
    const out = await calibrated('V-2', OUT);
    const asked = async () => (await read<Judged>('/api/instruments/V-2/judged')).lots.map(({ lot }) => lot);
    expect(await asked()).toEqual([late.lot]);
    const answer = { conclusion: 'no-effect', password: PASSWORD, reason: 'measured again' };
    expect((await plant.as('quality').post(`/api/instruments/questions/${out}/answer`, answer)).status).toBe(200);
    await plant.as('quality').post(`/api/calibrations/${between}/reversal`, { reason: 'of another viscometer' });
    expect(await asked()).toEqual(inOrder(early.lot, late.lot));
    expect((await card('V-2')).questions).toMatchObject([{ state: 'grown', unseen: 1, results: 2 }]);
  });

  it('results of a tally that was taken back are shown and judged nothing (I-13)', async () => {
    plant.clock.set('2026-05-02T08:00:00.000Z');
    await register('C-1', { kind: 'calliper', name: 'Calliper' });
    await calibrated('C-1', GOOD);
    await planInspection(plant, 'SEAL', {
      characteristics: [
        {
          code: 'DIA',
          name: 'Diameter',
          kind: 'measured',
          per: 'item',
          class: 'major',
          unit: 'mm',
          lower: '39.9',
          upper: '40.1',
          rounding: { decimals: 2 },
          instrumentKind: 'calliper',
        },
      ],
    });
    const [lot] = (await receive(plant, [{ item: 'SEAL', quantity: '100' }], 'S-PACK')) as [string];
    const inspection = await inspectionOf(plant, lot);
    await step(plant, inspection, 'begin');
    const items = [{ measured: [{ characteristic: 'DIA', readings: [{ value: '40.02' }], instrument: 'C-1' }] }];
    await step(plant, inspection, 'tallies', { items });
    plant.clock.set('2026-05-03T08:00:00.000Z');
    await calibrated('C-1', OUT);
    const judged = () => read<Judged>('/api/instruments/C-1/judged');
    expect((await judged()).lots).toEqual([{ lot, item: 'SEAL', inspections: [expect.objectContaining({ inspection })] }]);
    await step(plant, inspection, 'tallies/1/taken-back', { reason: 'another box' });
    expect(await judged()).toMatchObject({ lots: [], trace: null, results: [{ lot, value: '40.02', takenBack: true }] });
  });

  it('is told in plain words, by the instrument and by the calibration', async () => {
    const told = await read<{ entries?: { says: string }[] } & { says: string }[]>('/api/ledger/about?instrument=V-1');
    expect(JSON.stringify(told)).toContain('found out of tolerance, adjusted and left in tolerance; due again on 18\u00a0Jul\u00a02026');
  });
});
