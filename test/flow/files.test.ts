import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, rmSync, statSync, truncateSync, utimesSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FileDetached, FileStored } from '../../src/server/plant/files/files.facts.js';
import { pathOf } from '../../src/server/plant/files/file-store.js';
import { SESSION_COOKIE } from '../../src/server/plant/people/session-cookie.js';
import { Reader } from '../../src/server/platform/database/reader.js';
import { queryRows } from '../../src/server/platform/database/rows.js';
import type { Problem } from '../../src/server/platform/http/problems.js';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';
import { expectRebuildEqual } from '../rebuild.js';
import { bodyOf, BOUNDARY, MULTIPART, partOf, pdf, sendBody, sendFile, type Stored } from '../send-file.js';

const hashOf = (content: string | Buffer): string => createHash('sha256').update(content).digest('hex');
const codes = (problem: Problem): string[] => problem.reasons.map((reason) => reason.code);

interface Attached extends Stored {
  readonly attachment: number;
  readonly what: string;
  readonly note: string | null;
  readonly by: string;
  readonly at: string;
  readonly detached: { readonly seq: number; readonly reason: string; readonly by: string; readonly at: string } | null;
}

describe.each(DATABASES)('stored files on %s', (database) => {
  let plant: Plant;
  let lot: string;
  beforeAll(async () => {
    plant = await startPlant(database, { largestFileMegabytes: 1 });
    await catalogueFernhollow(plant);
    [lot = ''] = await receive(plant, [{ item: 'WAX-BASE', quantity: '400' }]);
  });
  afterAll(() => plant.stop());

  const entries = async <Fact = FileStored>(kind: string): Promise<Fact[]> => {
    const rows = await queryRows<{ body: string }>(
      plant.app.get(Reader).manager,
      'SELECT "body" FROM "ledger_entry" WHERE "kind" = ? ORDER BY "seq"',
      [kind],
    );
    return rows.map((row) => JSON.parse(row.body) as Fact);
  };
  const unfinished = (): string[] => {
    const folder = join(plant.config.dataDir, 'files');
    return existsSync(folder) ? readdirSync(folder).filter((name) => name.includes('unfinished')) : [];
  };

  describe('sending one (FI-1, FI-2)', () => {
    const certificate = pdf('certificate of LW-1');

    it('keeps it by its hash, durable and closed to others, and answers what it is', async () => {
      const { status, body } = await sendFile(plant, 'C:\\scans\\Zertifikat für LW-1.pdf', certificate, 'clerk-1');
      expect({ status, body }).toEqual({
        status: 201,
        body: { sha256: hashOf(certificate), name: 'Zertifikat für LW-1.pdf', mediaType: 'application/pdf', bytes: certificate.length },
      });
      const path = join(plant.config.dataDir, 'files', body.sha256.slice(0, 2), body.sha256);
      expect(readFileSync(path, 'utf8')).toBe(certificate);
      expect(statSync(path).mode & 0o077).toBe(0);
      expect(await entries('FileStored')).toHaveLength(1);
    });

    it('stores the same content once, whatever it is called and whoever sends it', async () => {
      const all = await Promise.all(
        Array.from({ length: 6 }, (_, i) => sendFile(plant, `copy ${i}.pdf`, certificate, i % 2 === 0 ? 'quality-1' : 'dispatcher-1')),
      );
      for (const { status, body } of all) expect([status, body.name]).toEqual([201, 'Zertifikat für LW-1.pdf']);
      const atOnce = await Promise.all(Array.from({ length: 6 }, (_, i) => sendFile(plant, `new ${i}.pdf`, pdf('sent six times at once'))));
      expect(new Set(atOnce.map(({ body }) => body.name)).size).toBe(1);
      expect(await entries('FileStored')).toHaveLength(2);
    });

    it('takes a file as large as the limit', async () => {
      const { status, body } = await sendFile(plant, 'large.txt', 'x'.repeat(1_000_000));
      expect([status, body.bytes, body.mediaType]).toEqual([201, 1_000_000, 'text/plain']);
    });

    it.each<[string, () => Buffer, number, string]>([
      ['larger than the limit', () => bodyOf(partOf('file', 'x.txt', 'x'.repeat(1_000_001))), 413, 'file-too-large'],
      ['far larger than the limit', () => bodyOf(partOf('file', 'x.txt', Buffer.alloc(9_000_000, 'x'))), 413, 'file-too-large'],
      ['empty', () => bodyOf(partOf('file', 'x.pdf', '')), 422, 'file-empty'],
      [
        'of a kind that its name hides',
        () => bodyOf(partOf('file', 'x.pdf', Buffer.from([0x7f, 0x45, 0x4c, 0x46, 0]))),
        422,
        'file-kind-not-taken',
      ],
      ['under another name of part', () => bodyOf(partOf('photo', 'x.pdf', pdf('x'))), 400, 'file-missing'],
      ['in no part', () => bodyOf(), 400, 'file-missing'],
      ['as a field', () => bodyOf(partOf('file', null, 'text')), 400, 'one-file-only'],
      ['with a second one', () => bodyOf(partOf('file', 'x.pdf', pdf('x')), partOf('file', 'y.pdf', pdf('y'))), 400, 'one-file-only'],
      ['with a field', () => bodyOf(partOf('file', 'x.pdf', pdf('x')), partOf('note', null, 'text')), 400, 'one-file-only'],
      ['cut off', () => bodyOf(partOf('file', 'x.pdf', pdf('x'))).subarray(0, -30), 400, 'upload-broke-off'],
    ])('refuses one that is sent %s, and keeps nothing of it', async (_how, body, status, code) => {
      const before = await entries('FileStored');
      const answer = await sendBody<Problem>(plant, body());
      expect([answer.status, codes(answer.body)], JSON.stringify(answer.body)).toEqual([status, [code]]);
      expect(unfinished()).toEqual([]);
      expect(await entries('FileStored')).toEqual(before);
    });

    it('refuses what is no multipart', async () => {
      const answer = await sendBody<Problem>(plant, Buffer.from('{}'), 'application/json');
      expect([answer.status, codes(answer.body)]).toEqual([400, ['not-multipart']]);
      expect((await sendBody<Problem>(plant, Buffer.from(pdf('x')), 'application/pdf')).status).toBe(415);
    });

    it('answers over a real connection too, while the sender is still sending, and drops a sender that hangs up', async () => {
      await plant.app.listen(0, '127.0.0.1');
      const url = await plant.app.getUrl();
      const cookie = `${SESSION_COOKIE}=${plant.sessionOf('inspector-1')}`;
      const body = new Uint8Array(bodyOf(partOf('file', 'x.txt', Buffer.alloc(5_000_000, 'x'))));
      const response = await fetch(`${url}/api/files`, { method: 'POST', headers: { cookie, 'content-type': MULTIPART }, body });
      expect(response.status).toBe(413);
      await new Promise<void>((resolve, reject) => {
        const socket = connect(Number(new URL(url).port), '127.0.0.1', () => {
          socket.write(
            `POST /api/files HTTP/1.1\r\nHost: x\r\nCookie: ${cookie}\r\nContent-Type: ${MULTIPART}\r\nContent-Length: 9000\r\n\r\n`,
          );
          socket.write(`--${BOUNDARY}\r\nContent-Disposition: form-data; name="file"; filename="x.txt"\r\n\r\nxxxx`, () =>
            socket.destroy(),
          );
        });
        socket.on('close', () => resolve());
        socket.on('error', reject);
      });
      await expect.poll(unfinished).toEqual([]);
    });

    it('clears away what a process that is gone left unfinished, and nothing that is being written', async () => {
      const folder = join(plant.config.dataDir, 'files');
      for (const name of ['old.unfinished', 'young.unfinished']) writeFileSync(join(folder, name), 'half');
      utimesSync(join(folder, 'old.unfinished'), 0, 0);
      await sendFile(plant, 'any.txt', 'any');
      expect(unfinished()).toEqual(['young.unfinished']);
      rmSync(join(folder, 'young.unfinished'));
    });
  });

  describe('reading one (FI-4)', () => {
    const get = (sha256: string, person = 'auditor-1') =>
      plant.app.inject({ url: `/api/files/${sha256}`, cookies: { [SESSION_COOKIE]: plant.sessionOf(person) } });

    it('answers the same bytes with headers that let nothing run', async () => {
      const content = Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.alloc(70_000, 7)]);
      const { body } = await sendFile(plant, 'dent \\"left\\".jpg', content);
      const answer = await get(body.sha256);
      expect(answer.statusCode).toBe(200);
      expect(answer.rawPayload.equals(content)).toBe(true);
      expect(answer.headers).toMatchObject({
        'content-type': 'image/jpeg',
        'content-length': String(content.length),
        'content-disposition': `inline; filename="dent _left_.jpg"; filename*=UTF-8''dent%20%22left%22.jpg`,
        'x-content-type-options': 'nosniff',
      });
    });

    it('has a page saved as text', async () => {
      const { body } = await sendFile(plant, 'page.html', '<script>alert(1)</script>');
      const { headers } = await get(body.sha256);
      expect(headers['content-type']).toBe('text/plain; charset=utf-8');
      expect(headers['content-disposition']).toMatch(/^attachment; /);
    });

    it.each(['0'.repeat(64), '../x', 'no-such', 'A'.repeat(64)])('knows no file %s', async (name) => {
      const answer = await get(encodeURIComponent(name));
      expect([answer.statusCode, codes(answer.json<Problem>())]).toEqual([404, ['file-unknown']]);
    });

    it.each<[string, (path: string) => void]>([
      ['is gone', (path) => rmSync(path)],
      ['is cut', (path) => truncateSync(path, 3)],
    ])('says so when the file %s, and has it again when it is sent again', async (_what, spoil) => {
      const { body } = await sendFile(plant, 'lost.txt', 'lost');
      spoil(pathOf(plant.config, body.sha256));
      const answer = await get(body.sha256);
      expect([answer.statusCode, codes(answer.json<Problem>())]).toEqual([410, ['file-gone']]);
      expect(answer.json<Problem>().title).toBe('No longer there');
      expect((await sendFile(plant, 'found.txt', 'lost')).body).toEqual(body);
      expect((await get(body.sha256)).body).toBe('lost');
    });
  });

  describe('RC-9 certificates and test reports belong to the lot (FI-5, FI-6)', () => {
    let certificate: Stored;
    let attached: Attached;
    beforeAll(async () => {
      certificate = (await sendFile(plant, 'certificate LW-1.pdf', pdf('of the lot'))).body;
    });
    const attach = <Body = Attached>(body: object, to = lot) => plant.as('clerk').post<Body>(`/api/lots/${to}/files`, body);
    const listed = async () => (await plant.as('auditor').get<Attached[]>(`/api/lots/${lot}/files`)).body;

    it('RC-9 opens the certificate from the lot', async () => {
      plant.clock.set('2026-03-03T09:00:00.000Z');
      const { status, body } = await attach({ file: certificate.sha256, what: 'certificate', note: 'with the delivery' });
      expect(status).toBe(201);
      attached = body;
      expect(body).toMatchObject({ ...certificate, what: 'certificate', note: 'with the delivery', by: 'clerk-1', detached: null });
      expect(body.at).toBe('2026-03-03T09:00:00.000Z');
      const [first] = await listed();
      expect(first).toEqual(body);
      const opened = await plant.as('dispatcher').get<string>(`/api/files/${first!.sha256}`);
      expect(opened.body).toBe(pdf('of the lot'));
    });

    it('RC-9 takes a test report and a photograph beside it, and the same file as another thing', async () => {
      const report = (await sendFile(plant, 'report.csv', 'melting point,61.5\n')).body;
      expect((await attach({ file: report.sha256, what: 'test-report' })).status).toBe(201);
      expect((await attach({ file: certificate.sha256, what: 'other' })).status).toBe(201);
      expect((await listed()).map(({ what, name }) => [what, name])).toEqual([
        ['certificate', 'certificate LW-1.pdf'],
        ['test-report', 'report.csv'],
        ['other', 'certificate LW-1.pdf'],
      ]);
    });

    it('refuses what nobody stored, a lot nobody has, both at once, and the same thing twice', async () => {
      const none = { file: '0'.repeat(64), what: 'certificate' };
      expect(await attach<Problem>(none)).toMatchObject({ status: 404, body: { reasons: [{ code: 'file-unknown', pointer: '/file' }] } });
      const both = await attach<Problem>(none, 'R99-1');
      expect([both.status, codes(both.body)]).toEqual([404, ['lot-unknown', 'file-unknown']]);
      const twice = await attach<Problem>({ file: certificate.sha256, what: 'certificate' });
      expect([twice.status, codes(twice.body)]).toEqual([409, ['attached-already']]);
      const shape = await attach<Problem>({ file: 'certificate.pdf', what: 'diploma' });
      expect(shape.status).toBe(400);
      expect((await plant.as('auditor').get('/api/lots/R99-1/files')).status).toBe(404);
    });

    it('puts a wrong one right with a reason, and both stay readable', async () => {
      const path = `/api/lots/${lot}/files/${attached.attachment}/detachment`;
      const put = await plant.as('quality').post<Attached>(path, { reason: 'it is that of LW-2', commandId: 'detach-1' });
      expect(put).toMatchObject({ status: 200, body: { detached: { reason: 'it is that of LW-2', by: 'quality-1' } } });
      expect((await plant.as('quality').post(path, { reason: 'it is that of LW-2', commandId: 'detach-1' })).body).toEqual(put.body);
      const again = await plant.as('quality').post<Problem>(path, { reason: 'once more' });
      expect([again.status, codes(again.body)]).toEqual([409, ['detached-already']]);
      expect((await listed())[0]).toEqual(put.body);
      expect((await plant.as('auditor').get(`/api/files/${attached.sha256}`)).status).toBe(200);
      expect((await attach({ file: certificate.sha256, what: 'certificate', note: 'after all' })).status).toBe(201);
      expect(await entries<FileDetached>('FileDetached')).toMatchObject([
        { lot, corrects: attached.attachment, reason: 'it is that of LW-2' },
      ]);
    });

    it.each(['0', '999999', 'x', '1e3', '99999999999999999999'])('knows no attachment %s', async (number) => {
      const answer = await plant.as('quality').post<Problem>(`/api/lots/${lot}/files/${number}/detachment`, { reason: 'none' });
      expect([answer.status, codes(answer.body)]).toEqual([404, ['attachment-unknown']]);
    });

    it('is told among what happened to the lot', async () => {
      const { body } = await plant.as('auditor').get<unknown>(`/api/ledger/about?lot=${lot}`);
      expect(JSON.stringify(body)).toContain('belongs to lot');
    });
  });

  it('every table is as the ledger says', async () => {
    for (const { sha256 } of await entries('FileStored')) expect(hashOf(readFileSync(pathOf(plant.config, sha256)))).toBe(sha256);
    await expectRebuildEqual(plant);
  });
});
