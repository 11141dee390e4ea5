import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DATABASES, type Plant, startPlant } from '../harness.js';

describe.each(DATABASES)('receiving on %s', (database) => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant(database);
  });
  afterAll(() => plant.stop());

  it('refuses an unknown supplier, location and item in one answer', async () => {
    const answer = await plant.as('clerk').post<{ reasons: { code: string; pointer: string }[] }>('/api/deliveries', {
      supplier: 'S-404',
      documentType: 'delivery note',
      document: '1',
      location: 'NOWHERE',
      condition: 'sound',
      lines: [{ item: 'X', quantity: '1' }],
    });
    expect(answer.status).toBe(404);
    expect(answer.body.reasons.map((reason) => reason.pointer)).toEqual(['/supplier', '/location', '/lines/0/item']);
  });
});
