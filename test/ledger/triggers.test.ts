import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { restoreRecord } from '../../src/server/record/restore.js';
import { verifyRecord } from '../../src/server/record/verify.js';
import { DATABASES, type Database } from '../harness.js';
import { type Place, place } from './place.js';

const APPEND_ONLY = /append-only/;
const NO_GAP = /no gap and no second entry/;

const insert = (seq: string, verb = 'INSERT') =>
  `${verb} INTO "ledger_entry" ("seq", "at", "actor", "kind", "v", "body", "hash")
   SELECT ${seq}, "at", "actor", "kind", "v", "body", "hash" FROM "ledger_entry" WHERE "seq" = 5`;

/** Statement by somebody who goes past the program, and what the database says to it. */
const REFUSED: readonly (readonly [name: string, statement: string, why: RegExp, only?: Database])[] = [
  ['an update of a text', `UPDATE "ledger_entry" SET "body" = '{}' WHERE "seq" = 2`, APPEND_ONLY],
  ['an update of nothing but a column', `UPDATE "ledger_entry" SET "actor" = 'wren' WHERE "seq" = 2`, APPEND_ONLY],
  ['a renumbering', `UPDATE "ledger_entry" SET "seq" = "seq" + 100`, APPEND_ONLY],
  ['a delete', `DELETE FROM "ledger_entry" WHERE "seq" = 6`, APPEND_ONLY],
  ['a delete of all', `DELETE FROM "ledger_entry"`, APPEND_ONLY],
  ['a gap', insert('8'), NO_GAP],
  ['an entry before the first', insert('0'), NO_GAP],
  ['a negative number', insert('-1'), NO_GAP],
  ['a second entry of a number', insert('6'), NO_GAP],
  [
    'two entries at once of one number',
    `${insert('7')} UNION ALL SELECT 7, "at", "actor", "kind", "v", "body", "hash" FROM "ledger_entry" WHERE "seq" = 6`,
    NO_GAP,
  ],
  ['an insert that replaces', insert('2', 'INSERT OR REPLACE'), NO_GAP, 'sqlite'],
  ['a replace', insert('2', 'REPLACE'), NO_GAP, 'sqlite'],
  ['an insert that ignores a clash', insert('2', 'INSERT OR IGNORE'), NO_GAP, 'sqlite'],
  ['an update that replaces', `UPDATE OR REPLACE "ledger_entry" SET "seq" = 2 WHERE "seq" = 3`, APPEND_ONLY, 'sqlite'],
  ['a truncate', 'TRUNCATE "ledger_entry"', APPEND_ONLY, 'postgres'],
  ['an insert that updates on a clash', `${insert('2')} ON CONFLICT ("seq") DO UPDATE SET "body" = '{}'`, NO_GAP, 'postgres'],
];

describe.each(DATABASES)('the database refuses on %s (L-3)', (database) => {
  let ledger: Place;
  beforeAll(async () => {
    ledger = await place(database);
    await restoreRecord(ledger.config, 'fixtures/tampered/untouched.jsonl');
  });
  afterAll(() => ledger.remove());

  it.each(
    REFUSED.filter(([, , , only]) => only === undefined || only === database).map(
      ([name, statement, why]) => [name, statement, why] as const,
    ),
  )('%s', async (_name, statement, why) => {
    await expect(ledger.statements([statement])).rejects.toThrow(why);
    expect(await verifyRecord(ledger.config)).toMatchObject({ ok: true, entries: 6 });
  });

  it('even when the connection does not ask for recursive triggers', async () => {
    if (database === 'postgres') return;
    await expect(ledger.statements(['PRAGMA recursive_triggers = OFF', insert('2', 'INSERT OR REPLACE')])).rejects.toThrow(NO_GAP);
  });
});
