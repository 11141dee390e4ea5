import type { Role } from '../people/people.facts.js';

/** What a report goes through. */
export const REPORT_STATES = [
  'raised',
  'contained',
  'reviewed',
  'dispositioned',
  'carried-out',
  'verified',
  'closed',
  'withdrawn',
] as const;
export type ReportState = (typeof REPORT_STATES)[number];

/** What must be there before a move; each is checked by the rule of that name in `needs.decide.ts`. */
export const NEEDS = [
  'contained',
  'adds-up',
  'all-signed',
  'all-carried-out',
  'all-verified',
  'learned',
  'nothing-carried-out',
  'reviewed-answers',
] as const;
export type Need = (typeof NEEDS)[number];

export interface Move {
  readonly from: ReportState;
  readonly to: ReportState;
  /** What brings it about, in words. */
  readonly by: string;
  /** Who may make it. */
  readonly may: readonly Role[];
  readonly needs: readonly Need[];
}

/**
 * Every move a report can make. A move that is not here does not exist.
 * @see docs/rules/nonconformance.md NR-1
 */
export const MOVES: readonly Move[] = [
  { from: 'raised', to: 'contained', by: 'holds on everything affected', may: ['quality'], needs: [] },
  { from: 'contained', to: 'reviewed', by: 'signed review', may: ['quality'], needs: ['contained'] },
  {
    from: 'reviewed',
    to: 'dispositioned',
    by: 'the last signature that a disposition waits for',
    may: ['quality', 'operator', 'dispatcher', 'recall-lead', 'administrator', 'inspector'],
    needs: ['contained', 'reviewed-answers', 'adds-up', 'all-signed'],
  },
  {
    from: 'dispositioned',
    to: 'reviewed',
    by: 'sorting, a disposition taken back, or another part judged affected',
    may: ['quality', 'inspector'],
    needs: [],
  },
  {
    from: 'dispositioned',
    to: 'carried-out',
    by: 'the last disposition carried out',
    may: ['quality', 'operator', 'inspector', 'dispatcher'],
    needs: ['adds-up', 'all-signed', 'all-carried-out'],
  },
  {
    from: 'carried-out',
    to: 'verified',
    by: 'the last verification',
    may: ['quality', 'inspector'],
    needs: ['all-carried-out', 'all-verified'],
  },
  {
    from: 'verified',
    to: 'closed',
    by: 'signed closing or an effective check',
    may: ['quality'],
    needs: ['adds-up', 'all-signed', 'all-carried-out', 'all-verified', 'learned'],
  },
  {
    from: 'verified',
    to: 'reviewed',
    by: 'another part judged affected',
    may: ['quality'],
    needs: [],
  },
  { from: 'carried-out', to: 'reviewed', by: 'another part judged affected', may: ['quality', 'inspector'], needs: [] },
  { from: 'closed', to: 'verified', by: 'signed reopening', may: ['quality'], needs: [] },
  { from: 'raised', to: 'withdrawn', by: 'signed withdrawal', may: ['quality'], needs: ['nothing-carried-out'] },
  { from: 'contained', to: 'withdrawn', by: 'signed withdrawal', may: ['quality'], needs: ['nothing-carried-out'] },
  { from: 'reviewed', to: 'withdrawn', by: 'signed withdrawal', may: ['quality'], needs: ['nothing-carried-out'] },
];

/** The move between two states, if there is one. */
export const moveBetween = (from: ReportState, to: ReportState): Move | undefined =>
  MOVES.find((move) => move.from === from && move.to === to);

/**
 * Checks the table itself, at start-up: every state can be reached, every state but the two ends can be left, no move is there twice,
 * and each says who may make it.
 * @throws Error naming what is wrong with it
 */
export function checkMoves(moves: readonly Move[] = MOVES): void {
  const faults: string[] = [];
  const reached = new Set<ReportState>(['raised']);
  for (let before = 0; before !== reached.size;) {
    before = reached.size;
    for (const move of moves) if (reached.has(move.from)) reached.add(move.to);
  }
  for (const state of REPORT_STATES) {
    if (!reached.has(state)) faults.push(`no way leads to ${state}`);
    if (state !== 'withdrawn' && !moves.some((move) => move.from === state)) faults.push(`no way leads from ${state}`);
  }
  if (moves.some((move) => move.from === 'withdrawn')) faults.push('a withdrawn report is not taken up again: raise a new one');
  const seen = new Set<string>();
  for (const { from, to, may } of moves) {
    if (seen.has(`${from} ${to}`)) faults.push(`${from} to ${to} is there twice`);
    if (may.length === 0) faults.push(`nobody may move from ${from} to ${to}`);
    seen.add(`${from} ${to}`);
  }
  if (faults.length > 0) throw new Error(`states of a report: ${faults.join('; ')}`);
}
