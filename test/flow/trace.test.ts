import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { TraceAnswer } from '../../shared/api/trace.js';
import { MICRO } from '../../shared/quantity.js';
import { riverOfTrace } from '../../shared/river-of-trace.js';
import type { Span } from '../../shared/spans.js';
import { layoutTrace } from '../../shared/trace-layout.js';
import { createApp } from '../../src/server/app.js';
import type { LinkMade, LotBorn } from '../../src/server/plant/stock/effects.facts.js';
import { onHand } from '../../src/server/plant/stock/effects.facts.js';
import { TraceService } from '../../src/server/trace/trace.service.js';
import { catalogueFernhollow, recordFacts } from '../fernhollow.js';
import { type Client, DATABASES, type Plant, startPlant } from '../harness.js';
import { expectRebuildEqual } from '../rebuild.js';

const born = (lot: string, item: string, amount: number, more: Partial<LotBorn> = {}): LotBorn => ({
  lot,
  item,
  itemRevision: 1,
  unit: more.pieces === undefined ? 'kg' : 'each',
  pieces: null,
  quantityMicro: amount * MICRO,
  origin: 'made',
  bornAt: '2026-03-02T08:00:00.000Z',
  place: onHand('FG-1'),
  status: 'released',
  source: 'RUN-1',
  ...more,
});

const link = (from: string, fromSpan: Span | null, to: string, toSpan: Span | null, more: Partial<LinkMade> = {}): LinkMade => ({
  from,
  fromSpan,
  to,
  toSpan,
  quantityMicro: 0,
  massMicro: 0,
  map: 'all',
  ...more,
});

const made = (links: readonly LinkMade[], run = 'RUN-1') => ({ run, kind: 'mixing', at: '2026-03-02T08:00:00.000Z', links });

/**
 * go into batches B-1 and B-2; 5 kg of B-1 stay as heel in B-2. Cans F-1 1-60 come from B-1, 61-100 from B-2; label reel P-1
 * ran to can 30, P-2 from 31. Gauges G-1 go one into one into pumps U-1. S-1 took cans 1-40 to C-001, S-2 cans 41-80 to C-002.
 */
async function smallPlant(plant: Plant): Promise<void> {
  await recordFacts(plant, [
    {
      kind: 'PlantSetUpForTest',
      v: 1,
      born: [
        born('R-1', 'WAX-BASE', 100, { supplier: 'S-WAX', supplierLot: 'LX 007', source: 'D-1' }),
        born('R-2', 'WAX-BASE', 100, { supplier: 'S-WAX', supplierLot: 'LX 008', source: 'D-1' }),
        born('P-1', 'LBL-250', 500),
        born('P-2', 'LBL-250', 500),
        born('B-1', 'MIX-WAX', 50, { source: 'RUN-1' }),
        born('B-2', 'MIX-WAX', 50, { source: 'RUN-2' }),
        born('F-1', 'WAX-250', 100, { pieces: 100, source: 'RUN-3' }),
        born('G-1', 'GAUGE', 3, { pieces: 3, serials: ['g1', 'g2', 'g3'] }),
        born('U-1', 'PUMP', 3, { pieces: 3, serials: ['K-1', 'K-2', 'K-3'], source: 'RUN-4' }),
      ],
      linked: [
        made([
          link('R-1', null, 'B-1', null, { massMicro: 50 * MICRO }),
          link('R-2', null, 'B-2', null, { massMicro: 45 * MICRO }),
          link('B-1', null, 'B-2', null, { massMicro: 5 * MICRO }),
          link('B-1', null, 'F-1', [1, 60], { massMicro: 15 * MICRO }),
          link('B-2', null, 'F-1', [61, 100], { massMicro: 10 * MICRO }),
          link('P-1', null, 'F-1', [1, 30]),
          link('P-2', null, 'F-1', [31, 100]),
          link('G-1', [1, 3], 'U-1', [1, 3], { map: 'each' }),
        ]),
      ],
    },
    shipment('S-1', 'C-001', [1, 40]),
    shipment('S-2', 'C-002', [41, 80]),
  ]);
}

const shipment = (code: string, customer: string, span: Span) => {
  const quantityMicro = (span[1] - span[0] + 1) * MICRO;
  return {
    kind: 'ShipmentDispatched',
    v: 1,
    shipment: code,
    customer,
    customerRevision: 1,
    shippedAt: '2026-03-03T10:00:00.000Z',
    lines: [{ lot: 'F-1', spans: [span], quantityMicro }],
    moved: [{ lot: 'F-1', spans: [span], quantityMicro, from: onHand('FG-1'), to: { fate: 'dispatched', at: code } }],
  } as const;
};

describe.each(DATABASES)('trace on %s', (database) => {
  let plant: Plant;
  let recall: Client;
  const trace = async (query: string): Promise<TraceAnswer> => {
    const answer = await recall.get<TraceAnswer>(`/api/trace?${query}`);
    expect(answer.status, JSON.stringify(answer.body)).toBe(200);
    return answer.body;
  };
  const spansIn = (answer: TraceAnswer, lot: string) => answer.lots.find((one) => one.lot === lot)?.spans;

  beforeAll(async () => {
    plant = await startPlant(database);
    recall = plant.as('recall-lead');
    await catalogueFernhollow(plant);
    await smallPlant(plant);
  });
  afterAll(() => plant.stop());

  it('starts from several lots at once, and answers all of a trace for whole lots', async () => {
    const both = await trace('lots=R-1&lots=P-2');
    expect(both.origin.map(({ lot }) => lot)).toEqual(['P-2', 'R-1']);
    expect(spansIn(both, 'F-1')).toEqual([[1, 100]]);
    expect((await trace('lots=R-2')).origin).toEqual([{ lot: 'R-2', spans: null }]);
    const unknown = await recall.get<{ reasons: { lot: string }[] }>('/api/trace?lots=R-1&lots=nope&lots=neither');
    expect([unknown.status, unknown.body.reasons.map(({ lot }) => lot)]).toEqual([404, ['nope', 'neither']]);
    const [narrow, whole] = [await trace('lot=R-2&scope=both'), await trace('lot=R-2&scope=conservative&links=true')];
    expect([spansIn(narrow, 'F-1'), spansIn(whole, 'F-1')]).toEqual([[[61, 100]], [[1, 100]]]);
    expect(whole.totals).toEqual(narrow.conservative?.totals);
    expect(whole.flow?.lots.find(({ lot }) => lot === 'F-1')?.affectedQuantity).toBe('100');
  });

  it('tells how the material went from lot to lot, and what only went in beside it', async () => {
    const { flow } = await trace('lot=R-2&links=true&inputs=true');
    expect(flow!.lots.map((lot) => [lot.lot, lot.affected, lot.affectedQuantity, lot.class])).toEqual([
      ['B-1', false, '0', 'mixture'],
      ['B-2', true, '50', 'mixture'],
      ['F-1', true, '40', 'filled'],
      ['P-1', false, '0', 'packaging'],
      ['P-2', false, '0', 'packaging'],
      ['R-2', true, '100', 'raw-material'],
    ]);
    expect(flow!.links.map((one) => [one.from, one.to, one.toSpan, one.mass])).toEqual([
      ['R-2', 'B-2', null, '45'],
      ['B-1', 'B-2', null, '5'],
      ['B-1', 'F-1', [1, 60], '15'],
      ['B-2', 'F-1', [61, 100], '10'],
      ['P-1', 'F-1', [1, 30], '0'],
      ['P-2', 'F-1', [31, 100], '0'],
    ]);
    expect(flow!.parts.filter((part) => part.lot === 'F-1')).toEqual([
      {
        lot: 'F-1',
        fate: 'dispatched',
        at: 'S-1',
        customer: 'C-001',
        customerName: expect.any(String),
        quantity: '40',
        affectedQuantity: '0',
      },
      {
        lot: 'F-1',
        fate: 'dispatched',
        at: 'S-2',
        customer: 'C-002',
        customerName: expect.any(String),
        quantity: '40',
        affectedQuantity: '20',
      },
      { lot: 'F-1', fate: 'on-hand', at: 'FG-1', customer: null, customerName: null, quantity: '20', affectedQuantity: '20' },
    ]);
    const river = layoutTrace(riverOfTrace(flow!), { width: 900 });
    expect(river.nodes.filter((node) => node.affectedShare !== 0).map((node) => node.label)).toEqual(
      expect.arrayContaining(['R-2', 'B-2', 'F-1', 'C-002', 'FG-1']),
    );
    expect(river.nodes.find((node) => node.label === 'C-001')?.affectedShare).toBe(0);
  });

  it('without inputs only what was reached is in the flow; backward it ends where the origin went', async () => {
    const forward = (await trace('lot=R-2&links=true')).flow!;
    expect(forward.lots.map((lot) => lot.lot)).toEqual(['B-2', 'F-1', 'R-2']);
    expect((await trace('lot=R-2')).flow).toBeUndefined();
    const backward = (await trace('lot=F-1&pieces=1-10&direction=backward&links=true')).flow!;
    expect(backward.lots.map((lot) => lot.lot)).toEqual(['B-1', 'F-1', 'P-1', 'R-1']);
    expect(backward.parts.map((part) => [part.lot, part.at, part.affectedQuantity])).toEqual([
      ['F-1', 'S-1', '10'],
      ['F-1', 'S-2', '0'],
      ['F-1', 'FG-1', '0'],
    ]);
  });

  it('GE-3, GE-4: forward from a raw lot, through the heel, to every consignee', async () => {
    const answer = await trace('lot=R-1');
    expect(answer.lots.map((lot) => [lot.lot, lot.spans, lot.depth])).toEqual([
      ['B-1', null, 1],
      ['B-2', null, 2],
      ['F-1', [[1, 100]], 2],
    ]);
    expect(answer.lots.map((lot) => lot.share)).toEqual([1, 0.1, 0.64]);
    expect(answer.lots[2]!.shares).toEqual([
      [1, 60, 1],
      [61, 100, 0.1],
    ]);
    expect(answer.consignees).toEqual([
      { customer: 'C-001', affectedPieces: 40, shipments: [expect.objectContaining({ shipment: 'S-1', lot: 'F-1', spans: [[1, 40]] })] },
      { customer: 'C-002', affectedPieces: 40, shipments: [expect.objectContaining({ shipment: 'S-2', lot: 'F-1', spans: [[41, 80]] })] },
    ]);
    expect(answer.totals).toEqual({ lots: 3, pieces: 100, consignees: 2, dispatchedPieces: 80 });
  });

  it('narrows a label reel to its stretch, and says what the narrowing rests on', async () => {
    const answer = await trace('lot=P-1&scope=both&whereabouts=true');
    expect(spansIn(answer, 'F-1')).toEqual([[1, 30]]);
    expect(answer.conservative).toMatchObject({ totals: { pieces: 100 }, morePieces: 70 });
    expect(answer.conservative!.narrowings).toMatchObject([
      { lot: 'F-1', keptOut: [[31, 100]], pieces: 70, evidence: [{ from: 'P-1', toSpan: [1, 30] }] },
    ]);
    expect(answer.whereabouts).toEqual([
      { lot: 'F-1', fate: 'dispatched', at: 'S-1', spans: [[1, 30]], pieces: 30, quantity: '30' },
      expect.objectContaining({ lot: 'P-1', fate: 'on-hand' }),
    ]);
  });

  it('ID-4: backward from a complained-about piece to its lots', async () => {
    const answer = await trace('lot=F-1&pieces=61&direction=backward');
    expect(answer.lots.map((lot) => lot.lot)).toEqual(['B-1', 'B-2', 'P-2', 'R-1', 'R-2']);
    expect((await trace('lot=F-1&pieces=10&direction=backward')).lots.map((lot) => lot.lot)).toEqual(['B-1', 'P-1', 'R-1']);
  });

  it('GE-5: maps serial-numbered parts one to one, from either end', async () => {
    expect(spansIn(await trace('serial=g2&item=GAUGE'), 'U-1')).toEqual([[2, 2]]);
    expect(spansIn(await trace('serial=K-3&direction=backward'), 'G-1')).toEqual([[3, 3]]);
  });

  it('starts from a shipment, a supplier lot or a run', async () => {
    expect((await trace('shipment=S-2&direction=backward')).origin).toEqual([{ lot: 'F-1', spans: [[41, 80]] }]);
    expect((await trace('supplierLot=LX%20007')).origin).toEqual([{ lot: 'R-1', spans: null }]);
    expect((await trace('run=RUN-3&direction=backward')).origin).toEqual([{ lot: 'F-1', spans: null }]);
  });

  it('names everything in the question that it does not know', async () => {
    const unknown = await recall.get<{ reasons: { code: string }[] }>('/api/trace?lot=r-1&serial=k-1&shipment=S-9');
    expect(unknown.status).toBe(404);
    expect(unknown.body.reasons.map((reason) => reason.code)).toEqual(['lot-unknown', 'serial-unknown', 'shipment-unknown']);
  });

  it.each([
    ['pieces outside the lot', 'lot=F-1&pieces=90-101', 400],
    ['pieces of a bulk lot', 'lot=R-1&pieces=1', 400],
    ['pieces reversed', 'lot=F-1&pieces=9-3', 400],
    ['nothing to start from', 'direction=forward', 400],
    ['an entry that is still to come', 'lot=R-1&asKnownAt=99999', 404],
    ['an unknown parameter', 'lot=R-1&colour=red', 400],
    ['a vessel nothing was made in', 'vessel=V-1', 404],
  ])('refuses %s', async (_what, query, status) => {
    expect((await recall.get(`/api/trace?${query}`)).status).toBe(status);
  });

  it('lists single pieces as CSV', async () => {
    const answer = await recall.get<string>('/api/trace/pieces.csv?lot=P-1');
    const lines = answer.body.trimEnd().split('\r\n');
    expect(lines[0]).toBe('lot,piece,serial,shipment,customer,whereabouts');
    expect(lines).toHaveLength(31);
    expect(lines[1]).toBe('F-1,1,,S-1,C-001,dispatched S-1');
  });

  it('a link recorded late or voided changes the answer from then on, and not before', async () => {
    const before = (await trace('lot=R-2')).asKnownAt.seq;
    await recordFacts(plant, [
      { kind: 'LinkedLateForTest', v: 1, linked: [made([link('R-2', null, 'B-1', null, { massMicro: 1 * MICRO })])] },
    ]);
    const late = await trace('lot=R-2');
    expect(spansIn(late, 'F-1')).toEqual([[1, 100]]);
    expect(spansIn(await trace(`lot=R-2&asKnownAt=${before}`), 'F-1')).toEqual([[61, 100]]);
    await recordFacts(plant, [{ kind: 'LinkVoidedForTest', v: 1, voided: [{ seq: late.asKnownAt.seq, ord: 1 }] }]);
    expect(spansIn(await trace('lot=R-2'), 'F-1')).toEqual([[61, 100]]);
    expect(spansIn(await trace(`lot=R-2&asKnownAt=${late.asKnownAt.seq}`), 'F-1')).toEqual([[1, 100]]);
    await expectRebuildEqual(plant);
  });

  it('a second server on the same data answers the same, from its snapshot and without', async () => {
    const wanted = await trace('lot=R-1&scope=both&whereabouts=true');
    for (let start = 0; start < 2; start++) {
      const second = await createApp(plant.config, plant.clock);
      await second.init();
      expect(JSON.parse(JSON.stringify(await second.get(TraceService).trace({ lot: 'R-1', scope: 'both', whereabouts: true })))).toEqual(
        wanted,
      );
      await second.close();
    }
  });
});
