import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { verifyRecord } from '../../src/server/record/verify.js';
import { catalogueFernhollow, receive, receiveReleased } from '../fernhollow.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';
import { expectRebuildEqual } from '../rebuild.js';

describe.each(DATABASES)('verify on %s', (database) => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    await receiveReleased(plant, [
      { item: 'WAX-BASE', quantity: '400' },
      { item: 'CAN-250', quantity: '5000' },
    ]);
    await receive(plant, [{ item: 'GAUGE', quantity: '2', serials: ['G-1', 'G-2'] }]);
  });
  afterAll(() => plant.stop());

  it('finds nothing wrong with a record that commands wrote', async () => {
    await expectRebuildEqual(plant);
    const report = await verifyRecord(plant.config);
    expect(report).toMatchObject({ ok: true, faults: [] });
    expect(report.entries).toBeGreaterThan(3);
  });
});
