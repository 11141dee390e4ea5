import { Reasons } from '../../../../shared/refusal.js';
import type { Role } from '../people/people.facts.js';
import type { ActionDone, ActionPlanned, CauseAnalysed, CostRecorded, EffectivenessPlanned } from './learning.facts.js';
import type { Report } from './report-state.facts.js';

/** A person as the owner of an action. */
export type Owner = 'unknown' | 'blocked' | 'there';

/** Adds that a report has come to its end: nothing more is planned for it. */
export function checkOpen(no: Reasons, { report, state }: Report): void {
  if (state !== 'closed' && state !== 'withdrawn') return;
  no.conflict('report-in-other-state', `${report} is ${state}: nothing more is planned for it`, { report, state });
}

/** Adds files that are named and not stored. */
export function checkFiles(no: Reasons, files: readonly string[], stored: ReadonlySet<string>): void {
  for (const [i, file] of files.entries()) {
    if (!stored.has(file)) no.unknown('file-unknown', `no file is stored under ${file}`, { pointer: `/files/${i}` });
  }
}

function checkDay(no: Reasons, pointer: string, day: string, today: string): void {
  if (day < today) no.conflict('day-past', `${day} is past: today is ${today}`, { pointer });
}

/**
 * The analysis of the cause. A later one takes the place of this one; both stay in the record.
 * @throws Refusal when the report is closed or withdrawn, or a cause is both known and unknown
 * @see docs/rules/nonconformance.md NR-40
 */
export function decideCause(command: Pick<CauseAnalysed, 'whys' | 'categories' | 'conclusion'>, report: Report): CauseAnalysed {
  const no = new Reasons();
  checkOpen(no, report);
  if (command.categories.includes('unknown') && command.categories.length > 1) {
    no.malformed('cause-known-and-unknown', 'a cause is unknown, or of the kinds that are named', { pointer: '/categories' });
  }
  no.throwIfAny();
  return { kind: 'CauseAnalysed', v: 1, report: report.report, ...command };
}

/**
 * Plans an action. Corrective action is on the cause, so the cause comes first.
 * @param today the date, `YYYY-MM-DD`
 * @see docs/rules/nonconformance.md NR-40, NR-41
 */
export function decidePlanAction(
  command: Pick<ActionPlanned, 'actionKind' | 'what' | 'owner' | 'dueOn'>,
  { report, owner, today }: { readonly report: Report; readonly owner: Owner; readonly today: string },
): ActionPlanned {
  const no = new Reasons();
  checkOpen(no, report);
  if (command.actionKind === 'corrective' && report.cause === null) {
    no.conflict('cause-missing', `corrective action is on the cause: that of ${report.report} is not analysed`, { pointer: '/kind' });
  }
  if (owner === 'unknown') no.unknown('person-unknown', `no person ${command.owner} to own the action`, { pointer: '/owner' });
  if (owner === 'blocked') no.conflict('person-blocked', `${command.owner} is blocked and can own no action`, { pointer: '/owner' });
  checkDay(no, '/dueOn', command.dueOn, today);
  no.throwIfAny();
  return { kind: 'ActionPlanned', v: 1, report: report.report, action: report.actions.length + 1, ...command };
}

/**
 * Records that an action is done, by its owner or by quality. What a closed report left open can still be done.
 * @see docs/rules/nonconformance.md NR-41
 */
export function decideActionDone(
  command: Pick<ActionDone, 'action' | 'evidence' | 'files'>,
  state: {
    readonly report: Report;
    readonly stored: ReadonlySet<string>;
    readonly actor: string;
    readonly roles: readonly Role[];
  },
): ActionDone {
  const no = new Reasons();
  const { report } = state;
  const { action } = command;
  const at = { report: report.report, action };
  if (report.state === 'withdrawn') {
    no.conflict('report-in-other-state', `${report.report} is withdrawn: nothing is done for it`, { ...at, state: report.state });
  }
  const planned = report.actions.find((one) => one.planned.fact.action === action);
  if (!planned) no.unknown('action-unknown', `${report.report} has no action ${action}`, at);
  else {
    const { owner } = planned.planned.fact;
    if (owner !== state.actor && !state.roles.includes('quality')) {
      no.forbidden('action-of-another', `action ${action} of ${report.report} is ${owner}’s: they or quality say that it is done`, at);
    }
    if (planned.done) {
      no.conflict('action-done-already', `action ${action} of ${report.report} was done, by entry ${planned.done.seq}`, at);
    }
  }
  checkFiles(no, command.files, state.stored);
  no.throwIfAny();
  return { kind: 'ActionDone', v: 1, report: report.report, ...command };
}

/**
 * Sets the criterion that a check will go by, and its day. The last one set counts: an earlier result does no more.
 * @see docs/rules/nonconformance.md NR-44
 */
export function decidePlanEffectiveness(
  command: Pick<EffectivenessPlanned, 'criterion' | 'checkOn'>,
  report: Report,
  today: string,
): EffectivenessPlanned {
  const no = new Reasons();
  checkOpen(no, report);
  checkDay(no, '/checkOn', command.checkOn, today);
  no.throwIfAny();
  return { kind: 'EffectivenessPlanned', v: 1, report: report.report, ...command };
}

/**
 * Records a cost, or, below zero, what of one came back. Bills come late: also when the report is closed.
 * @see docs/rules/nonconformance.md NR-43
 */
export function decideRecordCost(command: Pick<CostRecorded, 'disposition' | 'costKind' | 'minor' | 'note'>, report: Report): CostRecorded {
  const no = new Reasons();
  const { disposition, minor, note } = command;
  if (disposition !== null && !report.dispositions.some((one) => one.disposition === disposition)) {
    no.unknown('disposition-unknown', `${report.report} has no disposition ${disposition}`, { pointer: '/disposition', disposition });
  }
  if (minor < 0 && note === null) {
    no.malformed('credit-unexplained', 'say what came back: a credit note, a cost put right', { pointer: '/note' });
  }
  no.throwIfAny();
  return { kind: 'CostRecorded', v: 1, report: report.report, ...command };
}
