import { MICRO } from '../../../../shared/quantity.js';
import { daysBetween } from '../../../../shared/time.js';
import { writtenPieces, writtenQuantity } from '../../../../shared/written.js';
import { type Role, ROLES } from '../people/people.facts.js';
import { type TodayGroupView, type TodayLineView, WAITING_KINDS, type WaitingKind } from './today.dto.js';

/** Lines of a group that are listed; all are counted. */
export const MOST_LINES = 20;

/** Something that waits, before its item has a name and before it is known who asks. */
export interface Waiting
  extends Omit<TodayLineView, 'itemName' | 'mine' | 'due' | 'overdue'>, Partial<Pick<TodayLineView, 'mine' | 'due' | 'overdue'>> {
  /** Who may take the step; left out: whoever sees it. */
  readonly by?: readonly Role[];
}

/** What the step is called for those who may not take it: they see it and where it stands. */
const ONLY_SEEN = 'Look at it';

/** What waits of a kind: all of it, or the first lines with a count of all and the oldest among them. */
export type Waits = readonly Waiting[] | { readonly first: readonly Waiting[]; readonly total: number; readonly oldestAt: string };

interface Group {
  readonly title: string;
  /** Whom it concerns besides quality, the administrator and the auditor, who see everything. */
  readonly roles: readonly Role[];
}

const GROUPS: Readonly<Record<WaitingKind, Group>> = {
  recalls: { title: 'Recalls in progress', roles: ['recall-lead'] },
  signatures: { title: 'Dispositions that wait for your signature', roles: ['operator', 'inspector', 'dispatcher', 'recall-lead'] },
  overdue: { title: 'Overdue actions and checks', roles: ROLES },
  reports: { title: 'Nonconformance reports', roles: ['inspector', 'operator', 'dispatcher'] },
  inspections: { title: 'Inspections', roles: ['inspector'] },
  releases: { title: 'Lots that could be released', roles: [] },
  returns: { title: 'Returns in quarantine', roles: ['inspector', 'dispatcher'] },
  holds: { title: 'Open holds', roles: ['recall-lead'] },
  'urgent-releases': { title: 'Urgent releases that are open', roles: ['recall-lead'] },
  instruments: { title: 'Instruments due or in doubt', roles: ['inspector'] },
  findings: { title: 'Findings of runs to explain', roles: ['operator'] },
  runs: { title: 'Open runs', roles: ['operator'] },
  expiring: { title: 'Stock that expires within 30 days, or has', roles: ['clerk', 'operator', 'dispatcher'] },
  deliveries: { title: 'Deliveries booked today', roles: ['clerk'] },
};
const SEES_ALL: readonly Role[] = ['quality', 'administrator', 'auditor'];

/** Whether everything concerns a person of these roles. */
export const seesAll = (roles: readonly Role[]): boolean => roles.some((role) => SEES_ALL.includes(role));

/** Groups that concern a person of these roles, in the order in which they are shown. */
export const groupsFor = (roles: readonly Role[]): WaitingKind[] =>
  WAITING_KINDS.filter((kind) => seesAll(roles) || roles.some((role) => GROUPS[kind].roles.includes(role)));

/** A group of what waits for a person of these roles, oldest first (what is their own before that); null where nothing does. */
export function groupOf(
  kind: WaitingKind,
  waits: Waits,
  { roles, nameOf }: { readonly roles: readonly Role[]; readonly nameOf: (item: string) => string },
): TodayGroupView | null {
  const waiting = 'first' in waits ? waits.first : waits;
  if (waiting.length === 0) return null;
  const sorted = waiting.toSorted(
    (a, b) =>
      Number(b.mine ?? false) - Number(a.mine ?? false) ||
      (sortKey(kind, a) < sortKey(kind, b) ? -1 : sortKey(kind, a) > sortKey(kind, b) ? 1 : a.code < b.code ? -1 : 1),
  );
  return {
    kind,
    title: GROUPS[kind].title,
    total: 'first' in waits ? waits.total : waits.length,
    oldestAt: 'first' in waits ? waits.oldestAt : oldestOf(waiting),
    lines: sorted.slice(0, MOST_LINES).map(({ by, ...one }) => ({
      ...one,
      step: by === undefined || by.some((role) => roles.includes(role)) ? one.step : { ...one.step, label: ONLY_SEEN },
      itemName: one.item === null ? null : nameOf(one.item),
      due: one.due ?? null,
      overdue: one.overdue ?? false,
      mine: one.mine ?? false,
    })),
  };
}

const oldestOf = (waiting: readonly Waiting[]): string =>
  waiting.reduce((oldest, { since }) => (since < oldest ? since : oldest), waiting[0]!.since);

/** What has a day it is due by is sorted by it; everything else by how long it has waited. */
const sortKey = (kind: WaitingKind, { due, since }: Waiting): string =>
  kind === 'instruments' || kind === 'expiring' || kind === 'overdue' ? (due ?? since) : since;

/** `3 days`, `1 day`, `today`: how long something has been so. */
export function waited(since: string, now: string): string {
  const days = daysBetween(since.slice(0, 10), now.slice(0, 10));
  return days <= 0 ? 'since today' : days === 1 ? 'for 1 day' : `for ${days} days`;
}

/** When a day is or was, seen from another: `in 3 days`, `today`, `4 days ago`. */
export function dayWords(date: string, today: string): string {
  const days = daysBetween(today, date);
  if (days === 0) return 'today';
  const size = `${Math.abs(days)} ${Math.abs(days) === 1 ? 'day' : 'days'}`;
  return days > 0 ? `in ${size}` : `${size} ago`;
}

/** `250 kg`, or `4 800 pieces` of what is counted, numbered or not. */
export const amountOf = (quantityMicro: number, unit: string): string =>
  unit === 'each' ? writtenPieces(quantityMicro / MICRO) : writtenQuantity(quantityMicro, unit);

/** Things by a key, in the order in which each key first came. */
export function grouped<T>(all: readonly T[], keyOf: (one: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const one of all) {
    const group = groups.get(keyOf(one));
    if (group) group.push(one);
    else groups.set(keyOf(one), [one]);
  }
  return groups;
}
