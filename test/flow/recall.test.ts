import { createHash } from 'node:crypto';
import { PassThrough } from 'node:stream';
import * as fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MICRO } from '../../shared/quantity.js';
import type { ShipmentView } from '../../src/server/plant/dispatch/dispatch.dto.js';
import type { RecallHeadView, RecallReconciliationView, RecallView } from '../../src/server/plant/recall/recall.dto.js';
import { RecallService } from '../../src/server/plant/recall/recall.service.js';
import { catalogueFernhollow, receiveReleased, recordFacts } from '../fernhollow.js';
import { type Answer, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { linkLots, makeLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Refused {
  reasons: { code: string; detail: string; pointer: string }[];
}

let documents = 0;

const ship = async (plant: Plant, customer: string, lines: object[], location = 'FG-1'): Promise<string> => {
  const { status, body } = await plant.as('dispatcher').post<ShipmentView>('/api/shipments', {
    customer,
    documentType: 'dispatch note',
    document: `N-${++documents}`,
    location,
    lines,
  });
  expect({ status, body }).toMatchObject({ status: 201 });
  return body.shipment;
};

const bring = async (plant: Plant, customer: string, lines: object[]): Promise<void> => {
  const { status, body } = await plant.as('clerk').post('/api/returns', {
    customer,
    documentType: 'return note',
    document: `R-${++documents}`,
    location: 'QUAR',
    condition: 'dented',
    lines,
  });
  expect({ status, body }).toMatchObject({ status: 201 });
};

const open = <Body = RecallView>(plant: Plant, more: object = {}): Promise<Answer<Body>> =>
  plant.as('recall-lead').post<Body>('/api/recalls', {
    title: 'Labels with the wrong hazard mark',
    reason: 'A customer sent a photograph on 1 March',
    type: 'recall',
    drill: false,
    scope: 'narrow',
    ...more,
  });

const pdfOf = async (plant: Plant, recall: string): Promise<string> => {
  const out = new PassThrough();
  const hash = createHash('sha256');
  out.on('data', (chunk: Buffer) => hash.update(chunk));
  await plant.app.get(RecallService).writeReport(recall, () => out);
  return hash.digest('hex');
};

describe.each(DATABASES)('recall on %s', (database) => {
  let plant: Plant;
  /** A roll of labels went into cans 1-400 of F-1; a second roll into the rest, and into all of F-2. */
  let labels: string[];
  let shipments: string[];

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    labels = await receiveReleased(plant, [
      { item: 'LBL-250', quantity: '1000', supplierLot: 'roll-7' },
      { item: 'LBL-250', quantity: '1000', supplierLot: 'roll-8' },
    ]);
    await makeLots(plant, [
      { lot: 'F-1', item: 'WAX-250', pieces: 1000, expiresOn: '2028-02-20' },
      { lot: 'F-2', item: 'WAX-250', pieces: 500, expiresOn: '2028-02-21' },
      { lot: 'U-1', item: 'PUMP', pieces: 2, serials: ['K-001', 'K-002'] },
    ]);
    await linkLots(plant, 'RUN-F-1', [
      { from: labels[0]!, to: 'F-1', toSpan: [1, 400], massMicro: 0 },
      { from: labels[1]!, to: 'F-1', toSpan: [401, 1000], massMicro: 0 },
    ]);
    await linkLots(plant, 'RUN-F-2', [{ from: labels[1]!, to: 'F-2', toSpan: [1, 500], massMicro: 0 }]);
    shipments = [
      await ship(plant, 'C-001', [{ lot: 'F-1', pieces: '1-300' }]),
      await ship(plant, 'C-002', [{ lot: 'F-1', pieces: '301-600' }]),
    ];
    await bring(plant, 'C-001', [{ lot: 'F-1', pieces: '1-10' }]);
  });
  afterAll(async () => {
    await expectRebuildEqual(plant);
    await plant.stop();
  });

  it('RL-1, RL-2: freezes both scopes at a ledger position', async () => {
    const { status, body } = await open(plant, { origin: [{ lot: labels[0] }] });
    expect(status).toBe(201);
    expect(body).toMatchObject({
      recall: 'RC-0001',
      drill: false,
      type: 'recall',
      status: 'open',
      narrow: { lots: 2, pieces: 400, bulk: [{ unit: 'each', quantity: '1000' }], consignees: 2 },
      conservative: { lots: 2, pieces: 1000, consignees: 2 },
    });
    expect(body.scopes).toHaveLength(1);
    expect(body.scopes[0]).toMatchObject({
      version: 1,
      seq: body.seq,
      knownSeq: body.seq - 1,
      chosen: 'narrow',
      origin: [{ lot: labels[0], spans: null }],
    });
    expect(body.scopes[0]!.knownHash).toMatch(/^[0-9a-f]{64}$/);
    expect(body.lots.map((lot) => [lot.lot, lot.spans, lot.affected, lot.depth])).toEqual([
      ['F-1', [[1, 400]], '400', 1],
      [labels[0], null, '1000', 0],
    ]);
  });

  it('RL-3: names the evidence for each narrowing', async () => {
    const { body } = await plant.as('auditor').get<RecallView>('/api/recalls/RC-0001');
    expect(body.narrowings.map((narrowing) => [narrowing.lot, narrowing.spans])).toEqual([['F-1', [[1, 400]]]]);
    expect(body.narrowings[0]!.evidence).toEqual([
      expect.stringMatching(new RegExp(`^Link \\d+\\.1, filling RUN-F-1: ${labels[0]} went into pieces 1-400 of F-1$`)),
    ]);
  });

  it('RE-6, RL-6: lists who was sent what, and what has not come back', async () => {
    const { body } = await plant.as('auditor').get<RecallView>('/api/recalls/RC-0001');
    expect(
      body.consignees.map(({ customer, name, contact, lines }) => [
        customer,
        name,
        contact,
        lines.map((line) => [line.shipment, line.spans, line.out.spans]),
      ]),
    ).toEqual([
      ['C-001', 'Tumbledown Cycles', 'recalls@tumbledown.example', [[shipments[0], [[1, 300]], [[11, 300]]]]],
      ['C-002', 'Saddler and Spoke', 'workshop@saddler.example', [[shipments[1], [[301, 400]], [[301, 400]]]]],
    ]);
    const csv = await plant.as('auditor').get<string>('/api/recalls/RC-0001/consignees.csv');
    expect(csv.body.split('\r\n')[1]).toContain(`C-001,Tumbledown Cycles,recalls@tumbledown.example,${shipments[0]}`);
  });

  it('RL-7: reconciles exactly, as frozen and as of now', async () => {
    const { body } = await plant.as('auditor').get<RecallView>('/api/recalls/RC-0001');
    expect(body.reconciliation.addsUp).toBe(true);
    expect(body.reconciliation.accounts).toEqual([
      { unit: 'pieces', affected: '400', byFate: { dispatched: '390', 'on hand': '10' }, difference: '0' },
      { unit: 'each', affected: '1000', byFate: { 'on hand': '1000' }, difference: '0' },
    ]);
    expect(
      body.reconciliation.places
        .filter((place) => place.lot === 'F-1')
        .map((place) => [place.fate, place.holder, place.document, place.spans]),
    ).toEqual([
      ['dispatched', 'C-001 Tumbledown Cycles', shipments[0], [[11, 300]]],
      ['dispatched', 'C-002 Saddler and Spoke', shipments[1], [[301, 400]]],
      ['on hand', 'QUAR', null, [[1, 10]]],
    ]);
  });

  it('RE-7: gives amounts that add up, with dates', async () => {
    const { body } = await plant.as('auditor').get<RecallView>('/api/recalls/RC-0001');
    expect(body.amounts).toEqual([
      {
        unit: 'pieces',
        total: '400',
        madeFrom: '2026-02-20',
        madeUntil: '2026-02-20',
        distributed: '400',
        distributedFrom: '2026-03-02',
        distributedUntil: '2026-03-02',
        onHand: '10',
        onHandQuarantined: '10',
        inMarket: '390',
      },
    ]);
  });

  it('RE-8: explains the lot code, and says why only these lots', async () => {
    const { cautions } = await plant.app.get(RecallService).recallReport('RC-0001');
    const { body } = await plant.as('auditor').get<RecallView>('/api/recalls/RC-0001');
    expect(cautions[0]).toContain(`Why only these lots: ${body.scopes[0]!.reason}`);
    expect(cautions[1]).toMatch(/by the pattern \{class\}.*Case, leading zeros and punctuation count/);
  });

  it('RL-9: the report is the same, byte for byte, after the record has moved on', async () => {
    const before = await plant.app.get(RecallService).recallReport('RC-0001');
    const bytes = await pdfOf(plant, 'RC-0001');
    plant.clock.set('2026-03-20T08:00:00.000Z');
    await bring(plant, 'C-001', [{ lot: 'F-1', pieces: '11-50' }]);
    await linkLots(plant, 'RUN-LATE', [{ from: labels[0]!, to: 'F-2', toSpan: [1, 100], massMicro: 0 }]);
    await recordFacts(plant, [
      {
        kind: 'ScrappedForTest',
        v: 1,
        moved: [
          {
            lot: 'F-1',
            spans: [[1, 10]],
            quantityMicro: 10 * MICRO,
            from: { fate: 'on-hand', at: 'QUAR' },
            to: { fate: 'scrapped', at: 'SC-1' },
          },
        ],
      } as never,
      {
        kind: 'CatalogueRevised',
        v: 1,
        what: 'party',
        revision: 2,
        record: { code: 'C-001', name: 'Tumbledown Renamed', role: 'customer' },
      } as never,
    ]);
    expect(await plant.app.get(RecallService).recallReport('RC-0001')).toEqual(before);
    expect(await pdfOf(plant, 'RC-0001')).toBe(bytes);

    const { body } = await plant.as('auditor').get<RecallView>('/api/recalls/RC-0001');
    expect(body.consignees[0]!.lines[0]).toMatchObject({ out: { quantity: '290' }, outNow: { quantity: '250', spans: [[51, 300]] } });
    expect(body.reconciliationNow.accounts[0]).toEqual({
      unit: 'pieces',
      affected: '400',
      byFate: { dispatched: '350', 'on hand': '40', scrapped: '10' },
      difference: '0',
    });
    expect(before.timeline.map((entry) => entry.what)).toEqual([
      expect.stringMatching(/received from S-WAX on D-\d+, supplier's lot roll-7: 1000 each of Label/),
      expect.stringMatching(/ released$/),
      'F-1 made by RUN-F-1: 1000 pieces of Chain wax, can 250 g',
      'S-0001 to C-001 Tumbledown Cycles: pieces 1-300 of F-1',
      'S-0002 to C-002 Saddler and Spoke: pieces 301-400 of F-1',
      'Pieces 1-10 of F-1 put in quarantine',
      'RT-0001: pieces 1-10 of F-1 came back from C-001',
      expect.stringMatching(/^Recall RC-0001 opened, narrow, as known at entry \d+: A customer sent/),
    ]);
  });

  it('RE-9, RL-5: the scope is widened as its next version, with a reason; the first stays', async () => {
    const first = await plant.app.get(RecallService).recallReport('RC-0001');
    const { status, body } = await plant.as('recall-lead').post<RecallView>('/api/recalls/RC-0001/scopes', {
      origin: [{ supplierLot: 'roll-7' }, { lot: 'F-2', pieces: '400-500' }],
      scope: 'conservative',
      reason: 'A late link shows that roll-7 went into F-2 too',
    });
    expect(status).toBe(200);
    expect(body.scopes.map(({ version, chosen, reason }) => [version, chosen, reason])).toEqual([
      [1, 'narrow', 'A customer sent a photograph on 1 March'],
      [2, 'conservative', 'A late link shows that roll-7 went into F-2 too'],
    ]);
    expect(body).toMatchObject({ version: 2, narrow: { pieces: 601 }, conservative: { pieces: 1500 } });
    expect(body.reconciliation.addsUp).toBe(true);
    const one = await plant.as('auditor').get<RecallView>('/api/recalls/RC-0001?version=1');
    expect(one.body).toMatchObject({ version: 1, narrow: { pieces: 400 } });
    expect(await plant.app.get(RecallService).recallReport('RC-0001', 1)).toEqual(first);
    expect((await plant.as('auditor').get('/api/recalls/RC-0001?version=9')).status).toBe(404);
  });

  it('domain rule 5: a scope can be frozen as known at an earlier entry', async () => {
    const { body: now } = await open(plant, { origin: [{ lot: labels[0] }], drill: true });
    expect(now.narrow.pieces).toBe(500);
    const { body: then } = await open(plant, { origin: [{ lot: labels[0] }], drill: true, asKnownAt: now.scopes[0]!.knownSeq - 5 });
    expect(then.scopes[0]!.knownSeq).toBe(now.scopes[0]!.knownSeq - 5);
    const late = await open<Refused>(plant, { origin: [{ lot: labels[0] }], asKnownAt: 100_000 });
    expect([late.status, late.body.reasons[0]?.code]).toEqual([404, 'entry-unknown']);
  });

  it('RE-20: a drill is marked as such', async () => {
    const { body } = await open(plant, { origin: [{ serial: 'K-002', item: 'PUMP' }], drill: true });
    expect(body).toMatchObject({ drill: true, lots: [{ lot: 'U-1', spans: [[2, 2]] }], consignees: [] });
    const report = await plant.app.get(RecallService).recallReport(body.recall);
    expect(report.recall.drill).toBe(true);
    expect(report.products[0]).toMatchObject({ item: 'PUMP', lot: 'U-1', marks: 'serials K-002' });
    const list = await plant.as('auditor').get<RecallHeadView[]>('/api/recalls');
    expect(list.body[0]).toMatchObject({ recall: body.recall, drill: true });
  });

  it('RE-1: is no stock recovery once anything left the plant', async () => {
    const gone = await open<Refused>(plant, { origin: [{ lot: labels[0] }], type: 'stock-recovery' });
    expect([gone.status, gone.body.reasons[0]?.code, gone.body.reasons[0]?.detail]).toEqual([
      409,
      'left-our-control',
      'affected goods went to C-001, C-002: this is a recall, not a stock recovery',
    ]);
    expect((await open(plant, { origin: [{ lot: 'U-1' }], type: 'stock-recovery' })).status).toBe(201);
  });

  it('names everything in the origin that the record does not know', async () => {
    const { status, body } = await open<Refused>(plant, { origin: [{ lot: 'F-404' }, { lot: labels[0] }, { serial: 'K-404' }] });
    expect(status).toBe(404);
    expect(body.reasons.map((reason) => [reason.pointer, reason.code])).toEqual([
      ['/origin/0', 'lot-unknown'],
      ['/origin/2', 'serial-unknown'],
    ]);
    expect((await open<Refused>(plant, { origin: [] })).status).toBe(400);
    expect((await open<Refused>(plant, { origin: [{ lot: 'F-1', pieces: '999-1001' }] })).status).toBe(400);
    expect((await plant.as('dispatcher').post('/api/recalls', {})).status).toBe(403);
  });

  it('answers the report as PDF, and a recall that is not there as such', async () => {
    const { status, headers, body } = await plant.as('auditor').get<string>('/api/recalls/RC-0001/report.pdf');
    expect([status, headers['content-type'], body.slice(0, 5)]).toEqual([200, 'application/pdf', '%PDF-']);
    expect((await plant.as('auditor').get('/api/recalls/RC-9999/report.pdf')).status).toBe(404);
    expect((await plant.as('auditor').get('/api/recalls/RC-9999')).status).toBe(404);
  });

  it('tells holds and signed decisions about what is affected', async () => {
    const { body: held } = await plant.as('quality').post<{ hold: string }>('/api/holds', {
      parts: [{ lot: labels[1] }],
      reaches: true,
      reason: 'same printer',
      password: PASSWORD,
    });
    const { body } = await open(plant, { origin: [{ lot: 'F-2', pieces: '1-50' }], drill: true });
    expect(body.lots).toMatchObject([{ lot: 'F-2', status: 'held' }]);
    const { body: wider } = await open(plant, { origin: [{ lot: labels[1] }], drill: true });
    const report = await plant.app.get(RecallService).recallReport(wider.recall);
    expect(report.timeline.map((entry) => entry.what)).toContain(`Hold ${held.hold} placed on ${labels[1]}: same printer`);
    expect(report.decisions.map(({ who, what }) => [who, what])).toEqual([['quality-1', `Hold placed ${held.hold}: same printer`]]);
    expect(report.ribbons.map((ribbon) => ribbon.lot)).toEqual(['F-1', 'F-2']);
  });

  it('names runs that took affected material and are not closed', async () => {
    const [wax] = await receiveReleased(plant, [{ item: 'WAX-BASE', quantity: '50' }]);
    const took = (quantity: number, run: string) => ({
      lot: wax!,
      spans: null,
      quantityMicro: quantity * MICRO,
      from: { fate: 'on-hand' as const, at: 'DOCK' },
      to: { fate: 'consumed' as const, at: run },
    });
    const started = (run: string) => ({
      kind: 'RunStarted',
      v: 1,
      run,
      runKind: 'mixing',
      item: 'MIX-WAX',
      itemRevision: 1,
      recipe: 'RCP-WAX',
      recipeRevision: 1,
      bom: null,
      bomRevision: null,
      vessel: 'V-1',
      line: null,
      people: [],
      startedAt: '2026-03-02T07:00:00.000Z',
      plannedMicro: null,
      clearance: null,
      label: null,
      residues: [],
    });
    const closed = (run: string) => ({
      kind: 'RunClosed',
      v: 1,
      run,
      finishedAt: '2026-03-02T07:30:00.000Z',
      yields: null,
      location: null,
      rejected: [],
      rejectReason: null,
      netWeights: null,
      figures: { theoryMicro: null, yieldBp: null, limitsBp: null, mass: null, components: [] },
      investigations: [],
      deviations: [],
      deviationReason: null,
      changeovers: [],
      fitted: [],
      unsure: [],
    });
    const taken = { kind: 'TookForTest', v: 1, moved: [took(20, 'RUN-9001'), took(5, 'RUN-9002')] };
    await recordFacts(plant, [started('RUN-9001'), started('RUN-9002'), taken, closed('RUN-9002')]);
    const { body } = await open(plant, { origin: [{ lot: wax }], drill: true });
    const before = await plant.app.get(RecallService).recallReport(body.recall);
    expect(before.inProcess).toEqual([
      {
        run: 'RUN-9001',
        kind: 'mixing',
        place: 'V-1',
        startedAt: '2026-03-02T07:00:00.000Z',
        took: [{ lot: wax, spans: null, quantityMicro: 20 * MICRO, unit: 'kg' }],
      },
    ]);
    await recordFacts(plant, [closed('RUN-9001')]);
    expect((await plant.app.get(RecallService).recallReport(body.recall)).inProcess).toEqual(before.inProcess);
  });

  it('the report draws the river and the ribbons of what is affected', async () => {
    const report = await plant.app.get(RecallService).recallReport('RC-0001', 1);
    expect(report.river!.nodes.map((node) => [node.id, node.affectedShare])).toEqual([
      ['lot F-1', 0.4],
      [`lot ${labels[0]}`, 1],
      ['customer C-001', 1],
      ['customer C-002', 1 / 3],
      ['place on-hand FG-1', 0],
      ['place on-hand QUAR', 1],
      ['place on-hand DOCK', 1],
    ]);
    const [ribbon] = report.ribbons;
    expect(ribbon!.ribbon.affected).toEqual([[1, 400]]);
    expect(ribbon!.ribbon.below).toEqual([
      {
        label: 'Label for can 250 g',
        parts: [
          { label: labels[0], kind: 'input', spans: [[1, 400]], affected: true },
          { label: labels[1], kind: 'input', spans: [[401, 1000]], affected: false },
        ],
      },
    ]);
  });
});

describe('reconciliation of any history', () => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant('sqlite');
    await catalogueFernhollow(plant);
  });
  afterAll(async () => {
    await expectRebuildEqual(plant);
    await plant.stop();
  });

  const step = fc.record({
    what: fc.constantFrom('ship' as const, 'bring' as const, 'scrap' as const),
    customer: fc.constantFrom('C-001', 'C-002'),
    first: fc.integer({ min: 1, max: 60 }),
    length: fc.integer({ min: 1, max: 25 }),
  });
  let lots = 0;

  /** Carries out a step as far as the record allows it; what is refused changes nothing. */
  const carryOut = async (
    lot: string,
    { what, customer, first, length }: { what: string; customer: string; first: number; length: number },
  ): Promise<void> => {
    const pieces = `${first}-${Math.min(60, first + length - 1)}`;
    const common = { customer, documentType: 'note', document: `P-${++documents}`, lines: [{ lot, pieces }] };
    if (what === 'ship') await plant.as('dispatcher').post('/api/shipments', { ...common, location: 'FG-1' });
    if (what === 'bring') await plant.as('clerk').post('/api/returns', { ...common, location: 'FG-1', condition: 'sound' });
    if (what === 'scrap' && first % 3 === 0) {
      const moved = [
        { lot, spans: [[first, first]], quantityMicro: MICRO, from: { fate: 'on-hand', at: 'FG-1' }, to: { fate: 'scrapped', at: 'SC-1' } },
      ];
      const { body } = await plant
        .as('auditor')
        .get<{ whereabouts: { fate: string; at: string; spans: [number, number][] }[] }>(`/api/trace?lot=${lot}&whereabouts=true`);
      const here = body.whereabouts.find((part) => part.fate === 'on-hand' && part.at === 'FG-1');
      if (here?.spans.some(([from, to]) => from <= first && first <= to))
        await recordFacts(plant, [{ kind: 'ScrappedForTest', v: 1, moved } as never]);
    }
  };

  const sums = ({ accounts, addsUp, places }: RecallReconciliationView): void => {
    expect(addsUp).toBe(true);
    const pieces = places
      .flatMap((place) => place.spans ?? [])
      .flatMap(([first, last]) => Array.from({ length: last! - first! + 1 }, (_, i) => first! + i));
    expect(new Set(pieces).size).toBe(pieces.length);
    expect(accounts[0]).toMatchObject({ unit: 'pieces', affected: String(pieces.length), difference: '0' });
  };

  it('affected ∩ whereabouts is a partition of what is affected, frozen and now', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(step, { maxLength: 12 }), fc.array(step, { maxLength: 6 }), async (before, after) => {
        const lot = `P-${++lots}`;
        await makeLots(plant, [{ lot, item: 'WAX-250', pieces: 60 }]);
        for (const each of before) await carryOut(lot, each);
        const { body: opened } = await open(plant, { origin: [{ lot, pieces: '5-40' }] });
        for (const each of after) await carryOut(lot, each);
        const { body } = await plant.as('auditor').get<RecallView>(`/api/recalls/${opened.recall}`);
        sums(body.reconciliation);
        sums(body.reconciliationNow);
        expect(body.reconciliation).toEqual(opened.reconciliation);
        expect(body.reconciliation.accounts[0]!.affected).toBe('36');
      }),
      { numRuns: 25 },
    );
  });
});
