import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogueFernhollow, receive, receiveReleased } from '../fernhollow.js';
import { type Answer, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { inspect, listDefects, planInspection } from '../inspecting.js';
import { makeLots, linkLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Refused {
  readonly reasons: readonly { readonly code: string; readonly detail: string; readonly pointer?: string }[];
}
interface Report {
  readonly report: string;
  readonly state: string;
  readonly severity: string;
  readonly found: string;
  readonly requirement: string;
  readonly source: string;
  readonly sourceCode: string | null;
  readonly defects: readonly { readonly defect: string; readonly count: number }[];
  readonly parts: readonly { readonly lot: string; readonly pieces: string | null; readonly quantity: string }[];
  readonly holds: readonly {
    readonly hold: string;
    readonly lot: string;
    readonly pieces: string | null;
    readonly quantity: string | null;
  }[];
  readonly contained: boolean;
  readonly accounts: readonly { readonly lot: string; readonly affected: string; readonly open: string }[];
  readonly consignees: readonly {
    readonly customer: string;
    readonly affectedPieces: number;
    readonly told: readonly unknown[];
    readonly answers: readonly unknown[];
  }[];
  readonly caution: string | null;
}
const codes = (answer: Answer<Refused>): string[] => answer.body.reasons.map((reason) => reason.code);
const signed = (more: object = {}) => ({ password: PASSWORD, reason: 'looked into', ...more });

describe.each(DATABASES)('nonconformance reports on %s', (database) => {
  let plant: Plant;
  const post = async <Body = Report>(path: string, body: object, role: 'quality' | 'inspector' | 'clerk' | 'auditor' = 'quality') =>
    plant.as(role).post<Body>(`/api/reports${path}`, body);
  const done = async (path: string, body: object): Promise<Report> => {
    const answer = await post(path, body);
    if (answer.status >= 400) throw new Error(`refused: ${JSON.stringify(answer.body)}`);
    return answer.body;
  };
  const raise = (lot: string, more: object = {}): Promise<Report> =>
    done('', {
      source: { kind: 'audit' },
      requirement: 'DS-4: can closes',
      found: 'lids fall off',
      severity: 'major',
      parts: [{ lot }],
      ...more,
    });
  const usable = async (lot: string): Promise<string[]> => {
    const body = {
      customer: 'C-001',
      documentType: 'dispatch note',
      document: `N-${lot}`,
      location: 'FG-1',
      lines: [{ lot, pieces: '1' }],
    };
    const answer = await plant.as('dispatcher').post<Refused>('/api/shipments', body);
    return answer.status === 201 ? [] : codes(answer);
  };

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    await listDefects(plant);
    await planInspection(plant, 'SEAL');
  });
  afterAll(() => plant.stop());

  it('NC-1: one raised from an inspection takes over its findings, and the hold that it placed', async () => {
    const [lot] = await receive(plant, [{ item: 'SEAL', quantity: '1000' }], 'S-PACK');
    const { inspection, holds } = await inspect(plant, lot!, 3);
    const report = await done('', { fromInspection: inspection });
    expect(report).toMatchObject({
      state: 'raised',
      severity: 'major',
      source: 'inspection',
      sourceCode: inspection,
      found: '3 major in 80, not accepted at 3',
      defects: [{ defect: 'D-LEAK', count: 3 }],
      parts: [{ lot, pieces: null, quantity: '1000' }],
    });
    expect(report.holds.map((one) => one.hold)).toEqual(holds);
    const contained = await done(`/${report.report}/containment`, signed());
    expect([contained.state, contained.contained, contained.holds.map((one) => one.hold)]).toEqual(['contained', true, holds]);
    const page = async (query: string) =>
      (await plant.as('auditor').get<{ asKnownAt: number; reports: object[] }>(`/api/lots/${lot}${query}`)).body;
    const { asKnownAt, reports } = await page('');
    expect(reports).toEqual([expect.objectContaining({ report: report.report, state: 'contained', open: true, pieces: null })]);
    expect((await page(`?asKnownAt=${asKnownAt - 1}`)).reports).toEqual([expect.objectContaining({ state: 'raised' })]);
    await done(`/${report.report}/withdrawal`, signed());
    expect((await page('')).reports).toEqual([expect.objectContaining({ state: 'withdrawn', open: false })]);
  });

  it('says everything that is wrong with a report at once', async () => {
    const wrong = await post<Refused>('', { parts: [{ lot: 'NOWHERE' }] });
    expect(codes(wrong)).toEqual(['source-missing', 'requirement-missing', 'finding-missing', 'severity-missing']);
    const body = {
      source: { kind: 'delivery', code: 'D-9' },
      requirement: 'r',
      found: 'f',
      severity: 'minor',
      foundBy: 'nobody',
      files: ['ab'],
      defects: [{ defect: 'D-NONE' }],
      parts: [{ lot: 'NOWHERE' }],
    };
    expect(codes(await post<Refused>('', body))).toEqual([
      'source-unknown',
      'person-unknown',
      'defect-unknown',
      'file-unknown',
      'lot-unknown',
    ]);
  });

  it('contains what it affects, with what was made from it, and refuses to move on before', async () => {
    const [wax] = await receiveReleased(plant, [{ item: 'WAX-BASE', quantity: '100' }]);
    await makeLots(plant, [{ lot: 'F-1', item: 'WAX-250', pieces: 100 }]);
    await linkLots(plant, 'RUN-T', [{ from: wax!, to: 'F-1', toSpan: [1, 40] }]);
    const { report } = await raise(wax!);
    expect(
      codes(
        await post<Refused>(
          `/${report}/review`,
          signed({ investigate: { needed: true, reason: 'a' }, inform: { needed: false, reason: 'b' } }),
        ),
      ),
    ).toEqual(['report-in-other-state']);
    expect(await usable('F-1')).toEqual([]);
    const contained = await done(`/${report}/containment`, signed());
    expect([contained.state, contained.holds]).toMatchObject(['contained', [{ lot: wax, pieces: null, quantity: null }]]);
    expect(await usable('F-1')).toContain('made-from-held');
    expect(codes(await post<Refused>(`/${report}/containment`, signed()))).toEqual(['report-in-other-state']);
    const asked = {
      investigate: { needed: true, reason: 'third time this year' },
      inform: { needed: true, reason: 'supplier is to answer' },
    };
    const reviewed = await done(`/${report}/review`, signed({ ...asked, severity: 'critical' }));
    expect([reviewed.state, reviewed.severity]).toEqual(['reviewed', 'critical']);
    expect(reviewed.caution).toContain('Critical');
  });

  it('NC-14: proposes what may share the cause, also what was shipped, and keeps each judgement with its reason', async () => {
    const [label] = await receiveReleased(plant, [{ item: 'LBL-250', quantity: '1000' }], 'S-PACK');
    await makeLots(plant, [
      { lot: 'F-2', item: 'WAX-250', pieces: 50 },
      { lot: 'F-3', item: 'WAX-250', pieces: 50 },
    ]);
    await linkLots(plant, 'RUN-T', [
      { from: label!, to: 'F-2', toSpan: [1, 50] },
      { from: label!, to: 'F-3', toSpan: [1, 30] },
    ]);
    expect(await usable('F-3')).toEqual([]);
    const { report } = await raise('F-2', { parts: [{ lot: 'F-2', pieces: '1-8' }] });
    await done(`/${report}/parts`, { lot: 'F-2', pieces: '9-10', relation: 'same-lot', affected: true, reason: 'next in line' });
    const { body } = await plant
      .as('quality')
      .get<{ lot: string; pieces: string; relation: string; shipped: boolean; judged: string | null }[]>(
        `/api/reports/${report}/proposals`,
      );
    expect(body).toEqual([
      expect.objectContaining({ lot: 'F-3', pieces: '1-30', relation: 'same-input', shipped: true, judged: null }),
      expect.objectContaining({ lot: 'F-2', pieces: '11-50', relation: 'same-lot', shipped: false, judged: null }),
    ]);
    await done(`/${report}/containment`, signed());
    const late = await done(`/${report}/parts`, {
      lot: 'F-3',
      pieces: '1-30',
      relation: 'same-input',
      affected: true,
      reason: 'same reel of labels',
    });
    expect(late.holds.map((one) => `${one.lot} ${one.pieces}`)).toEqual(['F-2 1-10', 'F-3 1-30']);
    expect(late.accounts.map((one) => [one.lot, one.affected, one.open])).toEqual([
      ['F-2', '10', '10'],
      ['F-3', '30', '30'],
    ]);
    const out = await done(`/${report}/parts`, {
      lot: 'F-2',
      pieces: '11-50',
      relation: 'same-lot',
      affected: false,
      reason: 'labels looked at one by one',
    });
    expect(out.accounts).toEqual(late.accounts);
    expect(
      codes(await post<Refused>(`/${report}/parts`, { lot: 'F-3', pieces: '30-31', relation: 'other', affected: true, reason: 'again' })),
    ).toEqual(['affected-already']);
    expect(late.consignees.map((one) => [one.customer, one.affectedPieces])).toEqual([['C-001', 1]]);
  });

  it('NC-5: consignees of shipped goods are told, and their answers are kept', async () => {
    await makeLots(plant, [{ lot: 'F-4', item: 'WAX-250', pieces: 10 }]);
    expect(await usable('F-4')).toEqual([]);
    const { report, consignees } = await raise('F-4', { source: { kind: 'complaint', code: 'letter of 3 March' } });
    expect(consignees).toMatchObject([{ customer: 'C-001', affectedPieces: 1, told: [] }]);
    const answer = { customer: 'C-001', answer: 'set aside' };
    expect(codes(await post<Refused>(`/${report}/consignees/answers`, answer))).toEqual(['not-told']);
    expect(codes(await post<Refused>(`/${report}/consignees/told`, { customer: 'C-002', channel: 'telephone', what: 'stop' }))).toEqual([
      'consignee-unknown',
    ]);
    await done(`/${report}/consignees/told`, { customer: 'C-001', channel: 'telephone', what: 'do not sell piece 1' });
    const after = await done(`/${report}/consignees/answers`, answer);
    expect(after.consignees[0]).toMatchObject({ told: [{ channel: 'telephone' }], answers: [{ answer: 'set aside' }] });
  });

  it('NC-6: whoever has no authority is refused, and a withdrawn report lets its holds go', async () => {
    await makeLots(plant, [{ lot: 'F-5', item: 'WAX-250', pieces: 10 }]);
    const { report } = await raise('F-5');
    expect((await post(`/${report}/containment`, signed(), 'clerk')).status).toBe(403);
    await done(`/${report}/containment`, signed());
    expect(await usable('F-5')).toEqual(['lot-held']);
    expect((await done(`/${report}/withdrawal`, signed())).state).toBe('withdrawn');
    expect(await usable('F-5')).toEqual([]);
    expect(codes(await post<Refused>(`/${report}/parts`, { lot: 'F-5', relation: 'other', affected: true, reason: 'late' }))).toEqual([
      'report-in-other-state',
      'affected-already',
    ]);
  });

  it('one raised from a trace affects everything it reaches', async () => {
    const [can] = await receiveReleased(plant, [{ item: 'CAN-250', quantity: '100' }], 'S-PACK');
    await makeLots(plant, [{ lot: 'F-6', item: 'WAX-250', pieces: 20 }]);
    await linkLots(plant, 'RUN-T', [{ from: can!, to: 'F-6', toSpan: [5, 9] }]);
    const report = await done('', {
      fromTrace: { lot: can },
      source: { kind: 'complaint' },
      requirement: 'r',
      found: 'f',
      severity: 'minor',
    });
    expect(report.parts.map((part) => [part.lot, part.pieces])).toEqual([
      [can, null],
      ['F-6', '5-9'],
    ]);
  });

  it('ends with a record that a replay gives again', () => expectRebuildEqual(plant));
});
