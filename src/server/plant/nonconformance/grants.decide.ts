import type { Grant } from './grants.facts.js';

/** A disposition that lets a quantity of a bulk lot go, and when it did. */
export interface Granted {
  readonly report: string;
  readonly disposition: number;
  readonly kind: Grant['kind'];
  readonly limitMicro: number;
  readonly until: string | null;
  /** In force after this entry, and up to that one; null: still. */
  readonly sinceSeq: number;
  readonly endedSeq: number | null;
}

/** Something about a bulk lot that changed with an entry: quantities in millionths, or how many such things there are. */
export interface Change {
  readonly seq: number;
  readonly what: keyof Totals;
  readonly by: number;
}

interface Totals {
  onHand: number;
  /** Gone into rework runs, and into anything else or to customers. */
  rework: number;
  other: number;
  /** Kept back by holds on quantities. */
  held: number;
  /** Holds on all of it. */
  whole: number;
  /** Whether it is released. */
  released: number;
}

export const grantKey = ({ report, disposition }: Pick<Granted, 'report' | 'disposition'>): string => `${report}\u0000${disposition}`;

/**
 * How much of a bulk lot went under each disposition that lets some of it go, in millionths. The history of the lot is gone through entry by
 * entry: what could go without is not counted, and what could not is counted against what is in force longest, so that none is ever thought to
 * have more left than it has.
 * @see docs/rules/nonconformance.md NR-31, NR-33
 */
export function spentOf(changes: readonly Change[], granted: readonly Granted[]): Map<string, number> {
  const spent = new Map(granted.map((grant) => [grantKey(grant), 0]));
  const now: Totals = { onHand: 0, rework: 0, other: 0, held: 0, whole: 0, released: 0 };
  const bySeq = new Map<number, Change[]>();
  for (const change of changes) bySeq.set(change.seq, [...(bySeq.get(change.seq) ?? []), change]);
  for (const [seq, here] of [...bySeq].toSorted(([a], [b]) => a - b)) {
    const before = { ...now };
    for (const { what, by } of here) now[what] += by;
    const inForce = granted.filter((grant) => grant.sinceSeq < seq && seq <= (grant.endedSeq ?? seq));
    if (inForce.length === 0) continue;
    const freeMicro = freeOf(before, inForce, spent);
    const rework = Math.max(0, now.rework - before.rework);
    const other = Math.max(0, now.other - before.other);
    fill(Math.max(0, rework - freeMicro), [...inForce.filter(reworks), ...concessionsOf(inForce)], spent);
    fill(Math.max(0, other - Math.max(0, freeMicro - rework)), concessionsOf(inForce), spent);
  }
  return spent;
}

/** What could go without leaning on any of them. */
function freeOf({ onHand, held, whole, released }: Totals, inForce: readonly Granted[], spent: ReadonlyMap<string, number>): number {
  if (released === 0 || whole > 0) return 0;
  const gone = inForce.reduce((sum, grant) => sum + spent.get(grantKey(grant))!, 0);
  return Math.max(0, onHand - Math.max(0, held - gone));
}

const reworks = ({ kind }: Pick<Granted, 'kind'>): boolean => kind !== 'concession';

const concessionsOf = (granted: readonly Granted[]): Granted[] =>
  granted
    .filter((grant) => !reworks(grant))
    .toSorted((a, b) => (a.until === b.until ? a.sinceSeq - b.sinceSeq : (a.until ?? '') > (b.until ?? '') ? -1 : 1));

function fill(micro: number, granted: readonly Granted[], spent: Map<string, number>): void {
  let left = micro;
  for (const grant of granted) {
    const before = spent.get(grantKey(grant))!;
    const taken = Math.min(left, grant.limitMicro - before);
    spent.set(grantKey(grant), before + taken);
    left -= taken;
  }
}
