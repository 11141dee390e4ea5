import { Reasons } from '../../../../shared/refusal.js';
import { checkOpen } from './charging.decide.js';
import type { Changeover, ChangeoverRecorded } from './run.facts.js';
import { chargedNet, type RunState } from './run-state.facts.js';

/** A changeover as the operator gives it. */
interface AskChangeover {
  readonly lot: string;
  readonly fromPiece: number;
  readonly changedAt: string;
}

/**
 * Records from which piece on a lot is in use.
 * @see docs/rules/production.md P-21
 */
export function decideChangeovers(asks: readonly AskChangeover[], run: RunState, at: string): ChangeoverRecorded {
  const no = new Reasons();
  checkOpen(no, run);
  const changeovers = understoodChangeovers(no, asks, run, at);
  no.throwIfAny();
  return { kind: 'ChangeoverRecorded', v: 1, run: run.run, changeovers };
}

/** Changeovers with the component each lot is of. Adds a reason for what was not charged, or said twice. */
export function understoodChangeovers(
  no: Reasons,
  asks: readonly AskChangeover[],
  run: Pick<RunState, 'run' | 'item' | 'charges' | 'changeovers' | 'startedAt'>,
  at: string,
): Changeover[] {
  const charged = chargedNet(run.charges);
  const known = [...run.changeovers];
  if (run.item.tracking === 'bulk' && asks.length > 0)
    no.conflict('no-pieces-made', `${run.run} makes ${run.item.code}, which has no pieces`);
  return asks.flatMap((ask, i) => {
    const pointer = `/changeovers/${i}`;
    const item = charged.find(({ charge }) => charge.lot === ask.lot)?.charge.item;
    if (ask.changedAt > at) no.conflict('not-yet', `${ask.changedAt} is still to come`, { pointer: `${pointer}/changedAt` });
    if (ask.changedAt < run.startedAt)
      no.conflict('before-start', `${run.run} began at ${run.startedAt}, after that`, { pointer: `${pointer}/changedAt` });
    if (known.some((one) => one.lot === ask.lot && one.fromPiece === ask.fromPiece)) {
      no.conflict('changeover-twice', `the changeover to ${ask.lot} at piece ${ask.fromPiece} is recorded already`, { pointer });
    }
    if (item === undefined)
      no.conflict('not-charged', `nothing of ${ask.lot} is charged to ${run.run}`, { pointer: `${pointer}/lot`, lot: ask.lot });
    if (item === undefined) return [];
    const changeover = { ...ask, item };
    known.push(changeover);
    return [changeover];
  });
}
