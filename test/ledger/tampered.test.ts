import { readdirSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readBackup } from '../../src/server/record/backup-file.js';
import { rebuildRecord } from '../../src/server/record/rebuild.js';
import { restoreRecord } from '../../src/server/record/restore.js';
import { verifyRecord } from '../../src/server/record/verify.js';
import { DATABASES } from '../harness.js';
import { type Place, place, WITHOUT_TRIGGERS } from './place.js';

const FOLDER = 'fixtures/tampered';

interface Trick {
  readonly name: string;
  /** What the verifier must name first: fault and place. */
  readonly what: string;
  readonly where: string;
  readonly known: { readonly seq: number; readonly hash: string } | undefined;
  readonly statements: readonly string[];
}

function trick(file: string): Trick {
  const text = readFileSync(`${FOLDER}/${file}`, 'utf8');
  const said = (word: string): string | undefined => new RegExp(`^-- ${word}: (.*)$`, 'm').exec(text)?.[1];
  const [what, where] = said('found')!.split(' | ') as [string, string];
  const [seq, hash] = said('known')?.split(' ') ?? [];
  return {
    name: file.replace(/\.\w+$/, ''),
    what,
    where,
    known: hash === undefined ? undefined : { seq: Number(seq), hash },
    statements: text
      .replaceAll(/^--.*\n/gm, '')
      .split(/;\n/)
      .filter((statement) => statement.trim() !== ''),
  };
}

const files = readdirSync(FOLDER).toSorted();
const tricks = files.filter((file) => file.endsWith('.sql')).map(trick);
const untrue = files.filter((file) => file.endsWith('.txt')).map(trick);

describe.each(DATABASES)('a record somebody has been at, on %s', (database) => {
  let untouched: Place;
  const places: Place[] = [];
  const copy = async (): Promise<Place> => {
    const made = await place(database, untouched);
    places.push(made);
    return made;
  };
  beforeAll(async () => {
    untouched = await place(database);
    expect(await restoreRecord(untouched.config, `${FOLDER}/untouched.jsonl`)).toMatchObject({ ok: true, entries: 6 });
  });
  afterAll(() => [untouched, ...places].forEach((one) => one.remove()));

  it('nothing is found in the untouched one', async () => {
    const sound = await copy();
    expect((await verifyRecord(sound.config)).faults).toEqual([]);
  });

  it.each(tricks.map((one) => [one.name, one] as const))('is found: %s', async (_name, { statements, known, what, where }) => {
    const spoilt = await copy();
    await spoilt.statements([...WITHOUT_TRIGGERS[database], ...statements]);
    const report = await verifyRecord(spoilt.config, { known });
    expect(report.ok).toBe(false);
    expect(report.faults[0]).toMatchObject({ what, where });
    expect(report.faults[0]!.detail.length).toBeGreaterThan(10);
  });

  it.each(tricks.filter((one) => /^(row|table)-/.test(one.name)).map((one) => [one.name, one] as const))(
    'is put right by a rebuild: %s',
    async (_name, { statements, what, where }) => {
      const spoilt = await copy();
      await spoilt.statements(statements);
      const report = await rebuildRecord(spoilt.config);
      expect(report).toMatchObject({ ok: true, entries: 6 });
      expect(report.repaired).toBeGreaterThan(0);
      expect(report.faults[0]).toMatchObject({ what, where });
      expect((await verifyRecord(spoilt.config)).faults).toEqual([]);
    },
  );

  it('a rebuild does nothing over a broken chain, and says where it breaks', async () => {
    const spoilt = await copy();
    const { statements } = tricks.find((one) => one.name === 'changed-body')!;
    await spoilt.statements([...WITHOUT_TRIGGERS[database], ...statements, `DELETE FROM "link"`]);
    const report = await rebuildRecord(spoilt.config);
    expect(report).toMatchObject({ ok: false, repaired: 0, faults: [{ what: 'changed-body', where: 'entry 2' }] });
    expect((await verifyRecord(spoilt.config)).ok).toBe(false);
  });

  it.each(untrue.map((one) => [one.name, one] as const))(
    'a chain that holds but cannot be true is found: %s',
    async (name, { what, where }) => {
      const spoilt = await copy();
      await addLastEntry(spoilt, `${FOLDER}/${name}.jsonl`);
      const { faults } = await verifyRecord(spoilt.config);
      expect(faults.map((fault) => `${fault.what} | ${fault.where}`)).toContain(`${what} | ${where}`);
    },
  );
});

/** Puts the last entry of a ledger file into the ledger as it stands, projected by nobody. */
async function addLastEntry(spoilt: Place, file: string): Promise<void> {
  for await (const part of readBackup(file)) {
    if (!('entry' in part) || part.entry.seq !== 7) continue;
    const { seq, at, actor, kind, v, body, hash } = part.entry;
    await spoilt.statements([
      `INSERT INTO "ledger_entry" ("seq", "at", "actor", "kind", "v", "body", "hash") VALUES (${seq}, '${at}', '${actor}', '${kind}', ${v}, '${body}', '${hash}')`,
      `UPDATE "ledger_head" SET "seq" = ${seq}, "hash" = '${hash}' WHERE "id" = 1`,
    ]);
  }
  await rebuildRecord(spoilt.config).catch(() => undefined); // what cannot be projected stays so
}
