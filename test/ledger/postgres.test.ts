import { randomBytes } from 'node:crypto';
import { Client } from 'pg';
import { afterAll, describe, expect, inject, it } from 'vitest';
import type { Config } from '../../src/server/platform/config.js';
import { rebuildRecord } from '../../src/server/record/rebuild.js';
import { restoreRecord } from '../../src/server/record/restore.js';
import { verifyRecord } from '../../src/server/record/verify.js';
import { type Place, place } from './place.js';

const UNTOUCHED = 'fixtures/tampered/untouched.jsonl';

/** What is true of PostgreSQL only: who may check, and in which order a database sorts. */
describe('checking a record on PostgreSQL', () => {
  const places: Place[] = [];
  afterAll(() => places.forEach((one) => one.remove()));

  const asSuperuser = async (database: string, ...statements: readonly string[]): Promise<void> => {
    const client = new Client(`${inject('postgresUrl')}/${database}`);
    await client.connect();
    for (const statement of statements) await client.query(statement);
    await client.end();
  };
  const nameOf = (config: Config): string => new URL(config.databaseUrl!).pathname.slice(1);
  const withUser = (config: Config, user: string): Config => {
    const url = new URL(config.databaseUrl!);
    [url.username, url.password] = [user, 'pw'];
    return { ...config, databaseUrl: url.href };
  };

  it('needs no more than reading: a role that may only read can verify', async () => {
    const restored = await place('postgres');
    places.push(restored);
    await restoreRecord(restored.config, UNTOUCHED);
    const role = `r_${randomBytes(4).toString('hex')}`;
    await asSuperuser(
      nameOf(restored.config),
      `CREATE ROLE ${role} LOGIN PASSWORD 'pw'`,
      `GRANT SELECT ON ALL TABLES IN SCHEMA public TO ${role}`,
    );
    expect(await verifyRecord(withUser(restored.config, role))).toMatchObject({ ok: true, entries: 6 });
  });

  it('needs no more than owning the tables: an ordinary owner can restore and rebuild', async () => {
    const empty = await place('postgres');
    places.push(empty);
    const role = `r_${randomBytes(4).toString('hex')}`;
    await asSuperuser('postgres', `CREATE ROLE ${role} LOGIN PASSWORD 'pw'`, `ALTER DATABASE ${nameOf(empty.config)} OWNER TO ${role}`);
    const config = withUser(empty.config, role);
    expect(await restoreRecord(config, UNTOUCHED)).toMatchObject({ ok: true, entries: 6 });
    await empty.statements([`DELETE FROM "link"`]);
    expect(await rebuildRecord(config)).toMatchObject({ ok: true, repaired: 2 });
  });

  it('compares rows also where the database sorts by a language', async () => {
    const database = `p_${randomBytes(6).toString('hex')}`;
    await asSuperuser('postgres', `CREATE DATABASE ${database} TEMPLATE template0 LOCALE_PROVIDER icu ICU_LOCALE 'en-US'`);
    const here = await place('postgres');
    places.push(here);
    const config = { ...here.config, databaseUrl: `${inject('postgresUrl')}/${database}` };
    expect(await restoreRecord(config, UNTOUCHED)).toMatchObject({ ok: true, entries: 6 });
    // serials that a language sorts otherwise than code units do, one of them missing from the live table
    const serials = ['a-1', 'A-1', 'B-1', 'b-1', '_x', 'Z9', 'ä', '\ud83d\udeb2', '\ufb33'];
    const values = serials.map((serial, i) => `('GAUGE', '${serial}', 2, ${i + 10})`).join(', ');
    await asSuperuser(
      database,
      `INSERT INTO "serial" ("item", "serial", "lot_id", "piece") VALUES ${values}`,
      `DELETE FROM "serial" WHERE "serial" = 'G-102'`,
    );
    const { faults } = await verifyRecord(config);
    expect(faults.map((fault) => fault.what).toSorted()).toEqual(['row-missing', ...serials.map(() => 'row-too-many')]);
    expect(await rebuildRecord(config)).toMatchObject({ ok: true, repaired: 10 });
    expect(await verifyRecord(config)).toMatchObject({ ok: true });
  });
});
