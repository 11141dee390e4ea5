import { readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CONFIG, type Config } from '../../src/server/platform/config.js';
import { SESSION_COOKIE } from '../../src/server/plant/people/session-cookie.js';
import { catalogueFernhollow } from '../fernhollow.js';
import { DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { listDefects } from '../inspecting.js';
import { makeLots } from '../made-lots.js';
import { GREY_JPEG, pictureOfCan } from '../pictures.js';
import { plain, type ReadPage, readPdf } from '../read-pdf.js';
import { expectRebuildEqual } from '../rebuild.js';
import { pdf, sendFile } from '../send-file.js';

const signed = (more: object = {}) => ({ password: PASSWORD, reason: 'looked into', ...more });

describe.each(DATABASES)('the nonconformance report on paper, on %s', (database) => {
  let plant: Plant;
  let report: string;
  let files: string[];

  const post = async (path: string, body: object): Promise<{ report: string; holds: { hold: string }[] }> => {
    const answer = await plant.as('quality').post<{ report: string; holds: { hold: string }[] }>(`/api/reports${path}`, body);
    if (answer.status >= 400) throw new Error(JSON.stringify(answer.body));
    return answer.body;
  };
  const bytesOf = async (code: string, query = ''): Promise<Buffer> => {
    const answer = await plant.app.inject({
      method: 'GET',
      url: `/api/reports/${code}/report.pdf${query}`,
      cookies: { [SESSION_COOKIE]: plant.sessionOf('auditor-1') },
    });
    if (answer.statusCode !== 200) throw new Error(answer.body);
    expect(answer.headers['content-type']).toBe('application/pdf');
    return answer.rawPayload;
  };
  const read = async (bytes: Buffer): Promise<{ text: string; pages: ReadPage[]; alts: string[] }> => {
    const { pages } = await readPdf(bytes);
    return { pages, text: plain(pages.map((page) => page.text).join(' ')), alts: pages.flatMap((page) => page.alts) };
  };
  const refused = async (path: string): Promise<[number, string[]]> => {
    const answer = await plant.as('auditor').get<{ reasons: { code: string }[] }>(path);
    return [answer.status, answer.body.reasons.map((reason) => reason.code)];
  };
  const lastEntry = async (): Promise<number> =>
    (await plant.as('auditor').get<{ entries: number }>('/api/ledger/entries?limit=1')).body.entries;

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    await listDefects(plant);
    await makeLots(plant, [{ lot: 'F-1', item: 'WAX-250', pieces: 100 }]);
    const shipment = { customer: 'C-001', documentType: 'dispatch note', document: 'N-1', location: 'FG-1' };
    await plant.as('dispatcher').post('/api/shipments', { ...shipment, lines: [{ lot: 'F-1', pieces: '1-4' }] });
    files = [];
    for (const [name, content] of [
      ['lid.jpg', GREY_JPEG],
      ['can.png', pictureOfCan(64, 48)],
      ['seam.webp', Buffer.concat([Buffer.from('RIFF\u0010\u0000\u0000\u0000WEBPVP8 '), Buffer.alloc(8)])],
      ['supplier.pdf', pdf('letter')],
      ['broken.png', pictureOfCan(64, 48).subarray(0, 90)],
    ] as const) {
      files.push((await sendFile(plant, name, content)).body.sha256);
    }
    ({ report } = await post('', {
      source: { kind: 'audit' },
      requirement: 'DS-4: a closed can holds 0.3 bar',
      found: 'lids lift at the seam',
      severity: 'major',
      defects: [{ defect: 'D-LEAK', count: 3 }],
      measured: ['Pressure held 0.18 bar, at least 0.3 bar'],
      files,
      parts: [{ lot: 'F-1', pieces: '1-40' }],
    }));
    await post(`/${report}/containment`, signed());
    await post(`/${report}/parts`, { lot: 'F-1', pieces: '41-60', relation: 'same-lot', affected: false, reason: 'pressed one by one' });
    await post(`/${report}/consignees/told`, { customer: 'C-001', channel: 'telephone', what: 'do not sell pieces 1 to 4' });
    await post(`/${report}/consignees/answers`, { customer: 'C-001', answer: 'set aside' });
  });
  afterAll(() => plant.stop());

  it('says what was found, what is affected, how it stands, who was told, and where in the ledger', async () => {
    const { text, pages } = await read(await bytesOf(report));
    for (const part of [
      'lids lift at the seam',
      'D-LEAK',
      'Pressure held 0.18 bar, at least 0.3 bar',
      'F-1 WAX-250',
      '1–40',
      'not affected pressed one by one',
      'do not sell pieces 1 to 4',
      'set aside',
      'In all 40 0 0 40',
      'the law of each place',
      'No: what is affected and what was disposed of do not come to the same yet',
      `Nonconformance report ${report} raised, major, on pieces 1-40 of F-1`,
    ]) {
      expect(text).toContain(part);
    }
    const { entries } = (await plant.as('auditor').get<{ entries: number; told: { hash: string }[] }>('/api/ledger/entries?limit=1')).body;
    expect(text).toContain(`As known at entry ${entries},`);
    expect(pages.every((page) => page.text.includes(`As known at ledger entry ${entries},`))).toBe(true);
  });

  it('AU-10: a signature shows printed name, date and time, and meaning', async () => {
    const { text } = await read(await bytesOf(report));
    expect(text).toMatch(/containment .*quality-1 \d+ \w+ \d{4}, \d\d:\d\d UTC I stop everything that this report affects/u);
  });

  it('prints the photographs it can, and lists what it cannot by name, hash and why', async () => {
    const bytes = await bytesOf(report);
    const { text, alts } = await read(bytes);
    expect(alts).toEqual(expect.arrayContaining(['Photograph lid.jpg, of what was found', 'Photograph can.png, of what was found']));
    expect(bytes.toString('latin1').match(/\/Subtype \/Image/gu)).toHaveLength(2);
    expect(bytes.includes(GREY_JPEG)).toBe(true);
    expect(text).toMatch(/seam\.webp .*is of a kind that cannot be set on paper here/u);
    expect(text).toMatch(/supplier\.pdf .*is no picture/u);
    expect(text).toMatch(/broken\.png .*is damaged, or no whole picture/u);
    for (const sha256 of files) expect(text).toContain(sha256.slice(0, 8));
  });

  it('is the same, byte for byte, when it is asked for again, also after more was recorded', async () => {
    const seq = await lastEntry();
    const once = await bytesOf(report);
    expect((await bytesOf(report)).equals(once)).toBe(true);
    const dispatched = { customer: 'C-001', documentType: 'dispatch note', document: 'N-2', location: 'FG-1' };
    await plant.as('dispatcher').post('/api/shipments', { ...dispatched, lines: [{ lot: 'F-1', pieces: '70' }] });
    expect((await bytesOf(report)).equals(once)).toBe(true);
    const asked = { investigate: { needed: true, reason: 'third leak' }, inform: { needed: false, reason: 'made here' } };
    await post(`/${report}/review`, signed({ ...asked, severity: 'critical' }));
    expect((await bytesOf(report, `?asKnownAt=${seq}`)).equals(once)).toBe(true);
    const { text, pages } = await read(await bytesOf(report));
    expect(text).toContain('people can be hurt');
    expect(pages.every((page) => page.text.includes('CRITICAL'))).toBe(true);
    expect(text).toContain('Yes: third leak');
  });

  it('NC-2: a disposition stands with its terms, the concession, who signed for which function, and what is still waited for', async () => {
    const concession = { authority: 'customer', authorisedBy: 'M. Calder', reference: 'letter 26/114', until: '2027-06-30' };
    await post(`/${report}/dispositions`, { kind: 'concession', lot: 'F-1', pieces: '1-4', reason: 'closed by hand', concession });
    await post(`/${report}/dispositions`, { kind: 'scrap', lot: 'F-1', pieces: '5-40', reason: 'leaking' });
    const second = plant.as('quality', 2);
    const answer = await second.post(`/api/reports/${report}/dispositions/1/signature`, { password: PASSWORD, as: 'quality' });
    expect(answer.status).toBeLessThan(300);
    const { text } = await read(await bytesOf(report));
    expect(text).toContain('1. Concession of F-1, 4 pieces: 1–4 Why closed by hand');
    expect(text).toContain('Authorised by M. Calder (customer), letter 26/114 Until 30 Jun 2027');
    expect(text).toContain('Waits for one signature of another function');
    expect(text).toMatch(/For Printed name Date and time Meaning Entry quality quality-2 \d+ \w+ \d{4}, \d\d:\d\d UTC /u);
    expect(text).not.toContain('BROKEN');
    expect(text).toContain('2. Scrap of F-1, 36 pieces: 5–40 Why leaking');
    expect(text).toContain('In all 40 40 0 0 0');
    expect(text).toContain('Yes: every affected piece and quantity has exactly one disposition');
  });

  it('told as known before it was contained, it has no holds and no signatures; withdrawn, its holds are lifted', async () => {
    await makeLots(plant, [{ lot: 'F-2', item: 'WAX-250', pieces: 10 }]);
    const other = await post('', {
      source: { kind: 'audit' }, requirement: 'r', found: 'f', severity: 'minor', parts: [{ lot: 'F-2' }],
    }); // prettier-ignore
    const raisedAt = await lastEntry();
    await post(`/${other.report}/containment`, signed());
    await post(`/${other.report}/withdrawal`, signed({ reason: 'measured again: it holds' }));
    const before = await read(await bytesOf(other.report, `?asKnownAt=${raisedAt}`));
    expect(before.text).toContain('Nothing is held for this report.');
    expect(before.text).toContain('Nobody has signed it yet.');
    const { text } = await read(await bytesOf(other.report));
    expect(text).toContain(`${other.report} withdrawn: measured again: it holds`);
    expect(text).toMatch(/F-2 10 pieces: 1–10 .*withdrawn: measured again: it holds entry \d+ Who has/u);
    expect(text).toContain('Nothing was to be disposed of: the report was withdrawn.');
    expect(await refused(`/api/reports/${other.report}/report.pdf?asKnownAt=${raisedAt - 1}`)).toEqual([404, ['report-not-raised-yet']]);
  });

  it('refuses what is not there', async () => {
    expect(await refused('/api/reports/NC-9/report.pdf')).toEqual([404, ['report-unknown']]);
    expect(await refused(`/api/reports/${report}/report.pdf?asKnownAt=999999`)).toEqual([404, ['entry-unknown']]);
    expect((await plant.as('auditor').get(`/api/reports/${report}/report.pdf?asKnownAt=x`)).status).toBe(400);
  });

  it('a photograph that is gone from the disk, or is another there, is said to be so and not printed', async () => {
    const { dataDir } = plant.app.get<Config>(CONFIG);
    const path = join(dataDir, 'files', files[1]!.slice(0, 2), files[1]!);
    const kept = await readFile(path);
    await rm(path);
    expect((await read(await bytesOf(report))).text).toMatch(/can\.png .*is gone from the store of files/u);
    await writeFile(path, Buffer.alloc(kept.length));
    expect((await read(await bytesOf(report))).text).toMatch(/can\.png .*is not what was stored under its hash/u);
    await writeFile(path, kept);
  });

  it('ends with a record that a replay gives again', () => expectRebuildEqual(plant));
});
