import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MICRO } from '../../shared/quantity.js';
import { onHand } from '../../src/server/plant/stock/effects.facts.js';
import { catalogueFernhollow, receive, recordFacts } from '../fernhollow.js';
import { DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { makeLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Document {
  readonly document: string;
  readonly seq: number;
  readonly moved: readonly { readonly pieces: string | null; readonly quantity: string; readonly toFate: string; readonly toAt: string }[];
}
interface Refused {
  readonly reasons: readonly { readonly code: string }[];
}
const codes = (body: Refused): string[] => body.reasons.map((reason) => reason.code);

describe.each(DATABASES)('stock on %s', (database) => {
  let plant: Plant;
  let wax: string;
  const post = async (path: string, body: object): Promise<Document> => {
    const answer = await plant.as('quality').post<Document>(`/api/stock/${path}`, { reason: 'as the test says', ...body });
    expect(answer.status, JSON.stringify(answer.body)).toBe(201);
    return answer.body;
  };
  const refused = async (path: string, body: object): Promise<string[]> =>
    codes((await plant.as('quality').post<Refused>(`/api/stock/${path}`, { reason: 'as the test says', ...body })).body);

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    [wax] = (await receive(plant, [{ item: 'WAX-BASE', quantity: '100.000001' }])) as [string];
    await recordFacts(plant, [
      {
        kind: 'FilledForTest',
        v: 1,
        born: [
          {
            lot: 'F-1',
            item: 'WAX-250',
            itemRevision: 1,
            unit: 'each',
            pieces: 100,
            quantityMicro: 100 * MICRO,
            origin: 'made',
            bornAt: '2026-03-02T08:00:00.000Z',
            place: onHand('FG-1'),
            status: 'released',
            source: 'RUN-1',
          },
        ],
      },
    ]);
  });
  afterAll(() => plant.stop());

  it('ID-7: a move splits a lot over locations and makes no new one', async () => {
    const moved = await post('moves', { lot: wax, quantity: '40.5', from: 'DOCK', to: 'RACK-1' });
    expect(moved.moved).toEqual([expect.objectContaining({ quantity: '40.5', toFate: 'on-hand', toAt: 'RACK-1' })]);
    expect((await post('moves', { lot: 'F-1', pieces: '1-10,50', to: 'QUAR' })).moved[0]).toMatchObject({
      pieces: '1-10,50',
      toAt: 'QUAR',
    });
  });

  it.each([
    ['more than is there', 'moves', { quantity: '60', from: 'DOCK', to: 'QUAR' }, ['not-enough-left']],
    ['to nowhere', 'moves', { quantity: '1', to: 'NOWHERE' }, ['location-unknown']],
    ['into a vessel', 'moves', { quantity: '1', to: 'V-1' }, ['charge-instead']],
    ['from a place to itself', 'moves', { quantity: '1', from: 'DOCK', to: 'DOCK' }, ['same-place']],
    ['nothing at all', 'scrap', {}, ['quantity-missing']],
    ['less than nothing', 'scrap', { quantity: '-1' }, ['quantity-not-positive']],
    ['pieces of a bulk lot', 'scrap', { pieces: '1' }, ['no-pieces-here']],
    ['a sample kept where none are kept', 'retains', { quantity: '1', at: 'DOCK' }, ['not-for-retains']],
    ['stock carried among the retain samples', 'moves', { quantity: '1', to: 'RETAIN' }, ['retain-instead']],
    ['a retain sample carried as stock', 'moves', { quantity: '1', from: 'RETAIN', to: 'QUAR' }, ['take-back-instead', 'not-enough-left']],
    [
      'a sample taken back into a vessel',
      'retains/taken-back',
      { quantity: '1', at: 'RETAIN', to: 'V-1' },
      ['charge-instead', 'not-enough-left'],
    ],
    ['a count of pieces of a bulk lot', 'counts', { location: 'DOCK', pieces: '1' }, ['no-pieces-here', 'quantity-missing']],
    ['a count of less than nothing', 'counts', { location: 'DOCK', quantity: '-1' }, ['quantity-negative']],
    ['a count of something and nothing', 'counts', { location: 'DOCK', quantity: '1', nothing: true }, ['something-and-nothing']],
    ['a count without what was counted', 'counts', { location: 'DOCK' }, ['quantity-missing']],
    ['a count where no place is', 'counts', { location: 'NOWHERE', quantity: '1' }, ['location-unknown']],
  ])('refuses %s', async (_what, path, body, expected) => {
    expect(await refused(path, { lot: wax, ...body })).toEqual(expected);
  });

  it('keeps a retain sample and puts it back', async () => {
    await post('retains', { lot: wax, quantity: '0.5', at: 'RETAIN' });
    expect(await refused('retains/taken-back', { lot: wax, quantity: '0.6', at: 'RETAIN', to: 'RACK-1' })).toEqual(['not-enough-left']);
    await post('retains/taken-back', { lot: wax, quantity: '0.2', at: 'RETAIN', to: 'RACK-1' });
  });

  it('counts: what is missing, and what is found again, stand as differences', async () => {
    const lost = await post('counts', { lot: 'F-1', location: 'FG-1', pieces: '11-49,51-98' });
    expect(lost.moved).toEqual([expect.objectContaining({ pieces: '99-100', toFate: 'count-difference' })]);
    const found = await post('counts', { lot: 'F-1', location: 'FG-1', pieces: '11-49,51-99' });
    expect(found.moved).toEqual([expect.objectContaining({ pieces: '99', toFate: 'on-hand' })]);
    expect(await refused('counts', { lot: 'F-1', location: 'FG-1', pieces: '1,11-49' })).toEqual(['pieces-elsewhere']);
    await post('counts', { lot: wax, location: 'DOCK', quantity: '60' });
  });

  it('scrap, test and return to the supplier take from stock; only a received lot goes back to a supplier', async () => {
    await post('scrap', { lot: 'F-1', pieces: '60-61', evidence: 'skip 14, seen by two' });
    await post('tests', { lot: 'F-1', pieces: '62' });
    await post('supplier-returns', { lot: wax, quantity: '5', supplierDocument: 'RMA 8' });
    expect(await refused('supplier-returns', { lot: 'F-1', pieces: '63', supplierDocument: 'RMA 9' })).toEqual(['no-supplier']);
    expect(await refused('scrap', { lot: 'F-1', pieces: '60-63' })).toEqual(['pieces-not-there']);
  });

  it('a wrong document is undone by one that names it, once, and only while the goods are where it put them', async () => {
    const wrong = await post('moves', { lot: 'F-1', pieces: '70-72', from: 'FG-1', to: 'QUAR' });
    const undone = await post('corrections', { corrects: wrong.document });
    expect(undone.moved).toEqual([expect.objectContaining({ pieces: '70-72', toAt: 'FG-1' })]);
    expect(await refused('corrections', { corrects: wrong.document })).toContain('corrected-before');
    const onward = await post('moves', { lot: 'F-1', pieces: '80', from: 'FG-1', to: 'QUAR' });
    await post('scrap', { lot: 'F-1', pieces: '80' });
    expect(await refused('corrections', { corrects: onward.document })).toEqual(['moved-on']);
    expect((await plant.as('auditor').get<Document[]>('/api/stock/documents?lot=F-1')).body.length).toBeGreaterThan(7);
    expect((await plant.as('auditor').get('/api/stock/documents?lot=f-1')).status).toBe(404);
  });

  describe('of lots of its own', () => {
    const onHandOf = async (lot: string): Promise<Record<string, string>> => {
      const page = await plant.as('auditor').get<{ places: { fate: string; at: string; quantity: string }[] }>(`/api/lots/${lot}`);
      return Object.fromEntries(page.body.places.map(({ fate, at, quantity }) => [fate === 'on-hand' ? at : `${fate} ${at}`, quantity]));
    };

    it('S-10: a gain and a loss of a bulk lot stand as differences, and every one can be undone', async () => {
      const [lot] = (await receive(plant, [{ item: 'SOLV', quantity: '10' }])) as [string];
      const more = await post('counts', { lot, location: 'DOCK', quantity: '10.5' });
      expect(await onHandOf(lot)).toEqual({ DOCK: '10.5', [`count-difference ${more.document}`]: '-0.5' });
      const less = await post('counts', { lot, location: 'DOCK', quantity: '9' });
      const none = await post('counts', { lot, location: 'DOCK', nothing: true });
      expect(await onHandOf(lot)).toMatchObject({
        [`count-difference ${less.document}`]: '1.5',
        [`count-difference ${none.document}`]: '9',
      });
      expect((await post('counts', { lot, location: 'DOCK', quantity: '0' })).moved).toEqual([]);
      for (const { document } of [none, less, more]) await post('corrections', { corrects: document });
      expect(await onHandOf(lot)).toEqual({ DOCK: '10' });
    });

    it('S-10: pieces of which none is found, pieces the lot never had, and where the others are', async () => {
      await makeLots(plant, [{ lot: 'F-2', item: 'WAX-250', pieces: 10 }]);
      await post('moves', { lot: 'F-2', pieces: '9-10', to: 'QUAR' });
      expect(await refused('counts', { lot: 'F-2', location: 'FG-1', pieces: '1-11' })).toEqual(['pieces-outside-lot']);
      expect(await refused('counts', { lot: 'F-2', location: 'FG-1', quantity: '8' })).toEqual(['pieces-not-quantity', 'pieces-missing']);
      const elsewhere = await plant
        .as('quality')
        .post<Refused>('/api/stock/counts', { lot: 'F-2', location: 'FG-1', pieces: '1-9', reason: 'count' });
      expect(JSON.stringify(elsewhere.body)).toContain('9 at QUAR');
      expect((await post('counts', { lot: 'F-2', location: 'FG-1', nothing: true })).moved).toEqual([
        expect.objectContaining({ pieces: '1-8' }),
      ]);
      expect((await post('counts', { lot: 'F-2', location: 'FG-1', pieces: '3-4' })).moved).toEqual([
        expect.objectContaining({ pieces: '3-4', toAt: 'FG-1' }),
      ]);
    });

    it('S-7, S-8: a retain sample is destroyed in a test, scrapped or counted where it is kept', async () => {
      await makeLots(plant, [{ lot: 'F-3', item: 'WAX-250', pieces: 10 }]);
      await post('retains', { lot: 'F-3', pieces: '1-4', at: 'RETAIN' });
      expect(await refused('tests', { lot: 'F-3', pieces: '1' })).toEqual(['pieces-not-there']);
      const test = await post('tests', { lot: 'F-3', pieces: '1', from: 'RETAIN', evidence: 'report 5' });
      const scrap = await post('scrap', { lot: 'F-3', pieces: '2', from: 'RETAIN' });
      const count = await post('counts', { lot: 'F-3', location: 'RETAIN', pieces: '3' });
      expect(await onHandOf('F-3')).toEqual({
        'FG-1': '6',
        'retained RETAIN': '1',
        [`destroyed-in-test ${test.document}`]: '1',
        [`scrapped ${scrap.document}`]: '1',
        [`count-difference ${count.document}`]: '1',
      });
      await post('corrections', { corrects: test.document });
      expect(await onHandOf('F-3')).toMatchObject({ 'retained RETAIN': '2' });
    });

    it('S-11: what two places gave to one is undone together or not at all', async () => {
      const [lot] = (await receive(plant, [{ item: 'DYE-BLU', quantity: '10' }])) as [string];
      await post('moves', { lot, quantity: '4', from: 'DOCK', to: 'QUAR' });
      const gathered = await post('moves', { lot, quantity: '10', to: 'RACK-1' });
      expect(gathered.moved.map(({ quantity }) => quantity)).toEqual(['6', '4']);
      const scrap = await post('scrap', { lot, quantity: '3' });
      expect(await refused('corrections', { corrects: gathered.document })).toEqual(['moved-on']);
      const undone = await post('corrections', { corrects: scrap.document });
      expect(await refused('corrections', { corrects: undone.document })).toEqual(['is-correction']);
      await post('corrections', { corrects: gathered.document });
      expect(await onHandOf(lot)).toEqual({ DOCK: '6', QUAR: '4' });
      expect(await refused('corrections', { corrects: 'MV-9999' })).toEqual(['document-unknown']);
      const documents = await plant
        .as('auditor')
        .get<(Document & { correctsSeq: number | null; correctedSeq: number | null })[]>(`/api/stock/documents?lot=${lot}`);
      const correction = documents.body.find((one) => one.correctsSeq === gathered.seq)!;
      expect(documents.body.find((one) => one.seq === gathered.seq)!.correctedSeq).toBe(correction.seq);
    });

    it('H-8: what is in quarantine and held is moved and scrapped, not charged or shipped', async () => {
      const [lot] = (await receive(plant, [{ item: 'RUST-INH', quantity: '10' }])) as [string];
      await plant.as('quality').post('/api/holds', { parts: [{ lot }], reaches: true, reason: 'rust', password: PASSWORD });
      await post('moves', { lot, quantity: '10', to: 'QUAR' });
      await post('scrap', { lot, quantity: '1', evidence: 'skip 3' });
      await post('supplier-returns', { lot, quantity: '9', supplierDocument: 'RMA 11' });
      expect(Object.keys(await onHandOf(lot)).every((place) => !place.startsWith('on-hand') && place !== 'DOCK' && place !== 'QUAR')).toBe(
        true,
      );
    });

    it('S-1: what is counted is whole', async () => {
      const [lot] = (await receive(plant, [{ item: 'LID-250', quantity: '10' }], 'S-PACK')) as [string];
      for (const [path, body] of [
        ['moves', { to: 'RACK-1', quantity: '0.5' }],
        ['scrap', { quantity: '0.5' }],
        ['counts', { location: 'DOCK', quantity: '9.5' }],
      ] as const) {
        expect(await refused(path, { lot, ...body })).toEqual(['not-whole']);
      }
    });

    it('two people who take the last of a lot at once: one gets it, the other hears why not', async () => {
      const [lot] = (await receive(plant, [{ item: 'OIL-40', quantity: '1' }])) as [string];
      const take = () => plant.as('quality').post<Refused>('/api/stock/scrap', { lot, quantity: '1', reason: 'last one' });
      const answers = await Promise.all([take(), take(), take()]);
      expect(answers.map(({ status }) => status).toSorted((a, b) => a - b)).toEqual([201, 409, 409]);
      expect(codes(answers.find(({ status }) => status === 409)!.body)).toEqual(['not-enough-left']);
    });
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
