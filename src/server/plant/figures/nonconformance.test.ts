import { describe, expect, it } from 'vitest';
import type { MarkedReport } from '../nonconformance/report-marks.query.js';
import { ageingOf, type OpenReport } from './ageing.js';
import { overdueOf, type Promised } from './overdue.js';
import { paretoOf } from './pareto.js';
import { type FirstInspection, rightFirstTime } from './right-first-time.js';

const marked = (report: string, defects: Readonly<Record<string, number>>, item = 'SEAL'): MarkedReport => ({
  report,
  state: 'raised',
  severity: 'major',
  requirement: 'r',
  raisedAt: '2026-03-02T08:00:00.000Z',
  marks: [{ what: 'item', code: item }, ...Object.keys(defects).map((code) => ({ what: 'defect' as const, code }))],
  defects: Object.entries(defects).map(([defect, count]) => ({ defect, count })),
});

describe('F-9: what reports have most of', () => {
  const reports = [
    marked('NC-1', { LEAK: 3 }),
    marked('NC-2', { LEAK: 1, DENT: 9 }, 'HOSE'),
    marked('NC-3', { BURST: 2 }),
    marked('NC-4', {}),
  ];

  it('by defect, with how many were found, sorted by reports and then by what was found', () =>
    expect(paretoOf(reports, 'defect')).toEqual({
      by: 'defect',
      reports: 4,
      without: 1,
      rows: [
        { code: 'LEAK', reports: 2, found: 4, share: 0.5, cumulativeShare: 0.5 },
        { code: 'DENT', reports: 1, found: 9, share: 0.25, cumulativeShare: 0.75 },
        { code: 'BURST', reports: 1, found: 2, share: 0.25, cumulativeShare: 1 },
      ],
    }));

  it('by item; what is level stands in order of its code', () =>
    expect(paretoOf([...reports, marked('NC-5', {}, 'HOSE'), marked('NC-6', {}, 'HOSE')], 'item').rows).toEqual([
      { code: 'HOSE', reports: 3, found: null, share: 0.5, cumulativeShare: 0.5 },
      { code: 'SEAL', reports: 3, found: null, share: 0.5, cumulativeShare: 1 },
    ]));

  it('has no rows where nothing was raised', () =>
    expect(paretoOf([], 'cause')).toEqual({ by: 'cause', reports: 0, without: 0, rows: [] }));
});

describe('F-10: open reports by age', () => {
  const open = (report: string, raised: string, state: OpenReport['state'] = 'raised'): OpenReport => ({
    report,
    state,
    severity: 'major',
    requirement: 'r',
    raisedAt: `${raised}T23:59:00.000Z`,
    stateAt: `${raised}T23:59:30.000Z`,
  });
  const days = ['2026-03-31', '2026-03-24', '2026-03-23', '2026-03-01', '2026-02-28', '2025-12-31', '2025-12-30'];

  it('each day falls on its side of the bounds 7, 30 and 90', () => {
    const { states, reports } = ageingOf(
      days.map((day, i) => open(`NC-${i}`, day)),
      '2026-03-31',
    );
    expect(reports.map((one) => one.daysOpen)).toEqual([91, 90, 31, 30, 8, 7, 0]);
    expect(states[0]).toEqual({ state: 'raised', upTo7: 2, from8To30: 2, from31To90: 2, over90: 1, reports: 7 });
  });

  it('names every state that is not an end, in its order', () =>
    expect(ageingOf([open('NC-1', '2026-03-01', 'verified')], '2026-03-02').states.map((one) => [one.state, one.reports])).toEqual([
      ['raised', 0],
      ['contained', 0],
      ['reviewed', 0],
      ['dispositioned', 0],
      ['carried-out', 0],
      ['verified', 1],
    ]));
});

describe('F-12, F-13: right first time', () => {
  const decided = (decidedOn: string, accepted: boolean, more: Partial<FirstInspection> = {}): FirstInspection => ({
    item: 'WAX-250',
    spans: null,
    accepted,
    decidedAt: `${decidedOn}T12:00:00.000Z`,
    ...more,
  });

  it('weeks around New Year are those of ISO 8601', () =>
    expect(rightFirstTime([decided('2026-12-31', true), decided('2027-01-03', false), decided('2027-01-04', true)])).toMatchObject([
      { week: '2026-W53', lots: 2, lotsAccepted: 1, lotRate: 0.5, pieces: 0, pieceRate: null },
      { week: '2027-W01', lots: 1, lotsAccepted: 1, lotRate: 1 },
    ]));

  it('pieces are those of numbered lots, and rates may differ', () =>
    expect(
      rightFirstTime([
        decided('2026-03-02', true, { spans: [[1, 90]] }),
        decided('2026-03-03', false, {
          spans: [
            [1, 5],
            [11, 15],
          ],
        }),
        decided('2026-03-03', true, { item: 'PUMP', spans: [[1, 3]] }),
      ]),
    ).toEqual([
      { item: 'PUMP', week: '2026-W10', lots: 1, lotsAccepted: 1, lotRate: 1, pieces: 3, piecesAccepted: 3, pieceRate: 1 },
      { item: 'WAX-250', week: '2026-W10', lots: 2, lotsAccepted: 1, lotRate: 0.5, pieces: 100, piecesAccepted: 90, pieceRate: 0.9 },
    ]));
});

describe('F-14: what is overdue', () => {
  const plan = (report: string, action: number, dueOn: string): Promised =>
    ({ kind: 'ActionPlanned', v: 1, report, action, actionKind: 'corrective', what: 'w', owner: 'o', dueOn }) as const;
  const done = (report: string, action: number): Promised =>
    ({ kind: 'ActionDone', v: 1, report, action, evidence: 'e', files: [] }) as const;
  const criterion = (report: string, checkOn: string): Promised =>
    ({ kind: 'EffectivenessPlanned', v: 1, report, criterion: 'c', checkOn }) as const;
  const at = (state: 'verified' | 'closed' | 'withdrawn', report = 'NC-1') => [{ report, state, severity: 'major' }] as const;
  const told = (...args: Parameters<typeof overdueOf>): string[] =>
    overdueOf(...args).map((one) => `${one.report} ${one.action ?? one.what} ${one.daysOverdue}`);

  it('an action whose day is past, not one of today or one that is done', () =>
    expect(
      told(
        at('verified'),
        [plan('NC-1', 1, '2026-03-01'), plan('NC-1', 2, '2026-03-02'), plan('NC-1', 3, '2026-02-01'), done('NC-1', 3)],
        '2026-03-02',
      ),
    ).toEqual(['NC-1 1 1']));

  it('the longest overdue first; the check by the last criterion only', () =>
    expect(
      told(
        [...at('verified'), ...at('verified', 'NC-2')],
        [criterion('NC-1', '2026-01-01'), criterion('NC-1', '2026-03-01'), plan('NC-2', 1, '2026-02-20'), criterion('NC-2', '2026-04-01')],
        '2026-03-02',
      ),
    ).toEqual(['NC-2 1 10', 'NC-1 effectiveness-check 1']));

  it('of a closed report an action, no check; of a withdrawn one nothing', () => {
    const facts = [plan('NC-1', 1, '2026-03-01'), criterion('NC-1', '2026-03-01')];
    expect(told(at('closed'), facts, '2026-03-02')).toEqual(['NC-1 1 1']);
    expect(told(at('withdrawn'), facts, '2026-03-02')).toEqual([]);
  });
});
