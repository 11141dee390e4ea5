import { createHash, createPublicKey, generateKeyPairSync, sign, verify } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CommandGate } from '../../src/server/platform/database/gate.js';
import { queryRows } from '../../src/server/platform/database/rows.js';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';
import { WITHOUT_TRIGGERS } from './place.js';

/*
 * What somebody outside does with nothing but SHA-256, Ed25519 and docs/checkpoints.md: no line of this program is used for it.
 */
const sha256 = (...parts: readonly (Buffer | string)[]): Buffer => {
  const digest = createHash('sha256');
  for (const part of parts) digest.update(part);
  return digest.digest();
};
const leaf = (hash: string): Buffer => sha256(Buffer.from('00', 'hex'), Buffer.from(hash, 'hex'));
const node = (left: Buffer, right: Buffer): Buffer => sha256(Buffer.from('01', 'hex'), left, right);

/** RFC 9162 section 2.1.1: split at the largest power of two below the number of leaves. */
function rootOf(hashes: readonly string[]): Buffer {
  if (hashes.length === 1) return leaf(hashes[0]!);
  let left = 1;
  while (left * 2 < hashes.length) left *= 2;
  return node(rootOf(hashes.slice(0, left)), rootOf(hashes.slice(left)));
}

/** RFC 9162 section 2.1.3.2. */
function rootFromProof(hash: string, seq: number, size: number, proof: readonly string[]): Buffer {
  let [fn, sn, r] = [seq - 1, size - 1, leaf(hash)];
  for (const p of proof.map((one) => Buffer.from(one, 'base64'))) {
    if (fn % 2 === 1 || fn === sn) {
      r = node(p, r);
      while (fn % 2 === 0 && fn !== 0) [fn, sn] = [Math.floor(fn / 2), Math.floor(sn / 2)];
    } else {
      r = node(r, p);
    }
    [fn, sn] = [Math.floor(fn / 2), Math.floor(sn / 2)];
  }
  return r;
}

const partsOf = (note: string) => {
  const [text, signed] = note.split('\n\n') as [string, string];
  const [origin, size, root, at] = text.split('\n');
  const bytes = Buffer.from(signed.trimEnd().split(' ')[2]!, 'base64');
  return { text: `${text}\n`, origin, size: Number(size), root, at, keyId: bytes.subarray(0, 4), signature: bytes.subarray(4) };
};

interface View {
  readonly origin: string;
  readonly size: number;
  readonly root: string;
  readonly at: string;
  readonly note: string;
  readonly verifierKey: string;
  readonly publicKey: string;
}
interface Check {
  readonly size: number;
  readonly signature: string;
  readonly continues: boolean;
  readonly fault: { readonly what: string; readonly where: string } | null;
  readonly now: View;
  readonly proof: readonly string[];
}
interface Entry {
  readonly seq: number;
  readonly hash: string;
  readonly proof?: readonly string[];
  readonly body: string;
}

describe.each(DATABASES)('checkpoints and exports, on %s', (database) => {
  let plant: Plant;
  let early: View;
  let lot: string;
  beforeAll(async () => {
    plant = await startPlant(database, { plantName: 'Fernhollow Works' });
    await catalogueFernhollow(plant);
    [lot] = (await receive(plant, [{ item: 'WAX-BASE', quantity: '400' }])) as [string];
    early = (await plant.as('operator').get<View>('/api/ledger/checkpoint')).body;
    await receive(plant, [{ item: 'WAX-BASE', quantity: '1' }]);
  });
  afterAll(() => plant.stop());

  const checkOf = async (note: string): Promise<Check> => {
    const answer = await plant.as('clerk').post<Check>('/api/ledger/checkpoint/checks', { note });
    expect(answer.status).toBe(200);
    return answer.body;
  };
  const exported = async (query = ''): Promise<{ head: { selected: unknown; checkpoint: string }; entries: Entry[] }> => {
    const lines = (await plant.as('auditor').bytes(`/api/ledger/export.jsonl${query}`)).toString().trimEnd().split('\n');
    const end: unknown = JSON.parse(lines.at(-1)!);
    expect(end).toEqual({ end: { entries: lines.length - 2 } });
    return {
      head: JSON.parse(lines[0]!) as { selected: unknown; checkpoint: string },
      entries: lines.slice(1, -1).map((one) => JSON.parse(one) as Entry),
    };
  };

  it('shows a checkpoint, as parts and as a signed note that anybody can check (L-15, L-16)', async () => {
    const { body: now } = await plant.as('clerk').get<View>('/api/ledger/checkpoint');
    const { body: note, headers } = await plant.as('clerk').get<string>('/api/ledger/checkpoint.txt');
    expect(headers['content-type']).toBe('text/plain; charset=utf-8');
    expect(note).toBe(now.note);
    const parts = partsOf(note);
    expect(parts).toMatchObject({ origin: 'kinledger/Fernhollow-Works', size: now.size, root: now.root, at: `at ${now.at}` });
    const { body: pem } = await plant.as('clerk').get<string>('/api/ledger/checkpoint-key.pem');
    expect(pem).toBe(now.publicKey);
    const key = createPublicKey(pem);
    expect(verify(null, Buffer.from(parts.text), key, parts.signature)).toBe(true);
    expect(verify(null, Buffer.from(parts.text.replace('kin', 'ken')), key, parts.signature)).toBe(false);
    const [, name, id, base64] = /^([^+]+)\+([0-9a-f]{8})\+(.+)$/.exec(now.verifierKey) as unknown as [string, string, string, string];
    expect(name).toBe(now.origin);
    expect(parts.keyId.toString('hex')).toBe(id);
    expect(sha256(`${name}\n`, Buffer.from(base64, 'base64')).subarray(0, 4).toString('hex')).toBe(id);
  });

  it('answers the same checkpoint of the same size later, and none of a size that is not reached', async () => {
    expect((await plant.as('clerk').get<View>(`/api/ledger/checkpoint?size=${early.size}`)).body).toEqual(early);
    expect((await plant.as('clerk').get('/api/ledger/checkpoint?size=0')).body).toMatchObject({ size: 0, at: null });
    expect((await plant.as('clerk').get('/api/ledger/checkpoint?size=100000')).status).toBe(404);
    expect((await plant.as('clerk').get('/api/ledger/checkpoint?size=some')).status).toBe(400);
  });

  it('gives all entries out so that chain, tree and signature can be recomputed elsewhere (L-17, AU-3, AU-4)', async () => {
    const { head, entries } = await exported();
    const { body: now } = await plant.as('clerk').get<View>('/api/ledger/checkpoint');
    expect(head).toMatchObject({ format: 'kinledger-entries', v: 1, selected: null, checkpoint: now.note, verifierKey: now.verifierKey });
    let prev = '0'.repeat(64);
    for (const [i, { seq, hash, body }] of entries.entries()) {
      expect(seq).toBe(i + 1);
      expect(sha256(body).toString('hex')).toBe(hash);
      expect(JSON.parse(body)).toMatchObject({ seq, prev });
      prev = hash;
    }
    const parts = partsOf(head.checkpoint);
    expect(entries).toHaveLength(parts.size);
    expect(rootOf(entries.map(({ hash }) => hash)).toString('base64')).toBe(parts.root);
    expect(rootOf(entries.slice(0, early.size).map(({ hash }) => hash)).toString('base64')).toBe(early.root);
  });

  it('gives the entries of one record out, each with the hashes that lead to the checkpoint (L-17)', async () => {
    const { head, entries } = await exported(`?lot=${lot}`);
    expect(head.selected).toEqual({ lot });
    expect(entries.length).toBeGreaterThan(0);
    const { size, root } = partsOf(head.checkpoint);
    for (const { seq, hash, body, proof } of entries) {
      expect(body).toContain(lot);
      expect(sha256(body).toString('hex')).toBe(hash);
      expect(rootFromProof(hash, seq, size, proof!).toString('base64')).toBe(root);
      expect(rootFromProof(sha256(`${body} `).toString('hex'), seq, size, proof!).toString('base64')).not.toBe(root);
    }
    expect((await exported('?lot=NONE-SUCH')).entries).toEqual([]);
  });

  it('gives entries out to those who check the record, about one record at a time', async () => {
    for (const role of ['quality', 'auditor', 'administrator'] as const) {
      expect((await plant.as(role).bytes('/api/ledger/export.jsonl')).length).toBeGreaterThan(1000);
    }
    expect((await plant.as('clerk').get('/api/ledger/export.jsonl?lot=X')).status).toBe(403);
    expect((await plant.as('auditor').get('/api/ledger/export.jsonl?lot=X&run=Y')).status).toBe(400);
    expect((await plant.as('auditor').get('/api/ledger/export.jsonl?limit=5')).status).toBe(400);
  });

  it('finds that today continues an older checkpoint, and proves it (L-15)', async () => {
    const check = await checkOf(early.note);
    expect(check).toMatchObject({ size: early.size, signature: 'plant', continues: true, fault: null });
    expect(check.now.size).toBeGreaterThan(early.size);
    expect(check.proof.length).toBeGreaterThan(0);
    expect(await checkOf(check.now.note)).toMatchObject({ signature: 'plant', continues: true, proof: [] });
    expect((await checkOf((await plant.as('clerk').get<View>('/api/ledger/checkpoint?size=0')).body.note)).continues).toBe(true);
  });

  it('tells a checkpoint that is not the plant\u2019s from one that was changed, and both from another history (L-15, L-16)', async () => {
    const { text, origin } = partsOf(early.note);
    expect(await checkOf(text)).toMatchObject({ signature: 'none', continues: true });
    expect(await checkOf(early.note.replace('at 2', 'at 1'))).toMatchObject({ signature: 'wrong', continues: true });
    const { privateKey } = generateKeyPairSync('ed25519');
    const other = Buffer.concat([Buffer.alloc(4, 9), sign(null, Buffer.from(text), privateKey)]).toString('base64');
    expect(await checkOf(`${text}\n\u2014 ${origin} ${other}\n`)).toMatchObject({ signature: 'other-key', continues: true });
    const longer = await checkOf(early.note.replace(`\n${early.size}\n`, '\n9999\n'));
    expect(longer).toMatchObject({ signature: 'wrong', continues: false, fault: { what: 'history-cut', where: 'entry 9999' }, proof: [] });
    const another = await checkOf(early.note.replace(early.root, Buffer.alloc(32).toString('base64')));
    expect(another).toMatchObject({ continues: false, fault: { what: 'history-rewritten', where: `entry ${early.size}` } });
  });

  it('refuses what is no checkpoint, beside its field', async () => {
    const answer = await plant.as('clerk').post<{ reasons: object[] }>('/api/ledger/checkpoint/checks', { note: 'a photograph' });
    expect(answer.status).toBe(400);
    expect(answer.body.reasons).toMatchObject([{ code: 'checkpoint-unreadable', pointer: '/note' }]);
    expect((await plant.as('clerk').post('/api/ledger/checkpoint/checks', { note: '' })).status).toBe(400);
    expect((await plant.as('auditor').post('/api/ledger/verifications', { checkpoint: 'x' })).status).toBe(400);
    const both = { checkpoint: early.note, knownSeq: 1, knownHash: '0'.repeat(64) };
    expect((await plant.as('auditor').post('/api/ledger/verifications', both)).status).toBe(400);
  });

  const verified = async (checkpoint: string): Promise<{ state: string; faults: object[] }> => {
    const started = await plant.as('auditor').post<{ verification: string }>('/api/ledger/verifications', { checkpoint });
    for (;;) {
      const { body } = await plant
        .as('auditor')
        .get<{ state: string; faults: object[] }>(`/api/ledger/verifications/${started.body.verification}`);
      if (body.state !== 'running') return body;
      await new Promise((resolve) => {
        setTimeout(resolve, 20);
      });
    }
  };

  it('checks the whole record against an older checkpoint (L-11)', async () => {
    expect(await verified(early.note)).toMatchObject({ state: 'sound' });
    const changed = early.note.replace(early.root, Buffer.alloc(32).toString('base64'));
    expect(await verified(changed)).toMatchObject({ state: 'faulty', faults: [{ what: 'history-rewritten' }] });
  });

  it('finds a history rewritten beneath the running server, chain and all, by the checkpoint somebody kept (L-15)', async () => {
    const { entries } = await exported();
    const statements: [string, (string | number)[]][] = [];
    let prev = '';
    for (const { seq, hash, body } of entries.slice(2)) {
      const text = seq === 3 ? body.replace(/"at":"2/, '"at":"3') : body.replace(/"prev":"[0-9a-f]{64}"/, `"prev":"${prev}"`);
      prev = sha256(text).toString('hex');
      expect(prev).not.toBe(hash);
      statements.push(['UPDATE "ledger_entry" SET "body" = ?, "hash" = ? WHERE "seq" = ?', [text, prev, seq]]);
    }
    await plant.app.get(CommandGate).run(async (tx) => {
      for (const statement of WITHOUT_TRIGGERS[database]) await tx.query(statement);
      for (const [statement, values] of statements) await queryRows(tx, statement, values);
    });
    expect(await checkOf(early.note)).toMatchObject({
      signature: 'plant',
      continues: false,
      fault: { what: 'history-rewritten', where: `entry ${early.size}` },
    });
  });
});
