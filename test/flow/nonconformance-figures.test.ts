import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Desk, good, signed, startDesk } from '../disposing.js';
import { receive, recordFacts } from '../fernhollow.js';
import { DATABASES, type Plant } from '../harness.js';
import { inspect } from '../inspecting.js';
import { makeLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Row {
  readonly code: string;
  readonly reports: number;
  readonly found: number | null;
  readonly cumulativeShare: number;
}
interface Pareto {
  readonly reports: number;
  readonly without: number;
  readonly rows: readonly Row[];
}
interface Week {
  readonly item: string;
  readonly week: string;
  readonly lots: number;
  readonly lotsAccepted: number;
  readonly pieces: number;
  readonly piecesAccepted: number;
}

const started = (run: string, line: string) => ({
  kind: 'RunStarted',
  v: 1,
  run,
  runKind: 'filling',
  item: 'WAX-250',
  itemRevision: 1,
  recipe: null,
  recipeRevision: null,
  bom: null,
  bomRevision: null,
  vessel: null,
  line,
  people: ['operator-1'],
  startedAt: '2026-02-20T07:00:00.000Z',
  plannedMicro: null,
  clearance: null,
  label: null,
  residues: [],
});

describe.each(DATABASES)('figures of nonconformance on %s', (database) => {
  let plant: Plant;
  let desk: Desk;
  const reports: string[] = [];
  const read = <Body>(path: string): Promise<Body> => good(plant.as('auditor').get<Body>(`/api/figures/${path}`));
  const pareto = async (query: string): Promise<(string | number | null)[][]> =>
    (await read<Pareto>(`nonconformance?${query}`)).rows.map((row) => [row.code, row.reports, row.cumulativeShare]);
  const tell = (report: string, path: string, body: object) => good(desk.post(`/${report}/${path}`, body));

  beforeAll(async () => {
    ({ plant, desk } = await startDesk(database));
    await recordFacts(plant, [started('RUN-F-A', 'FILL-1'), started('RUN-F-B', 'FILL-1'), started('RUN-F-C', 'BENCH-1')] as never);
    await makeLots(
      plant,
      ['F-A', 'F-B', 'F-C'].map((lot) => ({ lot, item: 'WAX-250', pieces: 10 })),
    );
    const [seals] = await receive(plant, [{ item: 'SEAL', quantity: '500' }], 'S-PACK');
    const raise = async (lot: string, defects: readonly object[]): Promise<void> => {
      plant.clock.set(new Date(Date.parse(plant.clock.now()) + 24 * 3_600_000).toISOString());
      reports.push(await desk.reviewed([{ lot }], { defects }, true));
    };
    await raise('F-A', [{ defect: 'D-LEAK', count: 3 }]);
    await raise('F-B', [
      { defect: 'D-LEAK', count: 2 },
      { defect: 'D-DENT', count: 40 },
    ]);
    await raise('F-C', [{ defect: 'D-DENT', count: 1 }]);
    await raise(seals!, []);
    await raise('F-C', [{ defect: 'D-BURST' }]);
    await good(desk.post(`/${reports.pop()!}/withdrawal`, signed()));
    await tell(reports[0]!, 'cause', { whys: ['w'], categories: ['machine'], conclusion: 'c' });
    await tell(reports[1]!, 'cause', { whys: ['w'], categories: ['machine', 'method'], conclusion: 'c' });
  });
  afterAll(() => plant.stop());

  it('NC-17: reports are counted by defect, item, supplier, line and cause, and within a time', async () => {
    expect(await read<Pareto>('nonconformance')).toEqual({
      by: 'defect',
      reports: 4,
      without: 1,
      rows: [
        { code: 'D-DENT', reports: 2, found: 41, share: 0.5, cumulativeShare: 0.5 },
        { code: 'D-LEAK', reports: 2, found: 5, share: 0.5, cumulativeShare: 1 },
      ],
    });
    expect(await pareto('by=item')).toEqual([
      ['WAX-250', 3, 0.75],
      ['SEAL', 1, 1],
    ]);
    expect(await pareto('by=supplier')).toEqual([['S-PACK', 1, 1]]);
    expect(await pareto('by=line')).toEqual([
      ['FILL-1', 2, 0.6667],
      ['BENCH-1', 1, 1],
    ]);
    expect(await pareto('by=cause')).toEqual([
      ['machine', 2, 0.6667],
      ['method', 1, 1],
    ]);
    // Raised on 3, 4, 5 and 6 March.
    expect(await pareto('by=item&from=2026-03-04T00:00:00Z&to=2026-03-06T00:00:00Z')).toEqual([['WAX-250', 2, 1]]);
    expect((await plant.as('auditor').get('/api/figures/nonconformance?by=colour')).status).toBe(400);
    expect(await read<string>('nonconformance.csv?by=line')).toBe(
      'line,reports,found,share,cumulative_share\r\nFILL-1,2,,0.6667,0.6667\r\nBENCH-1,1,,0.3333,1\r\n',
    );
  });

  it('open reports are told by state and age', async () => {
    await good(desk.post('', { source: { kind: 'audit' }, requirement: 'r', found: 'f', severity: 'minor', parts: [{ lot: 'F-A' }] }));
    plant.clock.set('2026-03-12T08:00:00.000Z');
    const ageing = await read<{ states: readonly object[]; reports: readonly { report: string; daysOpen: number; daysInState: number }[] }>(
      'ageing',
    );
    expect(ageing.states).toEqual([
      expect.objectContaining({ state: 'raised', upTo7: 1, reports: 1 }),
      expect.objectContaining({ state: 'contained', reports: 0 }),
      expect.objectContaining({ state: 'reviewed', upTo7: 2, from8To30: 2, reports: 4 }),
      expect.objectContaining({ state: 'dispositioned', reports: 0 }),
      expect.objectContaining({ state: 'carried-out', reports: 0 }),
      expect.objectContaining({ state: 'verified', reports: 0 }),
    ]);
    expect(ageing.reports.map((one) => one.daysOpen)).toEqual([9, 8, 7, 6, 5]);
    const csv = await read<string>('ageing.csv');
    expect(csv.split('\r\n')[1]).toBe(`${reports[0]},reviewed,major,DS-4: can closes,2026-03-03T08:00:00.000Z,9,9`);
  });

  it('costs are summed by what they are of, in the currency of the plant', async () => {
    const [first, second] = reports as [string, string];
    const n = await desk.propose(first, { kind: 'scrap', lot: 'F-A', pieces: '1-4' });
    const m = await desk.propose(second, { kind: 'scrap', lot: 'F-B', pieces: '1-4' });
    await tell(first, 'costs', { disposition: n, kind: 'material', minor: 10_000 });
    await tell(second, 'costs', { disposition: m, kind: 'material', minor: 2_345 });
    await tell(second, 'costs', { kind: 'labour', minor: 1 });
    await tell(second, 'costs', { kind: 'other', minor: -250, note: 'credit' });
    expect(await read('costs')).toEqual({
      currency: 'EUR',
      minorDigits: 2,
      rows: [
        { dispositionKind: 'scrap', kind: 'material', minor: 12_345, reports: 2 },
        { dispositionKind: null, kind: 'labour', minor: 1, reports: 1 },
        { dispositionKind: null, kind: 'other', minor: -250, reports: 1 },
      ],
      totalMinor: 12_096,
    });
    expect(await read<string>('costs.csv')).toBe(
      'disposition,kind,reports,minor_units,amount,currency\r\nscrap,material,2,12345,123.45,EUR\r\n,labour,1,1,0.01,EUR\r\n,other,1,-250,-2.50,EUR\r\n',
    );
    expect(await read('costs?to=2026-03-12T00:00:00Z')).toMatchObject({ rows: [], totalMinor: 0 });
  });

  it('right first time is by item and ISO week, and reworked pieces are not there for the first time', async () => {
    plant.clock.set('2026-12-31T10:00:00.000Z');
    const wanted = 'right-first-time?from=2026-12-01T00:00:00Z';
    for (const major of [0, 9, 0]) {
      const [lot] = await receive(plant, [{ item: 'SEAL', quantity: '500' }], 'S-PACK');
      await inspect(plant, lot!, major);
    }
    plant.clock.set('2027-01-04T10:00:00.000Z');
    const [lot] = await receive(plant, [{ item: 'SEAL', quantity: '500' }], 'S-PACK');
    await inspect(plant, lot!);
    const expected = [
      { item: 'SEAL', week: '2026-W53', lots: 3, lotsAccepted: 2, lotRate: 0.6667, pieces: 0, piecesAccepted: 0, pieceRate: null },
      { item: 'SEAL', week: '2027-W01', lots: 1, lotsAccepted: 1, lotRate: 1, pieces: 0, piecesAccepted: 0, pieceRate: null },
    ];
    expect(await read<Week[]>(wanted)).toEqual(expected);

    const cans = await desk.cans(10);
    const report = await desk.reviewed([{ lot: cans, pieces: '1-10' }]);
    const n = await desk.decided(report, { kind: 'rework', lot: cans, adverseEffect: 'none' });
    const run = await desk.startRework();
    await good(desk.charge(run, cans, { pieces: '1-10' }));
    const again = await desk.closeRun(run, { pieces: 10 });
    await desk.carryOut(report, n, { run });
    expect((await inspect(plant, again)).verdict).toBe('accepted');
    expect(await read<Week[]>(wanted)).toEqual(expected);
    expect(await read<Week[]>(`${wanted}&item=HOSE`)).toEqual([]);
    expect((await read<string>('right-first-time.csv?item=SEAL')).split('\r\n')[1]).toBe('SEAL,2026-W53,3,2,0.6667,0,0,');
  });

  it('what is overdue is told, the longest first', async () => {
    const [first, second] = reports as [string, string];
    const action = { kind: 'corrective', what: 'new roller', owner: 'operator-1' };
    await tell(first, 'actions', { ...action, dueOn: '2027-01-10' });
    await tell(first, 'actions', { ...action, what: 'new belt', dueOn: '2027-01-06' });
    await tell(second, 'actions', { ...action, dueOn: '2027-01-05' });
    await tell(second, 'effectiveness', { criterion: 'none leaks', checkOn: '2027-01-08' });
    await tell(second, 'actions/1/done', { evidence: 'done' });
    plant.clock.set('2027-01-10T10:00:00.000Z');
    expect(await read('overdue-actions')).toMatchObject([
      { report: first, what: 'action', action: 2, subject: 'new belt', owner: 'operator-1', daysOverdue: 4 },
      { report: second, what: 'effectiveness-check', action: null, subject: 'none leaks', owner: null, daysOverdue: 2 },
    ]);
    expect(await read<string>('overdue-actions.csv')).toContain(
      `${first},reviewed,major,action,2,corrective,new belt,operator-1,2027-01-06,4\r\n`,
    );
  });

  it('ends with a record that a replay gives again', () => expectRebuildEqual(plant));
});
