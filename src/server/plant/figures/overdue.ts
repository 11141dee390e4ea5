import { daysBetween } from '../../../../shared/time.js';
import type { SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { ActionDone, ActionPlanned, EffectivenessChecked, EffectivenessPlanned } from '../nonconformance/learning.facts.js';
import type { ReportState } from '../nonconformance/states.facts.js';
import type { OverdueView } from './nonconformance.dto.js';

export type Promised = ActionPlanned | ActionDone | EffectivenessPlanned | EffectivenessChecked;
/** What is promised to be done by a day, and what says that it was. */
export const PROMISED: readonly Promised['kind'][] = ['ActionPlanned', 'ActionDone', 'EffectivenessPlanned', 'EffectivenessChecked'];

interface Promising {
  readonly report: string;
  readonly state: ReportState;
  readonly severity: SeverityClass;
}

/**
 * Actions that are not done, and checks that nobody made, though their day is past: the longest overdue first. What a closed report left open
 * is still to be done; a withdrawn one asks for nothing, and a closed one for no check.
 * @param facts of all reports, in order of recording
 * @param today the date, `YYYY-MM-DD`
 * @see docs/rules/figures.md F-14
 */
export function overdueOf(reports: readonly Promising[], facts: readonly Promised[], today: string): OverdueView[] {
  const open = new Map<string, OverdueView>();
  const known = new Map(reports.map((report) => [report.report, report]));
  for (const fact of facts) {
    const report = known.get(fact.report);
    if (!report || report.state === 'withdrawn') continue;
    const key = `${fact.report}\u0000${'action' in fact ? fact.action : 'check'}`;
    if (fact.kind === 'ActionDone' || fact.kind === 'EffectivenessChecked') open.delete(key);
    else if (fact.kind === 'ActionPlanned' || report.state !== 'closed') open.set(key, promise(report, fact, today));
  }
  return [...open.values()]
    .filter((one) => one.dueOn < today)
    .toSorted(
      (a, b) => b.daysOverdue - a.daysOverdue || (a.report < b.report ? -1 : a.report > b.report ? 1 : (a.action ?? 0) - (b.action ?? 0)),
    );
}

function promise({ report, state, severity }: Promising, fact: ActionPlanned | EffectivenessPlanned, today: string): OverdueView {
  const of = { report, state, severity };
  if (fact.kind === 'ActionPlanned') {
    const { action, actionKind, what, owner, dueOn } = fact;
    return { ...of, what: 'action', action, kind: actionKind, subject: what, owner, dueOn, daysOverdue: daysBetween(dueOn, today) };
  }
  const { criterion, checkOn } = fact;
  return {
    ...of,
    what: 'effectiveness-check',
    action: null,
    kind: null,
    subject: criterion,
    owner: null,
    dueOn: checkOn,
    daysOverdue: daysBetween(checkOn, today),
  };
}
