import { expect } from 'vitest';
import { verifyRecord } from '../src/server/record/verify.js';
import type { Plant } from './harness.js';

/**
 * The record of this plant is whole: the chain holds, a replay of the ledger into empty tables gives the rows that stand, and nothing
 * was lost or doubled. Call it at the end of every flow.
 */
export async function expectRebuildEqual(plant: Pick<Plant, 'config'>): Promise<void> {
  const { faults } = await verifyRecord(plant.config);
  expect(faults).toEqual([]);
}
