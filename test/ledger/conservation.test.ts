import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openReader } from '../../src/server/platform/database/data-source.js';
import { conservationFaults } from '../../src/server/record/conservation.js';
import { linkFaults } from '../../src/server/record/link-faults.js';
import { restoreRecord } from '../../src/server/record/restore.js';
import { SCHEMA } from '../../src/server/schema.js';
import { DATABASES } from '../harness.js';
import { type Place, place } from './place.js';

const current = `"until_seq" IS NULL`;

/** Rows that no replay would give, and what conservation alone says to them. */
const WRONG: readonly (readonly [what: string, where: string, why: string, ...statements: string[]])[] = [
  [
    'quantity-not-conserved',
    'lot R26-00001',
    'a kilogram too much on hand',
    `UPDATE "whereabout" SET "quantity" = 61000000 WHERE "lot_id" = 1 AND "fate" = 'on-hand' AND ${current}`,
  ],
  [
    'quantity-not-conserved',
    'lot R26-00001',
    'a kilogram too much in the past only',
    `UPDATE "whereabout" SET "quantity" = 101000000 WHERE "lot_id" = 1 AND "since_seq" = 2`,
  ],
  [
    'quantity-not-conserved',
    'lot R26-00005',
    'a part that ended and went nowhere',
    `UPDATE "whereabout" SET "until_seq" = 6 WHERE "lot_id" = 5`,
  ],
  ['nowhere', 'lot R26-00005', 'no part of a lot anywhere', `DELETE FROM "whereabout" WHERE "lot_id" = 5`],
  [
    'below-nothing',
    'lot R26-00001',
    'less than nothing on hand',
    `UPDATE "whereabout" SET "quantity" = -60000000 WHERE "lot_id" = 1 AND "fate" = 'on-hand' AND ${current}`,
  ],
  [
    'pieces-miscounted',
    'lot C26-00002',
    'a count that is not that of the pieces',
    `UPDATE "whereabout" SET "quantity" = 1500000 WHERE "lot_id" = 2 AND "fate" = 'consumed'`,
  ],
  [
    'pieces-not-conserved',
    'lot C26-00002',
    'a piece that is nowhere',
    `UPDATE "whereabout" SET "spans" = '4' WHERE "lot_id" = 2 AND "fate" = 'on-hand' AND ${current}`,
  ],
  [
    'piece-twice',
    'lot C26-00002',
    'a piece at two places',
    `UPDATE "whereabout" SET "spans" = '2' WHERE "lot_id" = 2 AND "fate" = 'on-hand' AND ${current}`,
  ],
  [
    'pieces-miscounted',
    'lot C26-00002',
    'text that is no list of pieces',
    `UPDATE "whereabout" SET "spans" = 'many' WHERE "lot_id" = 2 AND "fate" = 'consumed'`,
  ],
  ['no-status', 'lot R26-00005', 'no quality status', `DELETE FROM "lot_status" WHERE "lot_id" = 5`],
  [
    'status-not-one',
    'lot R26-00005',
    'two statuses of one bulk lot',
    `INSERT INTO "lot_status" ("lot_id", "status", "since_seq") VALUES (5, 'released', 5)`,
  ],
  [
    'piece-twice',
    'lot F26-00003',
    'cans in two statuses',
    `INSERT INTO "lot_status" ("lot_id", "status", "since_seq", "spans") VALUES (3, 'quarantine', 3, '7-9')`,
  ],
  ['pieces-not-conserved', 'lot F26-00003', 'cans in no status', `UPDATE "lot_status" SET "spans" = '1-399' WHERE "lot_id" = 3`],
];

const LINKS: readonly (readonly [why: string, statement: string])[] = [
  ['a lot that does not exist', `UPDATE "link" SET "from_lot" = 99 WHERE "ord" = 1`],
  ['pieces of a bulk lot', `UPDATE "link" SET "from_first" = 1, "from_last" = 2 WHERE "ord" = 1`],
  ['no pieces of a numbered lot', `UPDATE "link" SET "to_first" = 0, "to_last" = 0 WHERE "ord" = 1`],
  ['a piece past the last', `UPDATE "link" SET "to_last" = 401 WHERE "ord" = 1`],
  ['a span that ends before it begins', `UPDATE "link" SET "to_first" = 9, "to_last" = 8 WHERE "ord" = 1`],
];

describe.each(DATABASES)('conservation on %s (L-9, L-10)', (database) => {
  let untouched: Place;
  const places: Place[] = [];
  beforeAll(async () => {
    untouched = await place(database);
    await restoreRecord(untouched.config, 'fixtures/tampered/untouched.jsonl');
  });
  afterAll(() => [untouched, ...places].forEach((one) => one.remove()));

  const faults = async (statements: readonly string[]): Promise<string[]> => {
    const spoilt = await place(database, untouched);
    places.push(spoilt);
    await spoilt.statements(statements);
    const reader = await openReader(spoilt.config, SCHEMA);
    try {
      const found = await linkFaults(reader.manager, 10);
      for await (const fault of conservationFaults(reader.manager)) found.push(fault);
      return found.map(({ what, where }) => `${what} | ${where}`);
    } finally {
      await reader.destroy();
    }
  };

  it('holds of an untouched record', async () => expect(await faults([])).toEqual([]));

  it.each(WRONG)('%s, %s: %s', async (what, where, _why, ...statements) => {
    expect(await faults(statements)).toContain(`${what} | ${where}`);
  });

  it('lets a count find more than the record knew', async () => {
    const found = await faults([
      `UPDATE "whereabout" SET "until_seq" = 6 WHERE "lot_id" = 1 AND "fate" = 'on-hand' AND ${current}`,
      `INSERT INTO "whereabout" ("lot_id", "fate", "at", "since_seq", "quantity") VALUES (1, 'on-hand', 'DOCK', 6, 61000000)`,
      `INSERT INTO "whereabout" ("lot_id", "fate", "at", "since_seq", "quantity") VALUES (1, 'count-difference', 'CN-0001', 6, -1000000)`,
    ]);
    expect(found).toEqual([]);
  });

  it.each(LINKS)('a link names %s', async (_why, statement) => {
    expect(await faults([statement])).toContain('link-outside-lot | link seq=4 ord=1');
  });
});
