import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MICRO } from '../../shared/quantity.js';
import { onHand } from '../../src/server/plant/stock/effects.facts.js';
import { catalogueFernhollow, receive, recordFacts } from '../fernhollow.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';
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
    expect((await post('moves', { lot: 'F-1', pieces: '1-10,50', to: 'QUAR' })).moved[0]).toMatchObject({ pieces: '1-10,50', toAt: 'QUAR' });
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
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
