import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { DataSource } from 'typeorm';
import { CommandGate } from '../../src/server/platform/database/gate.js';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { type Plant, startPlant } from '../harness.js';
import { expectRebuildEqual } from '../rebuild.js';
import { everything } from './everything.js';

/**
 * The disk fills up. SQLite is told that the file may have no more pages than it has: the same error, SQLITE_FULL, in the same places
 * as when the file system has no room, without filling one.
 */
describe('a full disk (L-14)', () => {
  let plant: Plant;
  let writer: DataSource;
  beforeAll(async () => {
    plant = await startPlant('sqlite', { logLevel: 'fatal' });
    await catalogueFernhollow(plant);
    await receive(plant, [{ item: 'WAX-BASE', quantity: '400' }]);
    ({ writer } = plant.app.get<unknown, { writer: DataSource }>(CommandGate));
  });
  afterAll(() => plant.stop());

  const allowPages = async (more: number): Promise<void> => {
    const [{ page_count: pages }] = await writer.query<[{ page_count: number }]>('PRAGMA page_count');
    await writer.query(`PRAGMA max_page_count = ${pages + more}`);
  };

  const book = (document: string) =>
    plant.as('clerk').post<{ type: string; detail: string; lines: { lot: string }[] }>('/api/deliveries', {
      commandId: document,
      supplier: 'S-WAX',
      documentType: 'delivery note',
      document,
      location: 'DOCK',
      condition: 'sound '.repeat(80),
      lines: Array.from({ length: 20 }, (_, i) => ({ item: 'WAX-BASE', quantity: '1', supplierLot: `${document}-${i}-${'x'.repeat(30)}` })),
    });

  it.each([0, 1, 2, 5, 9])(
    'refuses what does not fit with 507, leaves nothing of it, goes on reading and recovers (%i pages left)',
    async (pages) => {
      await allowPages(pages);
      let refused: string | null = null;
      for (let i = 0; i < 30 && refused === null; i += 1) {
        const before = await everything(plant);
        const answer = await book(`FULL-${pages}-${i}`);
        if (answer.status === 201) continue;
        expect(answer.status, JSON.stringify(answer.body)).toBe(507);
        expect(answer.body).toMatchObject({ type: '/problems/no-room' });
        expect(await everything(plant)).toEqual(before);
        refused = `FULL-${pages}-${i}`;
      }
      expect(refused).not.toBeNull();
      // reading goes on, and so do the refusals
      expect((await plant.as('auditor').get('/api/deliveries')).status).toBe(200);
      expect((await plant.as('auditor').get('/api/ledger/entries')).status).toBe(200);
      expect((await book(`STILL-${pages}`)).status).toBe(507);
      await allowPages(1_000_000);
      expect((await book(refused!)).status).toBe(201); // the same command, sent again
      await expectRebuildEqual(plant);
    },
  );

  it('refuses each command of a group that does not fit, and keeps whole those that do', async () => {
    await allowPages(12);
    const answers = await Promise.all(Array.from({ length: 24 }, (_, i) => book(`GROUP-${i}`)));
    expect(answers.filter((answer) => answer.status !== 201 && answer.status !== 507)).toEqual([]);
    expect(answers.some((answer) => answer.status === 507)).toBe(true);
    await allowPages(1_000_000);
    await expectRebuildEqual(plant);
    const booked = (await plant.as('auditor').get<{ document: string }[]>('/api/deliveries')).body.map((delivery) => delivery.document);
    answers.forEach((answer, i) => expect(booked.includes(`GROUP-${i}`)).toBe(answer.status === 201));
  });
});
