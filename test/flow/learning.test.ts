import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { codesOf, type Desk, good, signed, startDesk } from '../disposing.js';
import { receive, recordFacts } from '../fernhollow.js';
import { type Answer, DATABASES, type Plant } from '../harness.js';
import { readPdf } from '../read-pdf.js';
import { pdf, sendFile } from '../send-file.js';
import type { Role } from '../../src/server/plant/people/access.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Learning {
  readonly state: string;
  readonly asked: boolean;
  readonly lacking: readonly { readonly code: string }[];
  readonly cause: { readonly conclusion: string; readonly by: string } | null;
  readonly actions: readonly {
    readonly action: number;
    readonly kind: string;
    readonly overdue: boolean;
    readonly done: { readonly evidence: string } | null;
  }[];
  readonly effectiveness: readonly {
    readonly criterion: string;
    readonly replaced: boolean;
    readonly overdue: boolean;
    readonly checked: { readonly effective: boolean; readonly closed: boolean } | null;
  }[];
  readonly costs: {
    readonly byKind: readonly { readonly kind: string; readonly minor: number }[];
    readonly byDisposition: readonly { readonly disposition: number | null; readonly minor: number }[];
    readonly totalMinor: number;
  };
  readonly currency: string;
  readonly minorDigits: number;
  readonly repeats: readonly { readonly report: string; readonly because: readonly { readonly what: string; readonly code: string }[] }[];
}

const CAUSE = {
  whys: ['the lid comes off', 'the rim is not crimped', 'the crimping roller is worn', 'nobody looks at it'],
  categories: ['machine', 'method'],
  conclusion: 'the roller has no service interval',
};
const DAY = 24 * 60;

describe.each(DATABASES)('what a report teaches on %s', (database) => {
  let plant: Plant;
  let desk: Desk;
  const later = (days: number): void => plant.clock.set(new Date(Date.parse(plant.clock.now()) + days * DAY * 60_000).toISOString());
  const on = (days: number): string => new Date(Date.parse(plant.clock.now()) + days * DAY * 60_000).toISOString().slice(0, 10);
  const ask = (report: string, path: string, body: object, role: Role = 'quality', which: 1 | 2 = 1): Promise<Answer<Learning>> =>
    desk.post<Learning>(`/${report}/${path}`, body, role, which);
  const tell = async (report: string, path: string, body: object, role: Role = 'quality', which: 1 | 2 = 1): Promise<Learning> =>
    good(ask(report, path, body, role, which));
  const learning = (report: string): Promise<Learning> => good(plant.as('auditor').get<Learning>(`/api/reports/${report}/learning`));
  const action = (kind: string, more: object = {}) => ({ kind, what: 'set it right', owner: 'operator-1', dueOn: on(7), ...more });
  const check = (effective: boolean, more: object = {}) =>
    signed({ effective, harm: 'none seen', evidence: '500 cans opened, none loose', ...more });

  /** A report whose cans are scrapped; nothing is left but what it is to teach. */
  async function verified(investigate = true): Promise<{ readonly report: string; readonly lot: string }> {
    const lot = await desk.cans(20);
    const report = await desk.reviewed([{ lot, pieces: '1-4' }], {}, investigate);
    const n = await desk.decided(report, { kind: 'scrap', lot, pieces: '1-4' });
    const { state } = await desk.carryOut(report, n, { document: `SC-${report}` });
    expect(state).toBe('verified');
    return { report, lot };
  }

  beforeAll(async () => {
    ({ plant, desk } = await startDesk(database));
  });
  afterAll(() => plant.stop());

  it('NC-15: correction, corrective action and preventive action are kept apart', async () => {
    const { report } = await verified(false);
    await tell(report, 'cause', CAUSE, 'inspector');
    await tell(report, 'actions', action('correction', { what: 'scrap the four cans' }));
    await tell(report, 'actions', action('corrective', { what: 'new roller' }), 'inspector');
    const { actions } = await tell(report, 'actions', action('preventive', { what: 'service interval for every roller' }));
    expect(actions.map((one) => [one.action, one.kind])).toEqual([
      [1, 'correction'],
      [2, 'corrective'],
      [3, 'preventive'],
    ]);
    const paper = await readPdf(await plant.as('auditor').bytes(`/api/reports/${report}/report.pdf`));
    const text = paper.pages.map((page) => page.text).join('\n');
    for (const kind of ['Correction', 'Corrective', 'Preventive']) expect(text).toContain(kind);
  });

  it('NC-16: a report is not closed before cause, action and a check that it worked and did no harm', async () => {
    const { report, lot } = await verified();
    expect(codesOf(await desk.close(report))).toEqual(['cause-missing', 'corrective-action-missing', 'effectiveness-unchecked']);
    expect(codesOf(await ask(report, 'actions', action('corrective')))).toEqual(['cause-missing']);
    await tell(report, 'cause', CAUSE);
    await tell(report, 'actions', action('corrective', { owner: 'quality-1' }));
    await tell(report, 'effectiveness', { criterion: 'no loose lid in 500 cans', checkOn: on(14) });
    expect(codesOf(await desk.close(report))).toEqual(['action-open', 'effectiveness-unchecked']);
    // Too early, by the owner, with the action open: everything is said at once.
    const wrong = await ask(report, 'effectiveness/check', check(true, { files: ['ab'] }));
    expect([wrong.status, codesOf(wrong)]).toEqual([403, ['check-not-due', 'checks-own-action', 'action-open', 'file-unknown']]);
    const { sha256 } = (await sendFile(plant, 'roller.pdf', pdf('the new roller'))).body;
    await tell(report, 'actions/1/done', { evidence: 'roller 12 fitted', files: [sha256] });
    expect(codesOf(await desk.close(report))).toEqual(['effectiveness-unchecked']);
    later(14);
    expect(await desk.holdsOn(lot)).toEqual(['1-4']);
    const closed = await tell(report, 'effectiveness/check', check(true, { files: [sha256] }), 'quality', 2);
    expect(closed).toMatchObject({ state: 'closed', lacking: [], effectiveness: [{ checked: { effective: true, closed: true } }] });
    expect(await desk.holdsOn(lot)).toEqual([]);
  });

  it('a check that found it not effective leaves the report open, with another action and another check to come', async () => {
    const { report } = await verified();
    await tell(report, 'cause', CAUSE);
    await tell(report, 'actions', action('corrective'));
    await tell(report, 'actions/1/done', { evidence: 'roller changed' }, 'operator');
    await tell(report, 'effectiveness', { criterion: 'no loose lid in 500 cans', checkOn: on(30) });
    // That it does not work shows before its day.
    const failed = await tell(report, 'effectiveness/check', check(false, { evidence: '3 of 500 loose' }));
    expect([failed.state, failed.lacking.map((one) => one.code)]).toEqual([
      'verified',
      ['corrective-action-missing', 'effectiveness-unchecked'],
    ]);
    expect(codesOf(await ask(report, 'effectiveness/check', check(true)))).toEqual(['checked-already', 'corrective-action-missing']);
    await tell(report, 'effectiveness', { criterion: 'no loose lid in 2000 cans', checkOn: on(1) });
    expect(codesOf(await desk.close(report))).toEqual(['corrective-action-missing', 'effectiveness-unchecked']);
    later(1);
    expect(codesOf(await ask(report, 'effectiveness/check', check(true)))).toEqual(['corrective-action-missing']);
    await tell(report, 'actions', action('corrective', { what: 'gauge for the rim at every start' }));
    expect(codesOf(await ask(report, 'effectiveness/check', check(true)))).toEqual(['action-open']);
    await tell(report, 'actions/2/done', { evidence: 'gauge in use' });
    const { state, effectiveness } = await tell(report, 'effectiveness/check', check(true));
    expect([state, effectiveness.map((one) => one.checked?.effective)]).toEqual(['closed', [false, true]]);
  });

  it('an effective check before the pieces are dealt with closes nothing, and counts when they are', async () => {
    const lot = await desk.cans(10);
    const report = await desk.reviewed([{ lot, pieces: '1-2' }], {}, true);
    await tell(report, 'cause', CAUSE);
    await tell(report, 'actions', action('corrective'));
    await tell(report, 'actions/1/done', { evidence: 'done' });
    await tell(report, 'effectiveness', { criterion: 'c', checkOn: on(0) });
    expect(await tell(report, 'effectiveness/check', check(true))).toMatchObject({ state: 'reviewed', lacking: [] });
    const n = await desk.decided(report, { kind: 'scrap', lot, pieces: '1-2' });
    await desk.carryOut(report, n, { document: `SC-${report}` });
    expect((await good(desk.close(report))).state).toBe('closed');
  });

  it('an action done after the check asks for another check', async () => {
    const { report } = await verified();
    await tell(report, 'cause', CAUSE);
    await tell(report, 'actions', action('corrective'));
    await tell(report, 'actions/1/done', { evidence: 'done' });
    await tell(report, 'effectiveness', { criterion: 'first', checkOn: on(3) });
    const { effectiveness } = await tell(report, 'effectiveness', { criterion: 'second', checkOn: on(0) });
    expect(effectiveness.map((one) => [one.criterion, one.replaced])).toEqual([
      ['first', true],
      ['second', false],
    ]);
    await tell(report, 'actions', action('preventive', { owner: 'clerk-1' }));
    // An open action of any kind keeps the report from closing, and so the check from closing it.
    expect(codesOf(await ask(report, 'effectiveness/check', check(true)))).toEqual(['action-open']);
    await tell(report, 'actions/2/done', { evidence: 'done' }, 'clerk');
    expect((await tell(report, 'effectiveness/check', check(true))).state).toBe('closed');
    await good(desk.post(`/${report}/reopening`, signed()));
    await tell(report, 'actions', action('corrective'));
    await tell(report, 'actions/3/done', { evidence: 'done' });
    expect(codesOf(await desk.close(report))).toEqual(['effectiveness-unchecked']);
  });

  it('says everything that is wrong with an action, its day and its owner, and who may say that it is done', async () => {
    const { report } = await verified(false);
    await recordFacts(plant, [{ kind: 'PersonBlocked', v: 1, person: 'dispatcher-2', reason: 'left' } as never]);
    const late = action('corrective', { owner: 'nobody', dueOn: '2026-01-01' });
    expect(codesOf(await ask(report, 'actions', late))).toEqual(['cause-missing', 'person-unknown', 'day-past']);
    expect(codesOf(await ask(report, 'actions', action('correction', { owner: 'dispatcher-2' })))).toEqual(['person-blocked']);
    expect(codesOf(await ask(report, 'cause', { ...CAUSE, categories: ['unknown', 'people'] }))).toEqual(['cause-known-and-unknown']);
    expect((await ask(report, 'cause', { ...CAUSE, whys: [] })).status).toBe(400);
    expect((await ask(report, 'cause', CAUSE, 'operator')).status).toBe(403);
    expect(codesOf(await ask(report, 'effectiveness', { criterion: 'c', checkOn: '2026-01-01' }))).toEqual(['day-past']);
    expect(codesOf(await ask(report, 'effectiveness/check', check(false)))).toEqual(['criterion-missing', 'corrective-action-missing']);
    await tell(report, 'actions', action('correction'));
    const other = await ask(report, 'actions/1/done', { evidence: 'e', files: ['x'] }, 'operator', 2);
    expect([other.status, codesOf(other)]).toEqual([403, ['action-of-another', 'file-unknown']]);
    expect(codesOf(await ask(report, 'actions/9/done', { evidence: 'e' }))).toEqual(['action-unknown']);
    await tell(report, 'actions/1/done', { evidence: 'e' }, 'operator');
    expect(codesOf(await ask(report, 'actions/1/done', { evidence: 'again' }))).toEqual(['action-done-already']);
    expect((await plant.as('auditor').get('/api/reports/NC-99999/learning')).status).toBe(404);
  });

  it('an action is overdue when its day is past, and a check too', async () => {
    const { report } = await verified(false);
    await tell(report, 'actions', action('correction', { dueOn: on(2) }));
    await tell(report, 'effectiveness', { criterion: 'c', checkOn: on(2) });
    later(2);
    const inTime = await learning(report);
    expect([inTime.actions[0]!.overdue, inTime.effectiveness[0]!.overdue]).toEqual([false, false]);
    later(1);
    const late = await learning(report);
    expect([late.actions[0]!.overdue, late.effectiveness[0]!.overdue]).toEqual([true, true]);
    const { actions } = await tell(report, 'actions/1/done', { evidence: 'late' });
    expect(actions[0]!.overdue).toBe(false);
  });

  it('costs are whole minor units, of a disposition or of the report, and what came back says why', async () => {
    const { report } = await verified(false);
    await tell(report, 'costs', { disposition: 1, kind: 'material', minor: 12_050 });
    await tell(report, 'costs', { disposition: 1, kind: 'labour', minor: 4_000 });
    await tell(report, 'costs', { kind: 'other', minor: 900, note: 'freight' }, 'administrator');
    const wrong = await ask(report, 'costs', { disposition: 7, kind: 'material', minor: -50 });
    expect([wrong.status, codesOf(wrong)]).toEqual([400, ['disposition-unknown', 'credit-unexplained']]);
    for (const minor of [0, 1.5, 1e12]) expect((await ask(report, 'costs', { kind: 'other', minor })).status).toBe(400);
    expect((await good(desk.close(report))).state).toBe('closed');
    const { costs, currency, minorDigits } = await tell(report, 'costs', { kind: 'material', minor: -2_050, note: 'credit note 7' });
    expect([currency, minorDigits]).toEqual(['EUR', 2]);
    expect(costs).toMatchObject({
      byKind: [
        { kind: 'material', minor: 10_000 },
        { kind: 'labour', minor: 4_000 },
        { kind: 'other', minor: 900 },
      ],
      byDisposition: [
        { disposition: null, minor: -1_150 },
        { disposition: 1, minor: 16_050 },
      ],
      totalMinor: 14_900,
    });
  });

  it('shows reports that have something in common with this one, and what', async () => {
    const defects = [{ defect: 'D-LEAK', count: 3 }];
    const [seals] = await receive(plant, [{ item: 'SEAL', quantity: '100' }], 'S-PACK');
    const [lids] = await receive(plant, [{ item: 'LID-250', quantity: '100' }], 'S-PACK');
    const [bars] = await receive(plant, [{ item: 'BAR-6061', quantity: '100' }], 'S-METAL');
    const first = await desk.reviewed([{ lot: seals! }], { defects });
    const second = await desk.reviewed([{ lot: seals! }, { lot: lids! }], { defects });
    const third = await desk.reviewed([{ lot: lids! }], { source: { kind: 'audit' } });
    const other = await desk.reviewed([{ lot: bars! }]);
    const none = await desk.reviewed([{ lot: seals! }], { defects });
    await good(desk.post(`/${none}/withdrawal`, signed()));
    await tell(first, 'cause', { ...CAUSE, categories: ['design'] });
    await tell(third, 'cause', { ...CAUSE, categories: ['design', 'supplier'] });
    await tell(second, 'cause', { ...CAUSE, categories: ['unknown'] });
    await tell(other, 'cause', { ...CAUSE, categories: ['unknown'] });
    expect((await learning(first)).repeats.map((one) => [one.report, one.because.map((mark) => `${mark.what} ${mark.code}`)])).toEqual([
      [second, ['defect D-LEAK', 'item SEAL', 'supplier S-PACK']],
      [third, ['cause design', 'supplier S-PACK']],
    ]);
    expect((await learning(other)).repeats).toEqual([]);
  });

  it('nothing more is planned for a closed report', async () => {
    const { report } = await verified(false);
    await good(desk.close(report));
    for (const [path, body] of [
      ['cause', CAUSE],
      ['actions', action('correction')],
      ['effectiveness', { criterion: 'c', checkOn: on(1) }],
    ] as const) {
      expect(codesOf(await ask(report, path, body))).toEqual(['report-in-other-state']);
    }
  });

  it('ends with a record that a replay gives again', () => expectRebuildEqual(plant));
});
