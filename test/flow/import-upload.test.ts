import { readdirSync, readFileSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { ImportReport } from '../../shared/api/imports.js';
import { SESSION_COOKIE } from '../../src/server/plant/people/session-cookie.js';
import type { Problem } from '../../src/server/platform/http/problems.js';
import { type Plant, startPlant } from '../harness.js';

const BOUNDARY = 'x-fernhollow-x';
const GOOD = 'fixtures/imports/good';

const filesOf = (dir: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(dir)
      .filter((name) => name.endsWith('.csv'))
      .map((name) => [name, readFileSync(join(dir, name), 'utf8')]),
  );

const part = (name: string, content: string): string =>
  `--${BOUNDARY}\r\nContent-Disposition: form-data; name="${name}"; filename="${name}"\r\nContent-Type: text/csv\r\n\r\n${content}\r\n`;

const bodyOf = (files: Record<string, string>): string =>
  `${Object.entries(files)
    .map(([name, content]) => part(name, content))
    .join('')}--${BOUNDARY}--\r\n`;

const temporaryFolders = (): string[] => readdirSync(tmpdir()).filter((name) => name.startsWith('kinledger-import-'));

describe('bringing records over by HTTP', () => {
  let plant: Plant;
  let before: string[];
  beforeEach(async () => {
    plant = await startPlant('sqlite');
    before = temporaryFolders();
  });
  afterEach(async () => {
    await plant.stop();
    if (temporaryFolders().length > before.length) throw new Error('an upload left its folder behind');
  });

  const send = async (payload: string, query = '', person = 'administrator-1', type = `multipart/form-data; boundary=${BOUNDARY}`) => {
    const response = await plant.app.inject({
      method: 'POST',
      url: `/api/imports${query}`,
      headers: { 'content-type': type },
      cookies: { [SESSION_COOKIE]: plant.sessionOf(person) },
      payload,
    });
    return { status: response.statusCode, body: response.json<ImportReport & Problem>() };
  };
  const imports = async () => (await plant.as('auditor').get<unknown[]>('/api/imports')).body;

  it('I-16 takes one part a file and answers what was brought over', async () => {
    const { status, body } = await send(bodyOf(filesOf(GOOD)));
    expect(status).toBe(200);
    expect(body).toMatchObject({ import: 'IM-0001', ok: true, counts: { links: 15 } });
    expect(await imports()).toHaveLength(1);
    const again = await send(bodyOf(filesOf(GOOD)));
    expect(again.status).toBe(409);
    expect(again.body.reasons).toMatchObject([{ code: 'imported-before', import: 'IM-0001', by: 'administrator-1' }]);
  });

  it('only checks with dryRun', async () => {
    expect(await send(bodyOf(filesOf(GOOD)), '?dryRun=true')).toMatchObject({
      status: 200,
      body: { ok: true, dryRun: true, import: null },
    });
    expect(await imports()).toEqual([]);
  });

  it('answers a retry with the same command id again and does nothing twice', async () => {
    const first = await send(bodyOf(filesOf(GOOD)), '?commandId=bring-1');
    const again = await send(bodyOf(filesOf(GOOD)), '?commandId=bring-1');
    expect(again).toEqual(first);
    expect(await imports()).toHaveLength(1);
  });

  it('I-4 answers faults as 422 with each as a reason and their number', async () => {
    const { status, body } = await send(bodyOf(filesOf('fixtures/imports/bad/dispatched-twice')));
    expect(status).toBe(422);
    expect(body).toMatchObject({
      faultCount: 1,
      reasons: [{ code: 'taken-twice', file: 'shipments.csv', line: 3, column: 'lot', value: 'F-1' }],
    });
    expect(body.reasons[0]!.detail).toBe('pieces 90-96 of F-1 went with shipment S-1 (shipments.csv line 2) already');
    expect(await imports()).toEqual([]);
  });

  it('lists the first thousand faults and counts all of them', async () => {
    const { 'parties.csv': parties, 'items.csv': items } = filesOf(GOOD) as { 'parties.csv': string; 'items.csv': string };
    const header = 'lot,item,quantity,pieces,origin,at,supplier,supplier_lot,expires_on,status\n';
    const lots = header + Array.from({ length: 1500 }, (_, n) => `R-${n},WAX-BASE,-1,,received,2025-09-01T08:00:00Z,,,,\n`).join('');
    const { body } = await send(bodyOf({ 'parties.csv': parties, 'items.csv': items, 'lots.csv': lots }));
    expect(body.faultCount).toBe(1500);
    expect(body.reasons).toHaveLength(1000);
    expect(body.detail).toBe('1500 faults in the files: nothing was brought over; the first 1000 are listed');
  });

  it.each([
    ['before the last boundary', (body: string) => body.slice(0, -(BOUNDARY.length + 6))],
    ['in the middle of a file', (body: string) => body.slice(0, Math.floor(body.length / 2))],
    ['in the head of a part', (body: string) => body.slice(0, 60)],
  ])('refuses an upload that breaks off %s', async (_where, cut) => {
    const { status, body } = await send(cut(bodyOf(filesOf(GOOD))));
    expect([status, body.reasons.map((reason) => reason.code)]).toEqual([400, ['upload-broke-off']]);
    expect(await imports()).toEqual([]);
  });

  it('keeps nothing of an upload whose client goes away', async () => {
    await plant.app.listen(0, '127.0.0.1');
    const { port } = plant.app.getHttpServer().address() as { port: number };
    const body = bodyOf(filesOf(GOOD));
    await new Promise<void>((resolve) => {
      const socket = connect(port, '127.0.0.1', () => {
        socket.write(
          `POST /api/imports HTTP/1.1\r\nHost: 127.0.0.1\r\nCookie: ${SESSION_COOKIE}=${plant.sessionOf('administrator-1')}\r\n` +
            `Content-Type: multipart/form-data; boundary=${BOUNDARY}\r\nContent-Length: ${body.length}\r\n\r\n${body.slice(0, 900)}`,
          () => setTimeout(() => socket.destroy(), 100),
        );
      });
      socket.on('close', () => setTimeout(resolve, 200));
    });
    expect(await imports()).toEqual([]);
  });

  it('refuses files of other names, the same file twice, fields, and bodies that are no multipart', async () => {
    const code = async (body: string, type?: string) => {
      const answer = await send(body, '', 'administrator-1', type);
      return [answer.status, answer.body.reasons[0]!.code];
    };
    expect(await code(bodyOf({ 'lot.csv': 'lot\n' }))).toEqual([400, 'unknown-file']);
    expect(await code(part('lots.csv', 'lot\n') + bodyOf({ 'lots.csv': 'lot\n' }))).toEqual([400, 'doubled-file']);
    expect(await code(`--${BOUNDARY}--\r\n`)).toEqual([400, 'no-files']);
    expect(await code('{}', 'application/json')).toEqual([400, 'not-multipart']);
  });

  it('lets only an administrator bring records over', async () => {
    expect((await send(bodyOf(filesOf(GOOD)), '', 'quality-1')).status).toBe(403);
  });
});
