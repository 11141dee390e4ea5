import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readScan } from '../../shared/scan/read-scan.js';
import { catalogueFernhollow } from '../fernhollow.js';
import { type Answer, DATABASES, type Plant, startPlant } from '../harness.js';
import { makeLots } from '../made-lots.js';
import { done, refused } from '../making.js';
import { readPdf } from '../read-pdf.js';
import { readSymbols } from '../read-symbols.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Delivery {
  readonly delivery: string;
  readonly lines: readonly { readonly lot: string }[];
}

describe.each(DATABASES)('labels on %s', (database) => {
  let plant: Plant;
  let delivery: Delivery;

  const scans = async (path: string, dpi = 300) => {
    const pages = await readSymbols(await plant.as('auditor').bytes(path), dpi);
    return pages.map((symbols) => symbols.map(({ scan }) => readScan(scan, plant.clock.now().slice(0, 10))));
  };
  const words = async (path: string) => (await readPdf(await plant.as('operator').bytes(path))).pages.map(({ text }) => text);
  const refusal = async (path: string): Promise<string[]> => refused(await plant.as('operator').get(path));
  const book = async (document: string, lines: readonly object[]): Promise<Delivery> =>
    done(
      await plant.as('clerk').post<Delivery>('/api/deliveries', {
        supplier: 'S-WAX',
        documentType: 'delivery note',
        document,
        location: 'DOCK',
        condition: 'sound',
        lines,
      }),
    );

  beforeAll(async () => {
    plant = await startPlant(database, { plantName: 'Fernhollow Works' });
    await catalogueFernhollow(plant);
    delivery = await book('DN-1', [
      { item: 'OIL-40', quantity: '200.5', supplierLot: 'L 7/03', expiresOn: '2027-01-31' },
      { item: 'WAX-BASE', quantity: '1250' },
    ]);
    await makeLots(plant, [
      { lot: 'F26-00012', item: 'WAX-250', pieces: 480, expiresOn: '2028-02-20' },
      { lot: 'A26-00003', item: 'PUMP', pieces: 2, serials: ['K-02291', 'K 2'] },
    ]);
  });
  afterAll(() => plant.stop());

  it('ID-10, ID-1: every lot of a delivery has a label that names lot and item, and a scan of it opens the record', async () => {
    const pages = await scans(`/api/deliveries/${delivery.delivery}/labels.pdf`);
    expect(pages).toMatchObject(delivery.lines.map(({ lot }, i) => [{ kind: 'gs1', lot, item: ['OIL-40', 'WAX-BASE'][i], cautions: [] }]));
    for (const [scan] of pages) {
      const lot = scan?.kind === 'gs1' ? scan.lot : null;
      expect((await plant.as('clerk').get<{ lot: string }>(`/api/lots/${lot}`)).body.lot).toBe(lot);
    }
  });

  it('ID-5: a label of a received lot prints our code and the supplier’s, and says when we gave one', async () => {
    const [oil, wax] = await words(`/api/deliveries/${delivery.delivery}/labels.pdf`);
    expect(oil).toContain(`${delivery.lines[0]!.lot} Carrier oil 40`);
    expect(oil).toMatch(/Quantity received 200\.5 L Use by 31 Jan 2027 Received 2 Mar 2026 .* L 7\/03/);
    expect(wax).toContain('no lot code of theirs');
    for (const text of [oil, wax]) expect(text).toContain('QUARANTINE until released: scan for its state now');
    for (const text of [oil, wax]) expect(text).not.toContain('DEMO');
  });

  it('ID-10: a lot made here is labelled with its GTIN, lot and expiry, a unit with its GTIN and serial number', async () => {
    expect(await scans('/api/lots/F26-00012/labels.pdf')).toMatchObject([
      [{ gtin: '09506000134352', lot: 'F26-00012', expiresOn: '2028-02-20', item: null }],
    ]);
    expect(await scans('/api/units/PUMP/K-02291/label.pdf')).toMatchObject([
      [{ gtin: '09506000134369', serial: 'K-02291', lot: 'A26-00003' }],
    ]);
    expect(await scans('/api/units/PUMP/K%202/label.pdf')).toMatchObject([[{ kind: 'plain', text: 'K 2' }]]);
    expect((await words('/api/lots/F26-00012/labels.pdf'))[0]).toContain('Quantity made 480 pieces');
  });

  it('copies on a roll and on sheets', async () => {
    expect(await words('/api/lots/F26-00012/labels.pdf?copies=3')).toHaveLength(3);
    const sheets = await scans('/api/lots/F26-00012/labels.pdf?copies=10&sheet=a4', 150);
    expect(sheets.map((symbols) => symbols.length)).toEqual([8, 2]);
  });

  it('refusals name every reason', async () => {
    expect(await refusal('/api/deliveries/D-99999/labels.pdf')).toEqual(['delivery-unknown']);
    expect(await refusal('/api/lots/nothing/labels.pdf')).toEqual(['lot-unknown']);
    expect(await refusal('/api/units/PUMP/K-1/label.pdf')).toEqual(['serial-unknown']);
    for (const query of ['sheet=a5', 'copies=0', 'copies=101', 'copies=two', 'copies=1.5', 'size=big']) {
      const answer: Answer = await plant.as('clerk').get(`/api/lots/F26-00012/labels.pdf?${query}`);
      expect(answer.status, query).toBe(400);
    }
    const many = await book(
      'DN-2',
      Array.from({ length: 11 }, () => ({ item: 'OIL-40', quantity: '1', supplierLot: 'X' })),
    );
    expect(await refusal(`/api/deliveries/${many.delivery}/labels.pdf?copies=100`)).toEqual(['too-many-labels']);
    done(await plant.as('clerk').post(`/api/deliveries/${many.delivery}/reversal`, { reason: 'booked twice' }));
    expect(await refusal(`/api/deliveries/${many.delivery}/labels.pdf?copies=100`)).toEqual(['delivery-reversed', 'too-many-labels']);
  });

  it('printing changes nothing', async () => {
    await expectRebuildEqual(plant);
  });
});

describe('labels of the demonstration', () => {
  it('say so', async () => {
    const plant = await startPlant('sqlite', { plantName: 'Fernhollow Works', demo: true });
    await catalogueFernhollow(plant);
    await makeLots(plant, [{ lot: 'F26-00012', item: 'WAX-250', pieces: 480 }]);
    const { pages } = await readPdf(await plant.as('clerk').bytes('/api/lots/F26-00012/labels.pdf'));
    expect(pages[0]!.text).toContain('DEMO');
    await plant.stop();
  });
});
