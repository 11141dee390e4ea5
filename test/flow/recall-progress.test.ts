import { PassThrough } from 'node:stream';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ShipmentView } from '../../src/server/plant/dispatch/dispatch.dto.js';
import type { RecallHeadView, RecallView } from '../../src/server/plant/recall/recall.dto.js';
import { RecallService } from '../../src/server/plant/recall/recall.service.js';
import type { RecallProgressView } from '../../src/server/plant/recall/status.dto.js';
import { catalogueFernhollow } from '../fernhollow.js';
import { type Answer, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { makeLots } from '../made-lots.js';
import { readPdf } from '../read-pdf.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Refused {
  reasons: { code: string; detail: string; pointer?: string }[];
}

const codes = (answer: Answer<Refused>): string[] => answer.body.reasons.map(({ code }) => code);

const EVALUATION = {
  injuries: 'None so far',
  conditions: 'Warm workshops without air',
  exposed: 'Mechanics and their apprentices',
  seriousness: 'Dizziness that passes',
  likelihood: 'Likely when used for hours',
  consequences: 'Headache at once; nothing lasting is known',
};

const STRATEGY = {
  evaluation: EVALUATION,
  class: 'II',
  classReason: 'Temporary harm',
  depth: 'retail',
  publicWarning: { needed: false, reason: 'Every holder is known' },
  level: 'A',
  completionOn: '2026-04-30',
  password: PASSWORD,
  reason: 'As evaluated on 2 March',
};

const TEXT = {
  subject: 'URGENT: recall of chain wax in cans of 250 g',
  product: 'Chain wax, can 250 g, lots F-1 and B-1',
  reason: 'The solvent is not the one on the label; it can make you dizzy',
  stop: 'This product is recalled: stop selling and using it now',
  doWhat: 'Set the cans aside and send them back',
  passOn: 'Tell everyone you sold it to',
  replyTo: 'Reply to recalls@fernhollow.example',
};

describe.each(DATABASES)('a recall under way on %s', (database) => {
  let plant: Plant;
  let documents = 0;

  const ship = async (customer: string, lines: object[]): Promise<void> => {
    const body = { customer, documentType: 'dispatch note', document: `N-${++documents}`, location: 'FG-1', lines };
    expect(await plant.as('dispatcher').post<ShipmentView>('/api/shipments', body)).toMatchObject({ status: 201 });
  };
  const bring = async (customer: string, lines: object[]): Promise<void> => {
    const body = { customer, documentType: 'return note', document: `R-${++documents}`, location: 'QUAR', condition: 'recalled', lines };
    expect(await plant.as('clerk').post('/api/returns', body)).toMatchObject({ status: 201 });
  };
  const post = <Body = RecallProgressView>(action: string, body: object, recall = 'RC-0001', role = 'recall-lead' as const) =>
    plant.as(role).post<Body>(`/api/recalls/${recall}/${action}`, body);
  const refused = async (action: string, body: object, recall = 'RC-0001'): Promise<string[]> =>
    codes(await post<Refused>(action, body, recall));
  const status = async (query = '', recall = 'RC-0001'): Promise<RecallProgressView> =>
    (await plant.as('auditor').get<RecallProgressView>(`/api/recalls/${recall}/status${query}`)).body;
  const open = <Body = RecallView>(more: object) =>
    plant.as('recall-lead').post<Body>('/api/recalls', {
      title: 'Wrong solvent',
      reason: 'A supplier told us on 2 March',
      type: 'recall',
      drill: false,
      scope: 'narrow',
      origin: [{ lot: 'F-1', pieces: '1-400' }, { lot: 'B-1' }],
      ...more,
    });

  const pdf = async (recall: string, query: string) => {
    const out = new PassThrough();
    const chunks: Buffer[] = [];
    out.on('data', (chunk: Buffer) => chunks.push(chunk));
    await plant.app.get(RecallService).writeReport(recall, () => out, undefined, Number(query.split('=')[1]));
    const bytes = Buffer.concat(chunks);
    return { bytes, ...(await readPdf(bytes)) };
  };

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    await makeLots(plant, [
      { lot: 'F-1', item: 'WAX-250', pieces: 1000, expiresOn: '2028-02-20' },
      { lot: 'B-1', item: 'MIX-WAX', quantityMicro: 100_000_000, unit: 'kg', at: 'FG-1' },
    ]);
    await ship('C-001', [
      { lot: 'F-1', pieces: '1-300' },
      { lot: 'B-1', quantity: '40' },
    ]);
    await ship('C-002', [{ lot: 'F-1', pieces: '301-600' }]);
    await plant.as('inspector').post('/api/reports', {
      source: { kind: 'complaint', code: 'letter 9' },
      requirement: 'Label and content agree',
      found: 'another solvent',
      severity: 'critical',
      parts: [{ lot: 'F-1', pieces: '1-10' }],
    });
  });
  afterAll(async () => {
    await expectRebuildEqual(plant);
    await plant.stop();
  });

  it('knows its reports', async () => {
    expect(codes(await open<Refused>({ reports: ['NC-0001', 'NC-9'] }))).toEqual(['report-unknown']);
    const { status: code, body } = await open({ reports: ['NC-0001'] });
    expect([code, body.recall, body.reports, body.status, body.class]).toEqual([201, 'RC-0001', ['NC-0001'], 'open', null]);
    const linked = await post('reports', { reports: ['NC-0001'] });
    expect(linked).toMatchObject({ status: 200, body: { reports: ['NC-0001'] } });
  });

  it('RE-4: nobody is told before the strategy is set, and nobody without a text', async () => {
    expect(await refused('notices', { customer: 'C-001', channel: 'letter', contentVersion: 1 })).toEqual([
      'strategy-first',
      'notice-text-unknown',
    ]);
  });

  it('RE-2, RE-3, RE-4, RE-5: the strategy has six answers, class, depth, warning and level; an earlier class stays readable', async () => {
    const { likelihood: _, ...five } = EVALUATION;
    expect((await post('strategy', { ...STRATEGY, evaluation: five })).status).toBe(400);
    expect(await refused('strategy', { ...STRATEGY, password: 'wrong' })).toEqual(['signature-refused']);
    expect(await refused('strategy', { ...STRATEGY, level: 'B', sampleSize: 2 })).toEqual(['sample-size-wrong']);
    expect(await refused('strategy', { ...STRATEGY, level: 'B' })).toEqual(['sample-size-wrong']);
    expect(await refused('strategy', { ...STRATEGY, sampleSize: 3 })).toEqual(['sample-size-not-asked']);
    expect((await post('strategy', { ...STRATEGY, class: 'III', reason: 'first thought' })).status).toBe(200);
    const { body } = await post('strategy', STRATEGY);
    expect(body.strategies.map((one) => [one.class, one.by, one.reason])).toEqual([
      ['III', 'recall-lead-1', 'first thought'],
      ['II', 'recall-lead-1', 'As evaluated on 2 March'],
    ]);
    expect(body.strategy).toMatchObject({ class: 'II', depth: 'retail', level: 'A', evaluation: EVALUATION });
    const list = await plant.as('auditor').get<RecallHeadView[]>('/api/recalls');
    expect(list.body[0]).toMatchObject({ recall: 'RC-0001', class: 'II', reports: ['NC-0001'] });
  });

  it('RE-10, RE-11: a notice holds its statements, is urgent by class, and names every lot', async () => {
    const { replyTo: _, ...noReply } = TEXT;
    expect((await post('notice-texts', noReply)).status).toBe(400);
    expect(await refused('notice-texts', { ...TEXT, subject: 'Recall of chain wax' })).toEqual(['not-urgent']);
    expect((await post('notice-texts', { ...TEXT, product: 'Chain wax, can 250 g, lot F-12 and B-1' })).status).toBe(201);
    expect(await refused('notices', { customer: 'C-001', channel: 'letter', contentVersion: 1 })).toEqual(['lot-not-named']);
    const { body } = await post('notice-texts', TEXT);
    expect(body.texts[1]!.content.split('\n\n')).toEqual([
      TEXT.subject,
      `Product: ${TEXT.product}`,
      `Why, and what can happen: ${TEXT.reason}`,
      `Stop: ${TEXT.stop}`,
      `What to do: ${TEXT.doWhat}`,
      `Tell your customers: ${TEXT.passOn}`,
      `How to reply: ${TEXT.replyTo}`,
    ]);
  });

  it('RE-12, RE-18: the first notice starts the recall when it is recorded; who is silent is asked again on a day', async () => {
    plant.clock.set('2026-03-05T09:30:00.000Z');
    expect(await refused('notices', { customer: 'C-404', channel: 'letter', contentVersion: 2 })).toEqual(['not-a-consignee']);
    expect(await refused('notices', { channel: 'letter', contentVersion: 2 })).toEqual(['customer-or-public']);
    expect(await refused('notices', { customer: 'C-001', channel: 'letter', contentVersion: 2, sentAt: '2026-03-01T00:00:00Z' })).toEqual([
      'shape',
    ]);
    expect((await post('notices', { customer: 'C-001', channel: 'letter', contentVersion: 2 })).status).toBe(201);
    plant.clock.set('2026-03-05T10:00:00.000Z');
    const { body } = await post('notices', { customer: 'C-002', channel: 'telephone', contentVersion: 2, nextContactOn: '2026-03-06' });
    expect(body.times.firstNotice!.at).toBe('2026-03-05T09:30:00.000Z');
    expect(body.notified).toMatchObject({ consignees: 2, notified: 2, notNotified: [] });
    expect(body.silent.map((one) => [one.customer, one.nextContactOn, one.due])).toEqual([
      ['C-001', '2026-03-08', false],
      ['C-002', '2026-03-06', false],
    ]);
    expect(body.completion).toEqual({ estimatedOn: '2026-04-30', nextReportOn: '2026-03-19' });
  });

  it('RE-13: an answer says which instructions were followed, what is on hand, who signed it and when', async () => {
    const answer = {
      customer: 'C-001',
      followedInstructions: { stopped: true, acted: true, passedOn: true },
      onHand: [
        { lot: 'F-1', pieces: '51-300' },
        { lot: 'B-1', quantity: '30' },
      ],
      signedBy: 'I. Marsh',
      answeredOn: '2026-03-06',
    };
    expect(await refused('answers', answer)).toEqual(['answered-later']);
    plant.clock.set('2026-03-07T08:00:00.000Z');
    const wrong = {
      ...answer,
      answeredOn: '2026-03-04',
      onHand: [
        { lot: 'F-1', pieces: '290-310' },
        { lot: 'X-1', quantity: '1' },
      ],
    };
    expect(await refused('answers', wrong)).toEqual(['answered-before-notice', 'lot-not-sent', 'more-than-sent']);
    const { body } = await post('answers', answer);
    expect(body.replied).toEqual({
      replied: 1,
      onHand: [
        { unit: 'kg', quantity: '30' },
        { unit: 'pieces', quantity: '250' },
      ],
    });
    expect(body.silent.map((one) => [one.customer, one.due])).toEqual([['C-002', true]]);
    expect(body.consignees[0]!.answer).toMatchObject({
      stopped: true,
      acted: true,
      passedOn: true,
      signedBy: 'I. Marsh',
      answeredOn: '2026-03-06',
    });
  });

  it('RE-14, RE-16: each account adds up, counts what came back once, and never comes to more than was sent', async () => {
    await bring('C-001', [
      { lot: 'F-1', pieces: '51-300' },
      { lot: 'B-1', quantity: '30' },
    ]);
    const account = { customer: 'C-001', lot: 'F-1', evidence: 'certificate 7' };
    expect(await refused('accounts', { ...account, destroyed: { pieces: '40-60' } })).toEqual(['more-than-sent']);
    expect(await refused('accounts', { ...account, destroyed: { pieces: '1-20' }, soldOn: { pieces: '20-50' } })).toEqual([
      'piece-accounted-twice',
    ]);
    expect(await refused('accounts', { ...account, destroyed: { quantity: '20' } })).toEqual(['pieces-not-quantity']);
    expect(await refused('accounts', { ...account, lot: 'B-1', destroyed: { quantity: '6' }, corrected: { quantity: '5' } })).toEqual([
      'more-than-sent',
    ]);
    await post('accounts', { ...account, destroyed: { pieces: '1-20' }, soldOn: { pieces: '21-40' } });
    const { body } = await post('accounts', { ...account, lot: 'B-1', destroyed: { quantity: '6' }, corrected: { quantity: '4' } });
    const [pieces] = body.consignees[0]!.lots.filter(({ lot }) => lot === 'F-1');
    expect(pieces).toMatchObject({
      sent: { quantity: '300' },
      cameBack: { spans: [[51, 300]] },
      destroyed: { spans: [[1, 20]] },
      corrected: { quantity: '0' },
      soldOn: { spans: [[21, 40]] },
      outstanding: { spans: [[41, 50]], quantity: '10' },
    });
    expect(body.goods).toMatchObject([
      { unit: 'kg', sent: '40', cameBack: '30', destroyed: '6', corrected: '4', outstanding: '0', accounted: '100.00' },
      {
        unit: 'pieces',
        sent: '400',
        cameBack: '250',
        destroyed: '20',
        soldOn: '20',
        outstanding: '110',
        recovered: '67.50',
        accounted: '72.50',
      },
    ]);
    expect(body.times.reconciliation).toBeNull();
  });

  it('RE-16: what a consignee said was destroyed and then came back counts once, and is named', async () => {
    await bring('C-001', [{ lot: 'F-1', pieces: '20' }]);
    const now = await status();
    expect(now.consignees[0]!.lots[1]).toMatchObject({
      cameBack: { quantity: '251' },
      destroyed: { quantity: '19' },
      contradicted: { spans: [[20, 20]] },
    });
    expect(now.outstanding.map(({ code }) => code)).toContain('accounted-twice');
    const { body } = await post('accounts', {
      customer: 'C-001',
      lot: 'F-1',
      destroyed: { pieces: '1-19' },
      soldOn: { pieces: '21-50' },
      evidence: 'certificate 7, put right',
    });
    expect(body.outstanding.map(({ code }) => code)).toEqual(['not-all-answered', 'goods-outstanding', 'checks-missing']);
  });

  it('RE-5: tells how many consignees the level asks for, and how many were asked', async () => {
    const check = { customer: 'C-001', method: 'telephone', reached: true, followed: true, note: 'all set aside' };
    expect(await refused('effectiveness-checks', { ...check, reached: false })).toEqual(['followed-unreached']);
    await post('effectiveness-checks', check);
    const { body } = await post('effectiveness-checks', { ...check, customer: 'C-002', followed: false, note: 'still on the shelf' });
    expect(body.effectiveness).toEqual({ level: 'A', needed: 2, checked: 2, reached: 2, followed: 1 });
    expect(body.outstanding.map(({ code }) => code)).toEqual(['not-all-answered', 'goods-outstanding', 'checks-failed']);
  });

  it('RE-14: the status as known at an entry is the same, byte for byte, whatever is recorded later', async () => {
    const { asKnownAt } = await status();
    const before = await plant.as('auditor').get<RecallProgressView>(`/api/recalls/RC-0001/status?asKnownAt=${asKnownAt.seq}`);
    const csv = await plant.as('auditor').get<string>(`/api/recalls/RC-0001/status.csv?asKnownAt=${asKnownAt.seq}`);
    expect(csv.body.split('\r\n')[1]).toMatch(
      /^RC-0001,,\d+,C-001,Tumbledown Cycles,2026-03-05T09:30:00.000Z,letter,2,2026-03-06,I. Marsh,,B-1,kg,40,30,30,6,4,0,0,0,telephone,yes$/,
    );
    plant.clock.set('2026-03-20T08:00:00.000Z');
    await bring('C-002', [{ lot: 'F-1', pieces: '301-400' }]);
    await post('effectiveness-checks', { customer: 'C-002', method: 'visit', reached: true, followed: true, note: 'shelf empty' });
    const again = await plant.as('auditor').get<RecallProgressView>(`/api/recalls/RC-0001/status?asKnownAt=${asKnownAt.seq}`);
    expect(JSON.stringify(again.body)).toBe(JSON.stringify(before.body));
    expect((await plant.as('auditor').get<string>(`/api/recalls/RC-0001/status.csv?asKnownAt=${asKnownAt.seq}`)).body).toBe(csv.body);
    const late = await plant.as('auditor').get<Refused>('/api/recalls/RC-0001/status?asKnownAt=100000');
    const early = await plant.as('auditor').get<Refused>('/api/recalls/RC-0001/status?asKnownAt=1');
    expect([late.status, codes(late), early.status, codes(early)]).toEqual([404, ['entry-unknown'], 409, ['not-open-yet']]);
    expect((await plant.as('auditor').get('/api/recalls/RC-9/status')).status).toBe(404);
  });

  it('RE-16: is not closed while something is outstanding, unless it is said why; and by two persons', async () => {
    const now = await status();
    expect(now.goods.map(({ accounted }) => accounted)).toEqual(['100.00', '100.00']);
    expect(now.times.reconciliation).toEqual({ at: '2026-03-20T08:00:00.000Z', seconds: expect.any(Number) as number });
    expect(await refused('closing', { password: PASSWORD, reason: 'done' })).toEqual(['not-all-answered']);
    const first = await post('closing', { password: PASSWORD, reason: 'done', nevertheless: 'C-002 has moved away; its goods are back' });
    expect(first.body).toMatchObject({ status: 'open', signatures: [{ as: 'recall-lead', stands: true, closes: false }] });
    expect(await refused('closing', { password: PASSWORD, reason: 'again' })).toEqual(['closing-signed-already']);
    const other = await plant.as('recall-lead', 2).post<Refused>('/api/recalls/RC-0001/closing', { password: PASSWORD, reason: 'I too' });
    expect(codes(other)).toEqual(['closing-needs-other']);
  });

  it('RE-16: a signature of what has changed since counts no more', async () => {
    await post('effectiveness-checks', { customer: 'C-002', method: 'visit', reached: true, followed: true, note: 'once more' });
    expect((await status()).signatures).toMatchObject([{ stands: false }]);
    const body = { password: PASSWORD, reason: 'read and agreed', nevertheless: 'as the recall lead says' };
    const quality = await plant.as('quality').post<RecallProgressView>('/api/recalls/RC-0001/closing', body);
    expect(quality.body).toMatchObject({ status: 'open', signatures: [{ stands: false }, { as: 'quality', stands: true }] });
    const closed = await post('closing', { password: PASSWORD, reason: 'done' });
    expect(closed.body).toMatchObject({
      status: 'closed',
      signatures: [{ stands: false }, { stands: true }, { as: 'recall-lead', by: 'recall-lead-1', closes: true, stands: true }],
      times: { closing: { at: '2026-03-20T08:00:00.000Z' } },
    });
    expect(await refused('notices', { customer: 'C-001', channel: 'letter', contentVersion: 2 })).toEqual(['recall-closed']);
    expect(await refused('scopes', { origin: [{ lot: 'F-1' }], scope: 'narrow', reason: 'more' })).toEqual(['recall-closed']);
    expect((await plant.as('auditor').get<RecallView>('/api/recalls/RC-0001')).body.status).toBe('closed');
  });

  it('RE-6, RE-14: the report as known at an entry tells how far the recall had come, and is the same whenever it is asked for', async () => {
    const { asKnownAt } = await status();
    const query = `?asKnownAt=${asKnownAt.seq}`;
    const first = await pdf('RC-0001', query);
    const words = first.pages
      .map(({ text }) => text)
      .join(' ')
      .replaceAll('\u00a0', ' ');
    for (const heading of [
      'Hazard and class',
      'Strategy',
      'Notices and answers',
      'Accounts of consignees',
      'Effectiveness checks',
      'Closing',
    ])
      expect(first.outline).toContain(heading);
    expect(words).toContain('II: Temporary harm');
    expect(words).toContain('URGENT: recall of chain wax');
    const plain = await plant.app.get(RecallService).recallReport('RC-0001');
    expect([plain.progress, plain.recall.status]).toEqual([undefined, 'open']);
    await plant
      .as('recall-lead')
      .post('/api/recalls/RC-0001/gaps', { found: 'slow', action: 'a', owner: 'quality-1', dueOn: '2026-05-01' });
    expect((await pdf('RC-0001', query)).bytes.equals(first.bytes)).toBe(true);
  });

  it('RE-20: a drill sends nothing, and nobody answers it', async () => {
    await open({ drill: true });
    await post('strategy', STRATEGY, 'RC-0002');
    const { body } = await post('notice-texts', TEXT, 'RC-0002');
    expect(body.texts[0]!.content).toMatch(/^DRILL, NOT TO BE SENT: URGENT/);
    expect(await refused('notices', { customer: 'C-001', channel: 'letter', contentVersion: 1 }, 'RC-0002')).toEqual([
      'drill-sends-nothing',
    ]);
    expect(await refused('accounts', { customer: 'C-001', lot: 'F-1', evidence: 'none' }, 'RC-0002')).toEqual(['drill-sends-nothing']);
    expect(body.notified.notified).toBe(0);
  });

  it('SP-4, SP-5: a drill has a clock, and the share of what was made that the record accounts for', async () => {
    plant.clock.set('2026-03-20T09:30:00.000Z');
    await post(
      'gaps',
      { found: 'The telephone list was old', action: 'Check it each quarter', owner: 'quality-1', dueOn: '2026-04-15' },
      'RC-0002',
    );
    const now = await status('', 'RC-0002');
    expect(now.times.drill).toEqual({ seconds: 5400, running: true, targetSeconds: 14_400, withinTarget: true });
    expect(now.record).toEqual([
      { unit: 'kg', affected: '130', accounted: '130', over: '0', share: '100.00' },
      { unit: 'pieces', affected: '400', accounted: '400', over: '0', share: '100.00' },
    ]);
  });

  it('SP-7: a gap found in a drill is an action with an owner and a day, until it is done', async () => {
    expect(await refused('gaps', { found: 'f', action: 'a', owner: 'nobody', dueOn: '2026-04-15' }, 'RC-0002')).toEqual(['person-unknown']);
    expect((await status('', 'RC-0002')).gaps).toMatchObject([{ gap: 1, owner: 'quality-1', dueOn: '2026-04-15', done: null }]);
    expect(await refused('gaps/7/done', { done: 'x' }, 'RC-0002')).toEqual(['gap-unknown']);
    const { body } = await post('gaps/1/done', { done: 'List checked' }, 'RC-0002');
    expect(body.gaps).toMatchObject([{ done: 'List checked' }]);
    expect(await refused('gaps/1/done', { done: 'x' }, 'RC-0002')).toEqual(['gap-closed']);
  });

  it('a drill is closed by the same two signatures', async () => {
    await post('closing', { password: PASSWORD, reason: 'everything found' }, 'RC-0002');
    const { body } = await plant
      .as('quality')
      .post<RecallProgressView>('/api/recalls/RC-0002/closing', { password: PASSWORD, reason: 'agreed' });
    expect(body).toMatchObject({ status: 'closed', times: { drill: { running: false } } });
    const { pages } = await pdf('RC-0002', `?asKnownAt=${body.asKnownAt.seq}`);
    expect(pages.filter(({ text }) => !text.includes('DRILL') && !text.includes('Drill'))).toEqual([]);
  });
});
