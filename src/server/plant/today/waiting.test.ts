import { describe, expect, it } from 'vitest';
import { type Role, ROLES } from '../people/people.facts.js';
import { WAITING_KINDS } from './today.dto.js';
import { amountOf, dayWords, groupOf, groupsFor, waited, type Waiting } from './waiting.js';

const line = (code: string, since: string, more: Partial<Waiting> = {}): Waiting => ({
  kind: 'lot',
  code,
  lot: code,
  item: 'WAX',
  since,
  says: '',
  step: { label: '', place: 'lot', code },
  ...more,
});

const WHO = { roles: ['inspector'], nameOf: () => 'Wax' } as const;

describe('what waits', () => {
  it('TD-1: quality, the administrator and the auditor see every group; everybody sees what concerns them, recalls first', () => {
    for (const role of ['quality', 'administrator', 'auditor'] as const) expect(groupsFor([role])).toEqual([...WAITING_KINDS]);
    expect(groupsFor(['clerk'])).toEqual(['overdue', 'expiring', 'deliveries']);
    expect(groupsFor(['recall-lead'])[0]).toBe('recalls');
    expect(groupsFor(['clerk', 'operator'])).toEqual(['signatures', 'overdue', 'reports', 'findings', 'runs', 'expiring', 'deliveries']);
    for (const role of ROLES) expect(groupsFor([role]).length).toBeGreaterThan(0);
  });

  it('TD-2: is oldest first, what is the own before that, at most 20 of a group and all counted', () => {
    const many = Array.from({ length: 25 }, (_, i) => line(`L-${i}`, `2026-03-${String(28 - i).padStart(2, '0')}T08:00:00.000Z`));
    const group = groupOf('holds', [...many, line('MINE', '2026-03-28T09:00:00.000Z', { mine: true })], WHO)!;
    expect([group.total, group.lines.length, group.oldestAt]).toEqual([26, 20, '2026-03-04T08:00:00.000Z']);
    expect(group.lines.slice(0, 3).map(({ code }) => code)).toEqual(['MINE', 'L-24', 'L-23']);
    expect(group.lines[1]).toMatchObject({ itemName: 'Wax', due: null, overdue: false, mine: false });
    expect(groupOf('holds', [], WHO)).toBeNull();
  });

  it('TD-1: who may not take the step sees it, and is not told to take it', () => {
    const step = { label: 'Release it', place: 'lot', code: 'L' };
    const since = '2026-03-01T08:00:00.000Z';
    const labels = (roles: readonly Role[]) =>
      groupOf('holds', [line('L', since, { step, by: ['quality', 'operator'] }), line('M', since, { step })], { ...WHO, roles })!.lines;
    expect(labels(['auditor', 'operator']).map((one) => one.step.label)).toEqual(['Release it', 'Release it']);
    expect(labels(['auditor']).map((one) => one.step)).toEqual([{ ...step, label: 'Look at it' }, step]);
    expect(labels(['auditor'])[0]).not.toHaveProperty('by');
  });

  it('TD-2: what has a day goes by that day', () => {
    const [soon, later] = [
      line('S', '2026-03-09T08:00:00.000Z', { due: '2026-04-01' }),
      line('L', '2026-03-01T08:00:00.000Z', { due: '2026-04-02' }),
    ];
    expect(groupOf('expiring', [later, soon], WHO)!.lines.map(({ code }) => code)).toEqual(['S', 'L']);
    expect(groupOf('runs', [soon, later], WHO)!.lines.map(({ code }) => code)).toEqual(['L', 'S']);
  });
});

it('times and amounts in words', () => {
  const now = '2026-03-05T08:00:00.000Z';
  expect(['2026-03-05T07:00:00.000Z', '2026-03-04T23:00:00.000Z', '2026-03-02T08:00:00.000Z'].map((at) => waited(at, now))).toEqual([
    'since today',
    'for 1 day',
    'for 3 days',
  ]);
  expect(['2026-03-05', '2026-03-06', '2026-03-01'].map((date) => dayWords(date, '2026-03-05'))).toEqual([
    'today',
    'in 1 day',
    '4 days ago',
  ]);
  expect(
    [amountOf(250_500_000, 'kg'), amountOf(1_000_000, 'each'), amountOf(48e8, 'each')].map((text) => text.replaceAll('\u00a0', ' ')),
  ).toEqual(['250.5 kg', '1 piece', '4 800 pieces']);
});
